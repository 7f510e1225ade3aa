"""One side's amount given for the whole, or each side counted for both."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case, NumberCase
from tutor.marking.likely import moved_by
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.plan_parts import Part, parts, sides, whole
from tutor.marking.times_right import times_right
from tutor.marking.wrong_plans import SIDES
from tutor.pattern.measures import words_for
from tutor.units import Unit

ACROSS = ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth", "bust-gain")
"""Measures of both sides together whose sides are no measures of their own."""
OF_BOTH = ("cap-seam", "armhole", "cap-ease")
OF_ONE = tuple(f"{name}-{side}" for name in OF_BOTH for side in SIDES)
TOGETHER = "Work for both sides together, and ask what each of them gets."
TWICE = "What one half gains the other loses, so the difference between them changes by twice as much."
SHARED = "Each half changes by all of it: an amount that goes for both is not shared between them."
ONCE = "One amount goes for both halves; here it is there twice."
BETWEEN = "Work out how much one half has to gain: so far it has to move."
FOR_BOTH = "Work out what one half needs: the other gets the same."


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
            yield Wrong(_Reply(factor, whole(plan)), case.widened_by(factor), number, TOGETHER)
            continue
        for part in parts(plan):
            yield Wrong(_Reply(factor, part), part.scaled(factor), likely=moved_by(factor, part.tells, part.rest))
        for part in sides(plan):
            likely = moved_by(factor, part.tells) if part.is_armholes else None
            yield Wrong(_Reply(factor, part), part.scaled(factor), likely=likely)


class _Reply:
    """What is said of amounts that are half or twice what they should be, all of them or those of one part."""

    def __init__(self, factor: float, part: Part) -> None:
        self.factor = factor
        self.part = part

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        reason, then = self._why()
        return f"{self._done(answer)} {reason}", then

    def _why(self) -> tuple[str, str]:
        half = self.factor < 1
        if self.part.between:
            return (SHARED if half else TWICE), BETWEEN
        if not self.part.sided:
            return (SHARED if half else ONCE), FOR_BOTH
        if half:
            return "That is one side's share, where the whole was wanted.", TOGETHER
        return "That is the whole for each side, so it is there twice.", TOGETHER

    def _done(self, answer: PlanAnswer) -> str:
        """How far what the amounts are for has moved."""
        gained = {side: answer.length(answer.change(f"armhole-{side}")) for side in SIDES}
        if self.part.is_armholes and not self.part.side:
            return f"The armholes have changed by {gained['back']} at the back and {gained['front']} at the front."
        if self.part.is_armholes:
            return f"The {self.part.side} armhole has changed by {gained[self.part.side]}."
        of = self.part.tells
        return f"The {words_for(of)} has changed by {answer.length(answer.change(of))}."


MISTAKE = Mistake("per-side", _figures, _plans, words="half or double: one side counted for both, or both for one")
