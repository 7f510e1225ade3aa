"""A question with all that a mistake in it is derived from: the pattern, the right plan, the engine to try others."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeVar, cast

from msgspec import structs

from tutor.alteration.alter import Altered, altered_once
from tutor.alteration.plan import Plan
from tutor.alteration.reach import OpeningAmount, reach
from tutor.alteration.refusal import Refusal
from tutor.lesson.amount import Amount
from tutor.lesson.checking import start_measures
from tutor.lesson.goal import Aim, Figure
from tutor.lesson.recipe import Recipe
from tutor.lesson.setting import Arm
from tutor.lesson.task import NumberTask, PlanTask
from tutor.marking.readings import at_seam
from tutor.pattern.by_side import Reading
from tutor.pattern.cut_edge import at_cut_edge
from tutor.pattern.measures import Kind, kind_of, measure
from tutor.pattern.pattern import Pattern

Made = TypeVar("Made")
LEAST_GAIN = 1.0
"""mm; a smaller gain is none to have a share of."""
GIRTHS = ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth")


@dataclass(frozen=True, eq=False)
class Case:
    """A task on one pattern. ``plan`` is the right one, or the one a number is asked after; None where there is none.

    ``recipe`` is what the plan was solved from, None for a learner's own; ``allowance`` is the seam allowance, mm.
    """

    pattern: Pattern
    arm: Arm
    plan: Plan | None
    recipe: Recipe | None = None
    allowance: float = 10.0
    _kept: dict[Any, Any] = field(default_factory=dict, repr=False)

    @cached_property
    def before(self) -> dict[str, float]:
        """The measures that the task starts from."""
        return start_measures(self.pattern, self.arm.girth)

    def asks_for(self, *measures: str) -> bool:
        """Whether the task asks for a figure of one of these measures."""
        return False

    def kept(self, key: object, make: Callable[[], Made]) -> Made:
        """What ``make`` gives, made once."""
        if key not in self._kept:
            self._kept[key] = make()
        return cast(Made, self._kept[key])

    def altered(self, plan: Plan) -> Altered | None:
        """A plan carried out on the pattern; None when paper can't follow it."""
        return self.kept(plan, lambda: _altered(self.pattern, plan))

    def measures(self, plan: Plan) -> dict[str, float] | None:
        """The measures that a plan leads to, but for areas; None when paper can't follow it."""
        return self.kept(("measures", plan), lambda: self._measures(plan))

    def _measures(self, plan: Plan) -> dict[str, float] | None:
        altered = self.altered(plan)
        if altered is None:
            return None
        return measure(altered.after, self.arm.girth) | {"bust-gain": altered.bust_gain}

    def gain(self, measure: str, plan: Plan | None = None) -> float:
        """How far a plan, or else the right one, moves a measure, in its own unit; 0 where there is none of these."""
        plan = plan or self.plan
        after = None if plan is None else self.measures(plan)
        return 0.0 if after is None or measure not in after else after[measure] - self.before.get(measure, 0.0)

    @property
    def goes_by_ease(self) -> bool:
        """Whether the plan would come out otherwise for another wearing ease."""
        if self.recipe is None or self.plan is None:
            return False
        return bool(self._changed(with_ease(self.arm, self.arm.wearing_ease + 10)))

    def solved_for(self, ease: float) -> Plan | None:
        """The plan for another wearing ease, mm, all else opened as it is.

        None when the plan doesn't go by the ease, or can't be made for that one.
        """
        return self.kept(("ease", ease), lambda: self._solved_for(ease))

    def _solved_for(self, ease: float) -> Plan | None:
        recipe = self.recipe
        if recipe is None or self.plan is None:
            return None
        figures = self._changed(with_ease(self.arm, ease))
        amounts = [sought.amount for sought in recipe.sought if sought.measure in figures]
        if not amounts:
            return None
        try:
            return reach(self.pattern, self.plan, figures, amounts)
        except (Refusal, ValueError):
            return None

    def _changed(self, other: Arm) -> dict[str, float]:
        """The figures that the recipe is solved for which another arm would change."""
        if self.recipe is None:
            return {}
        wanted, usual = self._wanted(self.recipe, other), self._wanted(self.recipe, self.arm)
        return {name: figure for name, figure in wanted.items() if figure != usual[name]}

    def widened_by(self, factor: float) -> Plan | None:
        """The plan with its first opening brought to so many times the width it adds; None where it adds none."""
        gain = self.gain("bicep-girth")
        if self.plan is None or not self.plan.openings or abs(gain) < LEAST_GAIN:
            return None
        wanted = {"bicep-girth": self.before["bicep-girth"] + factor * gain}
        try:
            return reach(self.pattern, self.plan, wanted, [OpeningAmount(0)])
        except (Refusal, ValueError):
            return None

    def _wanted(self, recipe: Recipe, arm: Arm) -> dict[str, float]:
        """The figures that the recipe's amounts are solved for."""
        goals = self._figures(arm)
        return {
            sought.measure: goals[sought.measure] if sought.figure is None else sought.figure.figure(self.before, arm)
            for sought in recipe.sought
        }

    def _figures(self, arm: Arm) -> Mapping[str, float]:
        """The figures that the task's goals give for an arm."""
        return {}


