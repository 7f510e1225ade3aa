"""One side's amount given for the whole, or each side counted for both."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.plan import Answer
from tutor.marking.case import Case, NumberCase
from tutor.marking.likely import moved_by, telling
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.times_right import times_right
from tutor.marking.wrong_plans import SIDES, answer_of, has_answers, scaled, times, with_answer
from tutor.units import Unit

ACROSS = ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth", "bust-gain")
"""Measures of both sides together whose sides are no measures of their own."""
OF_BOTH = ("cap-seam", "armhole", "cap-ease")
OF_ONE = tuple(f"{name}-{side}" for name in OF_BOTH for side in SIDES)
TOGETHER = "Work for both sides together, and ask what each of them gets."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.of in ACROSS:
        yield from times_right(case, unit, 0.5, "is one side's share.", "Count back and front together.")
    if case.of in (*ACROSS, *OF_BOTH):
        yield from times_right(case, unit, 2.0, "counts each side twice.", "Count each side once.")
    if case.of in OF_ONE:
        reading = case.reading(case.of.rpartition("-")[0])
        both = (None if reading is None else case.read(reading)) or 2 * case.right
        said = "is what back and front come to together"
        yield Figured(both, lambda show: f"{show(both)} {said}.", "Take the one half that is asked for.")


def _plans(case: Case) -> Iterator[Wrong]:
    plan = case.plan
    if plan is None:
        return
    for factor in (0.5, 2.0):
        if case.asks_for("cap-height"):
            number = f"with {'half' if factor < 1 else 'twice'} the width added"
            yield Wrong(_Reply(factor, ""), case.widened_by(factor), number, TOGETHER)
            continue
        yield Wrong(_Reply(factor, ""), scaled(plan, factor), likely=moved_by(factor, telling(plan)))
        if has_answers(plan) and plan.back != Answer() and plan.front != Answer():
            for side in SIDES:
                changed = with_answer(plan, side, times(answer_of(plan, side), factor))
                yield Wrong(_Reply(factor, side), changed, likely=moved_by(factor, telling(plan, side)))


class _Reply:
    """What is said of amounts that are half or twice what they should be, all of them or those of one armhole."""

    def __init__(self, factor: float, where: str) -> None:
        self.factor = factor
        self.where = where

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        if self.factor < 1:
            return f"{self._done(answer)} That is one side's share, where the whole was wanted.", TOGETHER
        return f"{self._done(answer)} That is the whole for each side, so it is there twice.", TOGETHER

    def _done(self, answer: PlanAnswer) -> str:
        """How far what the amounts are for has moved."""
        gained = {side: answer.length(answer.change(f"armhole-{side}")) for side in SIDES}
        if self.where:
            return f"The {self.where} armhole has changed by {gained[self.where]}."
        if answer.case.plan is not None and has_answers(answer.case.plan) and not answer.case.plan.openings:
            return f"The armholes have changed by {gained['back']} at the back and {gained['front']} at the front."
        return f"The bicep girth has changed by {answer.length(answer.change('bicep-girth'))}."


MISTAKE = Mistake("per-side", _figures, _plans, words="half or double: one side counted for both, or both for one")
