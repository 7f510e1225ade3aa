"""Which usual mistake an altered pattern shows, by its result; and which can't be told apart."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tutor.marking.case import PlanCase
from tutor.marking.credit import tolerance_of
from tutor.marking.mark import mark_plan
from tutor.marking.mistake import PlanAnswer, Wrong
from tutor.marking.named import RIGHT, Confusion, Named, clear_winner, confused
from tutor.marking.rounded_plans import Rounding
from tutor.marking.usual import MISTAKES
from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit

SIDES = ("cap-ease-back", "cap-ease-front")
"""Where these are looked at, their difference is not, which rounding on either side blurs; nor that of side seams."""
BESIDE = ("bicep-girth", "cap-height", "cap-seam", "hem-girth")
LOOSER = 2.0
"""How many times more is allowed for a measure that the task does not look at."""
CLOSER_LOOK = 4.0
"""What is not much farther off than is allowed is looked at again more closely, which takes longer."""
CLEAR = 0.5
"""How much farther off, in what is allowed, every other mistake must lie."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a mistake leads to."""

    mistake: str
    wrong: Wrong
    after: Mapping[str, float]


def recognise_plan(answer: PlanAnswer) -> Named | None:
    """The mistake that an alteration shows; None when it passes, or shows none clearly."""
    if plan_passes(answer.case, answer.unit, answer.after):
        return None
    found = list(_led_to(answer.case, answer))
    ranked = [(_apart(answer.case, answer.unit, answer.after, each), each.mistake) for each in found]
    best = clear_winner(ranked, 1.0, CLEAR)
    return None if best is None else Named(found[best].mistake, found[best].wrong.reply(answer))


def outcomes(case: PlanCase, unit: Unit) -> tuple[Outcome, ...]:
    """What every usual mistake leads to here, those left out that paper can't follow, or that pass."""
    return case.kept(
        ("outcomes", unit),
        lambda: tuple(each for each in _all(case) if not plan_passes(case, unit, each.after)),
    )


def plan_confusions(case: PlanCase, unit: Unit) -> tuple[Confusion, ...]:
    """The mistakes whose results can't be told apart."""
    found = [(each, _rounding(case, unit, each)) for each in outcomes(case, unit)]
    pairs = [
        (first.mistake, second.mistake)
        for (first, near_first), (second, near_second) in itertools.combinations(found, 2)
        if first.mistake != second.mistake
        and min(_off(case, unit, first.after, second, near_second), _off(case, unit, second.after, first, near_first))
        < 1 + CLEAR
    ]
    return confused(pairs)


def plan_hidden(case: PlanCase, unit: Unit) -> tuple[str, ...]:
    """The mistakes that pass: the goals don't notice them."""
    return tuple(dict.fromkeys(each.mistake for each in _all(case) if plan_passes(case, unit, each.after)))


def plan_passes(case: PlanCase, unit: Unit, after: Mapping[str, float]) -> bool:
    """Whether measures as they are after an alteration get what the task needs to be passed."""
    return mark_plan(case.task, case.arm, unit, case.before, after).passed


def _all(case: PlanCase) -> tuple[Outcome, ...]:
    return case.kept("led to", lambda: tuple(_led_to(case, None)))


def _led_to(case: PlanCase, answer: PlanAnswer | None) -> Iterator[Outcome]:
    """All that mistakes lead to; for an answer, what it is clearly not is passed over before anything is cut."""
    for mistake in MISTAKES.values():
        if mistake.plans is None or mistake.name in case.task.unnamed:
            continue
        for wrong in mistake.plans(case):
            if answer is not None and wrong.likely is not None and not wrong.likely(answer):
                continue
            after = wrong.result(case)
            if after is not None:
                yield Outcome(mistake.name, wrong, after)


def _apart(case: PlanCase, unit: Unit, after: Mapping[str, float], outcome: Outcome) -> float:
    """How far a result lies from what a mistake leads to: the worst measure, in what is allowed there.

    The goals' measures count, and with more allowed those that tell any two alterations apart.
    """
    far = _off(case, unit, after, outcome, _rounding(case, unit, outcome, fully=True))
    if outcome.wrong.made() is None or not 1 < far < CLOSER_LOOK:
        return far
    return min(far, _off(case, unit, after, outcome, _rounding(case, unit, outcome, closely=True, fully=True)))


def _rounding(case: PlanCase, unit: Unit, outcome: Outcome, *, closely: bool = False, fully: bool = False) -> Rounding:
    return Rounding(case, outcome.wrong.made(), outcome.after, unit, closely=closely, fully=fully)


def _off(case: PlanCase, unit: Unit, after: Mapping[str, float], outcome: Outcome, rounding: Rounding) -> float:
    goals = {aim.measure: tolerance_of(aim, unit) for aim in case.aims if aim.measure != "side-mismatch"}
    if set(SIDES) & goals.keys():
        goals.pop("ease-balance", None)
    reached = {aim.measure for aim in case.aims if aim.low == aim.high and abs(case.gain(aim.measure)) > aim.tolerance}
    worst = 0.0
    for name in (*goals, *(name for name in BESIDE if name not in goals)):
        if name not in after or name not in outcome.after:
            return math.inf
        allowed = goals.get(name, 0.0)
        if kind_of(name) is Kind.LENGTH:
            allowed = rounding.taken(name) * (1.0 if name in goals else LOOSER)
        elif name in reached:
            allowed = min(allowed, rounding.taken_otherwise(name))
        worst = max(worst, abs(after[name] - outcome.after[name]) / allowed)
    return worst


__all__ = ["RIGHT", "Outcome", "outcomes", "plan_confusions", "plan_passes", "recognise_plan"]
