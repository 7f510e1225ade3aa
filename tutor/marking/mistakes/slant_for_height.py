"""The cap measured along its slope, not square to the bicep line."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.readings import cap_chord, cap_length
from tutor.marking.wrong_plans import SIDES
from tutor.pattern.pattern import Pattern
from tutor.units import Unit

NEXT = "Measure from the crown square down to the bicep line."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.of != "cap-height":
        return
    for length, along in ((cap_chord, "straight from crown to {} underarm point"), (cap_length, "along the {} seam")):
        for side in SIDES:
            value = case.read(_of(length, side))
            if value is not None:
                yield _figured(value, along.format(side))


def _of(length: Callable[[Pattern, str], float], side: str) -> Callable[[Pattern], float]:
    return lambda pattern: length(pattern, side)


def _figured(value: float, along: str) -> Figured:
    return Figured(value, lambda show: f"{show(value)} is measured {along}.", NEXT)


MISTAKE = Mistake("slant-for-height", _figures, words="the cap measured along its slope")
