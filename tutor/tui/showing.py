"""A worked solution played in the picture, step by step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from tutor.alteration.alter import Altered, alter
from tutor.alteration.amounts import AMOUNTS, Means, given
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Solution
from tutor.practice.steps import plan_steps
from tutor.tui.side_lines import Told
from tutor.units import Unit


@dataclass(frozen=True, slots=True)
class Step:
    """The plan as it is after a step, and the step in words."""

    plan: Plan
    words: str


@dataclass(frozen=True, slots=True)
class Showing:
    """A worked solution under way: its steps, and how many of them are done."""

    steps: tuple[Step, ...]
    done: int = 1

    @property
    def plan(self) -> Plan:
        """The plan as it is now."""
        return self.steps[self.done - 1].plan

    @property
    def whole(self) -> Plan:
        """The plan with all steps done."""
        return self.steps[-1].plan

    @property
    def words(self) -> str:
        """The step in words."""
        return self.steps[self.done - 1].words

    @property
    def told(self) -> tuple[Told, ...]:
        """All steps, for the panel."""
        numbered = enumerate((step.words for step in self.steps), 1)
        steps = [Told(f"{number}. {words}", now=number == self.done) for number, words in numbered]
        return (Told("worked solution", heading=True), *steps)

    @property
    def changes(self) -> frozenset[Means]:
        """What the step does: by which means the plan is another than before it."""
        before = self.steps[self.done - 2].plan if self.done > 1 else Plan()
        means: set[Means] = {each.means for each in AMOUNTS if each.read(self.plan) != each.read(before)}
        if (self.plan.slashes, self.plan.openings) != (before.slashes, before.openings):
            means.add("slashes")
        return frozenset(means | {"set-back"} if self.plan.set_back != before.set_back else means)

    def moved(self, way: int) -> Showing:
        """A step on or back, as far as there are steps."""
        return replace(self, done=min(max(self.done + way, 1), len(self.steps)))


def showing(pattern: Pattern, solution: Solution, unit: Unit) -> Showing | None:
    """The solution as steps that can be seen; None where it has no plan."""
    if solution.plan is None:
        return None
    steps: list[Step] = []
    told: tuple[str, ...] = ()
    for plan in _grown(solution.plan):
        words = plan_steps(pattern, plan, unit)
        fresh = [text for text in words if text not in told and not text.startswith("True the seams")]
        told = words
        if fresh:
            steps.append(Step(plan, " ".join(fresh)))
    # What is left of the solution's words: truing, and what all of it comes to.
    known = " ".join(step.words for step in steps)
    rest = [text for text in solution.steps if text not in known]
    if rest:
        steps.append(Step(solution.plan, " ".join(rest)))
    return Showing(tuple(steps))


def _grown(whole: Plan) -> Iterator[Plan]:
    """The plan as it grows: the cap lifted off, slash by slash, opening by opening, then piece by piece."""
    plan = Plan(set_back=whole.set_back)
    yield plan
    for slash in whole.slashes:
        plan = replace(plan, slashes=(*plan.slashes, slash))
        yield plan
    for opening in whole.openings:
        plan = replace(plan, openings=(*plan.openings, opening))
        yield plan
    for _, amounts in groupby(given(whole), key=lambda amount: amount.on or amount.key):
        for amount in amounts:
            plan = amount.put(plan, amount.read(whole))
        yield plan


def carried_out(pattern: Pattern, plan: Plan) -> Altered | None:
    """The plan carried out; None while it is not far enough to be."""
    try:
        return alter(pattern, plan)
    except Refusal:
        return None
