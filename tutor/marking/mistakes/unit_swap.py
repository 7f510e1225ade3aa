"""Inches taken for centimetres, or centimetres for inches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tutor.alteration.plan import Along
from tutor.marking.case import Case, NumberCase
from tutor.marking.likely import moved_by
from tutor.marking.mistake import Figured, Mistake, Placed, PlanAnswer, Wrong
from tutor.marking.place import PlaceCase
from tutor.marking.plan_parts import whole
from tutor.marking.times_right import times_right
from tutor.marking.wrong_plans import scaled
from tutor.pattern.measures import words_for
from tutor.units import Unit

INCH_IN_CM = 2.54
NEXT = "Look at the unit beside the field, or write the unit with the figure."
NEXT_PLACE = "Look at which side of the tape you read."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.is_length:
        yield from times_right(case, unit, INCH_IN_CM, "is a figure in centimetres, taken for inches.", NEXT)
        yield from times_right(case, unit, 1 / INCH_IN_CM, "is a figure in inches, taken for centimetres.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    if case.plan is None:
        return
    for factor, meant, taken in ((INCH_IN_CM, "centimetres", "inches"), (1 / INCH_IN_CM, "inches", "centimetres")):
        likely = moved_by(factor, whole(case.plan).tells)
        yield Wrong(_Reply(meant, taken, whole(case.plan).tells), scaled(case.plan, factor), likely=likely)


def _places(case: PlaceCase, unit: Unit) -> Iterator[Placed]:
    """For a place so far along a seam."""
    place = case.place
    if not isinstance(place, Along):
        return
    for factor, meant, taken in ((INCH_IN_CM, "centimetres", "inches"), (1 / INCH_IN_CM, "inches", "centimetres")):
        along = case.along(replace(place, distance=place.distance * factor))
        if along is not None:
            yield Placed(along, f"That is where {meant}, taken for {taken}, lead to.", NEXT_PLACE)


class _Reply:
    def __init__(self, meant: str, taken: str, of: str) -> None:
        self.of = of
        self.said = f"Amounts in {meant} were taken for {taken}."

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        changed = answer.length(answer.change(self.of))
        return f"{self.said} The {words_for(self.of)} has changed by {changed}.", NEXT


MISTAKE = Mistake("unit-swap", _figures, _plans, places=_places, words="inches taken for centimetres, or the reverse")