def with_ease(arm: Arm, ease: float) -> Arm:
    """The arm with another wearing ease, mm."""
    return structs.replace(arm, wearing_ease=Amount(ease))


@dataclass(frozen=True, eq=False)
class NumberCase(Case):
    """A question for a figure."""

    task: NumberTask = field(kw_only=True)

    @property
    def of(self) -> str:
        """The measure asked for."""
        return self.task.measure

    def asks_for(self, *measures: str) -> bool:
        """Whether one of these is the measure asked for."""
        return self.of in measures

    @property
    def is_length(self) -> bool:
        """Whether the figure asked for is in mm, and not in degrees or per cent."""
        return kind_of(self.of) is Kind.LENGTH

    @property
    def is_change(self) -> bool:
        """Whether it is asked what a plan changes, and not what the measure comes to."""
        return self.task.asks == "change"

    @property
    def wanted(self) -> Figure | None:
        """The figure that is to be worked out from the arm, where that is what is asked."""
        return self.task.wanted

    @property
    def at_cut_edge(self) -> bool:
        """Whether the measure is asked for at the cut edge."""
        return self.task.edge == "cut"

    @property
    def lies_there(self) -> bool:
        """Whether the figure can be taken off the pattern as it lies, with nothing altered or worked out."""
        return self.plan is None and self.wanted is None and not (self.at_cut_edge and self.is_change)

    @cached_property
    def right(self) -> float:
        """The figure that is right, in its own unit. Raises ValueError when it can't be worked out."""
        if self.wanted is not None:
            return self.wanted_by(self.arm)
        if self.at_cut_edge:
            found = self._at_cut_edge()
        else:
            found = self.before.get(self.of) if self.plan is None else self.after(self.plan)
        if found is None:
            raise ValueError(f"the {self.of} can't be worked out")
        return found

    def wanted_by(self, arm: Arm, wanted: Figure | None = None) -> float:
        """The wanted figure (or another) for an arm, in the measure's unit; a change is that from the measure now."""
        wanted = wanted or self.wanted
        assert wanted is not None
        figure = wanted.figure(self.before, arm)
        return figure - self.before.get(self.of, 0.0) if self.is_change else figure

    def _at_cut_edge(self) -> float | None:
        """The measure at the cut edge; of a change without a plan, what it has there beyond the seam line."""
        reading = at_cut_edge(self.of, self.allowance)
        if reading is None or self.plan is not None or not self.is_change:
            return None if reading is None else self.read(reading)
        found = reading(self.pattern)
        return None if found is None or self.of not in self.before else found - self.before[self.of]

    def reading(self, of: str) -> Reading | None:
        """How a seam, an armhole or a cap ease is measured here: at the cut edge, or along the seam line."""
        return at_cut_edge(of, self.allowance) if self.at_cut_edge else at_seam(of)

    def _measures(self, plan: Plan) -> dict[str, float] | None:
        """Areas take their time, and are measured only where they are asked for."""
        altered = self.altered(plan) if self.asks_for("overlap", "gap") else None
        return super()._measures(plan) if altered is None else dict(altered.measures_after)

    def after(self, plan: Plan) -> float | None:
        """The figure asked for as a plan would have it, in the measure's unit; None when paper can't follow it."""
        if self.at_cut_edge:
            return self._at_cut_edge_after(plan)
        found = self.measures(plan)
        if found is None or self.of not in found:
            return None
        return found[self.of] - self.before.get(self.of, 0.0) if self.is_change else found[self.of]

    def _at_cut_edge_after(self, plan: Plan) -> float | None:
        reading, altered = at_cut_edge(self.of, self.allowance), self.altered(plan)
        return None if reading is None or altered is None else self._read_after(reading, altered)

    def read(self, reading: Reading) -> float | None:
        """The figure asked for, in mm, taken off the patterns in another way; None for one that can't be."""
        if self.plan is None and not self.lies_there:
            return None
        if self.plan is None:
            return reading(self.pattern)
        altered = self.altered(self.plan)
        return None if altered is None else self._read_after(reading, altered)

    def _read_after(self, reading: Reading, altered: Altered) -> float | None:
        after = reading(altered.after)
        before = reading(self.pattern) if self.is_change else 0.0
        return None if after is None or before is None else after - before


@dataclass(frozen=True, eq=False)
class PlanCase(Case):
    """A pattern to be altered."""

    task: PlanTask = field(kw_only=True)

    @cached_property
    def aims(self) -> tuple[Aim, ...]:
        """What the task's goals come to for the wearer's arm."""
        return self.aims_for(self.arm)

    def aims_for(self, arm: Arm) -> tuple[Aim, ...]:
        """What the task's goals would come to for another arm."""
        return tuple(aim for goal in self.task.goals for aim in goal.aims(self.before, arm))

    def _figures(self, arm: Arm) -> Mapping[str, float]:
        return {aim.measure: aim.centre for aim in reversed(self.aims_for(arm))}


def _altered(pattern: Pattern, plan: Plan) -> Altered | None:
    try:
        return altered_once(pattern, plan)
    except (Refusal, ValueError, ArithmeticError, IndexError, AssertionError):
        return None
