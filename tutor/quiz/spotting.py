"""A pattern altered with one usual mistake made, and the mistakes to choose from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tutor.alteration.amounts import given, means_used
from tutor.alteration.plan import Plan
from tutor.marking.case import PlanCase
from tutor.marking.mistake import PlanAnswer
from tutor.marking.named import Named
from tutor.marking.recognise_plan import Outcome, outcomes, recognise_plan
from tutor.practice.variants import UNITS
from tutor.quiz.shares import Shares
from tutor.units import Unit

MOST_OTHERS = 3
LEAST_OTHERS = 2
DECIMALS = 3
"""Of a millimetre, to which amounts are rounded, so that they are alike on every machine."""


@dataclass(frozen=True, slots=True)
class Spotting:
    """A plan with a mistake in it, and the names of mistakes of which one was made."""

    plan: Plan
    mistakes: tuple[str, ...]


def spotting(case: PlanCase, shares: Shares) -> Spotting | None:
    """A plan gone wrong in a way that its result tells from every other; None where the task has no such."""
    made = next(_told(case, shares.ordered("mistake", outcomes(case, UNITS[0]))), None)
    if made is None:
        return None
    plan, mistake = made
    others = sorted(_known(case) - {mistake})
    if len(others) < LEAST_OTHERS:
        return None
    chosen = [mistake, *shares.ordered("others", others)[:MOST_OTHERS]]
    return Spotting(plan, tuple(shares.ordered("order", chosen)))


def mistake_in(case: PlanCase, plan: Plan) -> str | None:
    """The usual mistake that a plan's result shows, whatever the unit; None when it shows none clearly."""
    shown = {None if (named := named_in(case, plan, unit)) is None else named.mistake for unit in UNITS}
    return shown.pop() if len(shown) == 1 else None


def _known(case: PlanCase) -> set[str]:
    """The mistakes that can be made in a task, in every unit."""
    return set.intersection(*({each.mistake for each in outcomes(case, unit)} for unit in UNITS))


def _told(case: PlanCase, found: Sequence[Outcome]) -> Iterator[tuple[Plan, str]]:
    """The plans gone wrong that a learner could have made, and whose result shows the mistake that was made."""
    for each in found:
        plan = each.wrong.made()
        if plan is None or not _allowed(case, plan):
            continue
        plan = rounded(plan)
        if case.altered(plan) is not None and mistake_in(case, plan) == each.mistake:
            yield plan, each.mistake


def named_in(case: PlanCase, plan: Plan, unit: Unit) -> Named | None:
    """The usual mistake that a plan's result shows, and what is said of it; None when it shows none clearly."""
    altered, after = case.altered(plan), case.measures(plan)
    if altered is None or after is None:
        return None
    return recognise_plan(PlanAnswer(case, unit, after, plan, altered))


def _allowed(case: PlanCase, plan: Plan) -> bool:
    """Whether the task allows all that a plan does."""
    return set(means_used(plan)) <= set(case.task.may_use)


def rounded(plan: Plan) -> Plan:
    """The plan with its amounts to a thousandth of a millimetre."""
    amounts = [round(opening.amount, DECIMALS) for opening in plan.openings]
    plan = plan.with_amounts(*amounts)
    for amount in given(plan):
        plan = amount.put(plan, round(amount.read(plan), DECIMALS))
    return plan
