"""A curved seam measured straight from end to end."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.readings import straight
from tutor.units import Unit


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For a whole figure: curve and straight line change by nearly the same."""
    reading = None if case.is_change else straight(case.of)
    value = None if reading is None else case.read(reading)
    if value is not None:
        said = "is measured straight from end to end, across the curve."
        yield Figured(value, lambda show: f"{show(value)} {said}", "Walk the tape along the curve, on its edge.")


MISTAKE = Mistake("straight-for-curve", _figures, words="a curved seam measured straight")
