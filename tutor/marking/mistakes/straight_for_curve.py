"""A curved seam measured straight from end to end."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from tutor.alteration.plan import Along
from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake, Placed
from tutor.marking.place import PlaceCase
from tutor.marking.readings import straight
from tutor.units import Unit

NEXT = "Walk the tape along the curve, on its edge."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For a whole figure: curve and straight line change by nearly the same."""
    reading = None if case.is_change else straight(case.of)
    value = None if reading is None else case.read(reading)
    if value is not None:
        said = "is measured straight from end to end, across the curve."
        yield Figured(value, lambda show: f"{show(value)} {said}", NEXT)


def _places(case: PlaceCase, unit: Unit) -> Iterator[Placed]:
    """For a place so far along a curved seam: where a straight line of that length from its end meets it."""
    place = case.place
    if not isinstance(place, Along):
        return
    curve = case.outline.curves[case.outline.names.index(place.seam)]
    size, end = curve.length(), curve.end if place.from_end else curve.start

    def chord(distance: float) -> float:
        return abs(curve.point(curve.at_distance(size - distance if place.from_end else distance)) - end)

    far = _reached(chord, place.distance, size)
    along = None if far is None else case.along(replace(place, distance=far))
    if along is not None:
        yield Placed(along, "That is so far in a straight line, across the curve.", NEXT)


def _reached(chord: Callable[[float], float], wanted: float, size: float) -> float | None:
    """How far along it is until the straight line is as long as wanted, within 1e-6 mm; None where it never is."""
    low, high = wanted, size
    if chord(low) > wanted or chord(high) < wanted:
        return None
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if chord(middle) < wanted else (low, middle)
    return (low + high) / 2


MISTAKE = Mistake("straight-for-curve", _figures, places=_places, words="a curved seam measured straight")
