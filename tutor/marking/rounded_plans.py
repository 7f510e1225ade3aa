"""What rounding its amounts does to the result of a plan that went wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from tutor.alteration.amounts import AMOUNTS
from tutor.alteration.plan import Plan
from tutor.marking.case import PlanCase
from tutor.marking.nearness import SHOWN, SHOWN_OTHERWISE
from tutor.marking.wrong_plans import SIDES
from tutor.units import Unit

NUDGE = 1.0
"""mm by which an amount is changed to see what that does."""
WHOLE = 1e-6
BESIDE = 0.25
"""Allowed beside, in halves of a division: one rounding is seldom a help to another."""

Amounts = tuple[float, ...]
Measures = Mapping[str, float]


class Rounding:
    """How far lengths may lie from what a mistake leads to, ``after``, because amounts were rounded.

    A learner rounds an amount before doing wrong with it, and again when what comes of that is no whole division.
    ``wrong`` is what the mistake makes of the case's plan; None where it leaves the amounts alone. What amounts do is
    seen on the right plan, or ``closely`` on the wrong one itself, which has to be cut anew for that. What amounts
    lose by two roundings is taken for what it mostly comes to, or ``fully`` for what it can come to.
    """

    def __init__(
        self,
        case: PlanCase,
        wrong: Plan | None,
        after: Measures,
        unit: Unit,
        *,
        closely: bool = False,
        fully: bool = False,
    ) -> None:
        self.half = SHOWN[unit]
        right, changed = _amounts(case.plan), _amounts(case.plan if wrong is None else wrong)
        self.fully = fully
        if closely and wrong is not None:
            self.slopes = _slopes(case, wrong)
            known = right if len(changed) == len(right) else (0.0,) * len(changed)
            self.lost = tuple(self._lost(b / a if a else None) for a, b in zip(known, changed, strict=True) if b)
            return
        factors = _factors(right, changed)
        self.slopes = _slopes(case, case.plan) if len(factors) > 1 else _secant(case, factors, after)
        self.lost = tuple(map(self._lost, factors))

    def taken(self, measure: str) -> float:
        """What rounding may take from a length, mm."""
        total = sum(_slope(slopes, measure) * lost for slopes, lost in zip(self.slopes, self.lost, strict=True))
        return max(total, self.half) + BESIDE * self.half

    def taken_otherwise(self, measure: str) -> float:
        """What rounding may take from degrees or per cent."""
        parts = zip(self.slopes, self.lost, strict=True)
        return (1 + BESIDE) * sum(_slope(slopes, measure) * lost for slopes, lost in parts) + SHOWN_OTHERWISE

    def _lost(self, factor: float | None) -> float:
        """What an amount may have lost that is so many times a right one, or, for None, comes of several."""
        if factor is None:
            return 2 * self.half
        again = 0.0 if abs(factor - round(factor)) < WHOLE else self.half
        return abs(factor) * self.half + again if self.fully else math.hypot(factor * self.half, again)


def _secant(case: PlanCase, factors: Amounts, after: Measures) -> tuple[Measures, ...]:
    """How the only amount moves each measure, per mm, on the way from the right plan to the wrong, or up to the right.

    Nothing has to be cut for that.
    """
    if case.plan is None or not factors:
        return ()
    (factor,), (amount,) = factors, (mm for mm in _amounts(case.plan) if mm)
    right, there, way = case.measures(case.plan) or {}, after, amount * (factor - 1)
    if abs(way) < NUDGE:
        there, way = case.before, -amount
    return ({name: (there[name] - right[name]) / way for name in right if name in there},)


def _slope(slopes: Measures, measure: str) -> float:
    """How far a measure moves, sign aside; a notch by as much as its armhole, should it be left where it was."""
    side = next((side for side in SIDES if measure.startswith(f"notch-mismatch-{side}")), "")
    names = (measure, f"armhole-{side}") if side else (measure,)
    return max(abs(slopes.get(name, 0.0)) for name in names)


def _factors(right: Amounts, changed: Amounts) -> Amounts:
    """What the mistake multiplies each amount of the right plan by; 1 where the two have not the same amounts."""
    if len(changed) != len(right):
        changed = right
    return tuple(b / a for a, b in zip(right, changed, strict=True) if a)


def _amounts(plan: Plan | None) -> Amounts:
    if plan is None:
        return ()
    return (*(opening.amount for opening in plan.openings), *(amount.read(plan) for amount in AMOUNTS))


def _with_amounts(plan: Plan, amounts: Amounts) -> Plan:
    opened = plan.with_amounts(*amounts[: len(plan.openings)])
    for amount, mm in zip(AMOUNTS, amounts[len(plan.openings) :], strict=True):
        opened = opened if amount.read(opened) == mm else amount.put(opened, mm)
    return opened


def _slopes(case: PlanCase, plan: Plan | None) -> tuple[Measures, ...]:
    """How each amount of a plan that is not nought moves each measure, per mm."""
    return () if plan is None else case.kept(("slopes", plan), lambda: tuple(_derived(case, plan)))


def _derived(case: PlanCase, plan: Plan) -> Iterator[Measures]:
    start = case.measures(plan) or {}
    amounts = _amounts(plan)
    for k, amount in enumerate(amounts):
        if amount:
            # Towards nought paper follows wherever it follows the plan.
            nudge = math.copysign(NUDGE, -amount)
            after = case.measures(_with_amounts(plan, (*amounts[:k], amount + nudge, *amounts[k + 1 :]))) or {}
            yield {name: (after[name] - start[name]) / NUDGE for name in start if name in after}
