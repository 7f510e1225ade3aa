"""A plan in a lesson file: as in a plan file, but amounts can be left to be solved for what a task wants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.alteration.alter import alter
from tutor.alteration.plan import Plan
from tutor.alteration.reach import Amount as Unknown
from tutor.alteration.reach import reach
from tutor.lesson.goal import Figure
from tutor.lesson.setting import Arm
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern


@dataclass(frozen=True, slots=True)
class Sought:
    """An amount to be solved for a measure; without a ``figure`` of its own it is solved for the task's goal."""

    amount: Unknown
    measure: str
    figure: Figure | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """A plan whose sought amounts are 0 until they are solved for the pattern at hand."""

    plan: Plan
    sought: tuple[Sought, ...] = ()

    @property
    def goals_needed(self) -> tuple[str, ...]:
        """The measures that only a task's goals give a figure for."""
        return tuple(sought.measure for sought in self.sought if sought.figure is None)

    def solved(self, pattern: Pattern, arm: Arm, goals: Mapping[str, float]) -> Plan:
        """The plan for this pattern; ``goals`` gives figures, in the measures' own units, where none is written.

        Raises Refusal when paper can't do it, and ValueError for a measure that has no figure or isn't there.
        """
        start = measure(pattern)
        missing = [name for name in self.goals_needed if name not in goals]
        if missing:
            raise ValueError(f"no figure is wanted for {missing[0]}")
        wanted = {s.measure: goals[s.measure] if s.figure is None else s.figure.figure(start, arm) for s in self.sought}
        return reach(pattern, self.plan, wanted, [s.amount for s in self.sought])


def carried_out(recipe: Recipe, pattern: Pattern, arm: Arm) -> Pattern:
    """The pattern that a recipe leaves behind. Raises as ``Recipe.solved`` does."""
    return alter(pattern, recipe.solved(pattern, arm, {})).after
