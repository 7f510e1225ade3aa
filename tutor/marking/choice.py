"""A question with things to choose among, and what makes each of them right or wrong on the pattern at hand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.fit.mending import is_mended, left_over
from tutor.fit.misfit import Misfit
from tutor.lesson.goal import Aim
from tutor.lesson.task import ChoiceTask, PlanTask
from tutor.marking.case import Case, PlanCase
from tutor.marking.credit import tolerance_of
from tutor.pattern.measures import words_for
from tutor.units import Unit

CLEARLY_MISSED = 2.0
"""A goal is clearly missed by a figure that is so many tolerances off."""
STILL = 0.25
"""A measure stays that changes by less than this share of what it would have to, to grow or to shrink."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One of the things to choose among: whether it is ``right``, None where that is a near thing.

    ``after`` are the measures it leads to; None where paper refuses it. ``fits`` says that it meets the goals.
    """

    name: str
    words: str
    right: bool | None
    after: Mapping[str, float] | None = None
    refusal: Refusal | None = None
    fits: bool | None = None


@dataclass(frozen=True, eq=False)
class ChoiceCase(Case):
    """A choice among ``plans``, by name, or why paper refuses them; or among measures after ``plan``.

    ``misfit`` is what is to be mended; None where nothing is.
    """

    task: ChoiceTask = field(kw_only=True)
    plans: Mapping[str, Plan | Refusal] = field(kw_only=True, default_factory=dict)
    misfit: Misfit | None = field(kw_only=True, default=None)

    @cached_property
    def aims(self) -> tuple[Aim, ...]:
        """What the goals come to."""
        return tuple(aim for goal in self.task.goals for aim in goal.aims(self.before, self.arm))

    @cached_property
    def weighed(self) -> tuple[Weighed, ...]:
        """Everything to choose among, in the lesson's order. Raises ValueError when it can't be worked out."""
        return self._measures_weighed() if self.task.measures else self._plans_weighed()

    @property
    def right(self) -> tuple[str, ...]:
        """The names of those that are right."""
        return tuple(each.name for each in self.weighed if each.right)

    @property
    def trouble(self) -> str:
        """Why this is no fair question: something is neither right nor wrong, or too few or too many are right."""
        unclear = [each.words for each in self.weighed if each.right is None]
        if unclear:
            return f"{unclear[0]} is neither clearly right nor clearly wrong"
        found, there = len(self.right), len(self.weighed)
        if self.task.pick == "one" and found != 1:
            return f"{found or 'none'} of its options {'are' if found > 1 else 'is'} right, where one should be"
        return "all its options are right, or none" if found in (0, there) else ""

    def _measures_weighed(self) -> tuple[Weighed, ...]:
        after = None if self.plan is None else self.measures(self.plan)
        if after is None:
            raise ValueError("the plan asked about can't be carried out")
        return tuple(self._measure_weighed(name, after) for name in self.task.measures)

    def _measure_weighed(self, name: str, after: Mapping[str, float]) -> Weighed:
        least = self.task.telling_apart(name)
        change = after[name] - self.before[name]
        stays, moves = self.stays(name, change), abs(change) >= least
        right: bool | None = None
        if stays or moves:
            way = "stay" if stays else "grow" if change > 0 else "shrink"
            right = way == self.task.which
        return Weighed(name, words_for(name), right, after)

    def stays(self, name: str, change: float) -> bool:
        """Whether a measure that changes by so much stays as good as it was."""
        return abs(change) <= STILL * self.task.telling_apart(name)

    def _plans_weighed(self) -> tuple[Weighed, ...]:
        found = tuple(self._plan_weighed(option.plan, option.title) for option in self.task.options)
        return found if not self.task.best else self._best_of(found)

    def _plan_weighed(self, name: str, title: str) -> Weighed:
        plan = self.plans[name]
        if isinstance(plan, Refusal):
            return Weighed(name, title, False, refusal=plan, fits=False)
        after = self.measures(plan)
        if after is None:
            raise ValueError(f"the plan {name} can't be carried out")
        fits = self._fits(after)
        if self.misfit is not None and fits is not False:
            mended = is_mended(self.left_over(after))
            fits = False if mended is False else fits if mended else None
        return Weighed(name, title, fits, after, fits=fits)

    def left_over(self, after: Mapping[str, float]) -> Misfit:
        """What is off once an option has been carried out; nothing where nothing was to be mended."""
        return left_over(self.misfit or Misfit(), self.before, after)

    def _fits(self, after: Mapping[str, float]) -> bool | None:
        """Whether a result meets every goal, whatever the learner's unit; None for one that nearly does."""
        shares = [
            abs(aim.off(after.get(aim.measure, math.inf))) / max(tolerance_of(aim, unit) for unit in Unit)
            for aim in self.aims
        ]
        if any(share > CLEARLY_MISSED for share in shares):
            return False
        exact = (abs(aim.off(after.get(aim.measure, math.inf))) / aim.tolerance for aim in self.aims)
        return True if all(share <= 1 for share in exact) else None

    def _best_of(self, found: tuple[Weighed, ...]) -> tuple[Weighed, ...]:
        """Of those that meet the goals, only the one with the least or the most is right, if it is so clearly."""
        of, sign = self.task.best, 1.0 if self.task.least else -1.0
        figures = {
            each.name: sign * each.after[of] for each in found if each.after is not None and each.fits is not False
        }
        if not figures:
            return found
        first, *others = sorted(figures, key=figures.__getitem__)
        near = {name for name in others if figures[name] - figures[first] < self.task.telling_apart(of)}

        def right(each: Weighed) -> bool | None:
            if each.name == first:
                return None if near or each.fits is None else True
            return None if each.name in near else False

        return tuple(Weighed(e.name, e.words, right(e), e.after, e.refusal, e.fits) for e in found)

    def as_plan_case(self) -> PlanCase | None:
        """The same question as one for an alteration, answered by the right plan; None where nothing is aimed at."""
        plans = [self.plans[name] for name in self.right if name in self.plans]
        right = next((plan for plan in plans if isinstance(plan, Plan)), None)
        if not self.task.goals or right is None:
            return None
        task = PlanTask(
            title=self.task.title,
            ask=self.task.ask,
            hints=self.task.hints,
            unnamed=self.task.unnamed,
            goals=self.task.goals,
            solution=self.right[0],
        )
        return self.kept("as plan", lambda: PlanCase(self.pattern, self.arm, right, None, self.allowance, task=task))
