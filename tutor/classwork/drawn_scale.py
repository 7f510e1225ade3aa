"""Whether a drawing is of the size it should be: one that comes out at half of it is no answer, right or wrong."""

from __future__ import annotations

import math

import numpy as np

from tutor.classwork.outline_points import outline_points
from tutor.faults import Fault
from tutor.pattern.measures import curve_lengths
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS

USUAL = {
    "half": 0.5,
    "a quarter": 0.25,
    "72 for 96 px to the inch": 72 / 96,
    "90 for 96 px to the inch": 90 / 96,
    "96 for 72 px to the inch": 96 / 72,
    "centimetres for inches": 1 / 2.54,
    "inches for centimetres": 2.54,
    "millimetres for centimetres": 0.1,
    "centimetres for millimetres": 10.0,
}
"""Scales that drawings come out at by slips that everybody makes, as shares of the right one."""
ALIKE = 0.05
"""How near, as a share, every seam is to the block's where only such a slip has happened, and an alteration besides."""
ODD = 1.6
"""A pattern that is larger or smaller by more than this is at no scale that an alteration would lead to."""


def check_scale(drawn: Pattern, block: Pattern, where: str) -> None:
    """Raises Fault for a pattern that is drawn at another scale than the block: all its seams are out alike."""
    size = _size(drawn) / _size(block)
    here, there = (curve_lengths(dict(zip(SEAMS, p.sleeve.curves(), strict=True))) for p in (drawn, block))
    for name, share in USUAL.items():
        if all(abs(math.log(here[seam] / there[seam] / share)) < ALIKE for seam in SEAMS):
            what = f"is drawn at {100 * share:.0f}% of its size, as by {name}"
            raise Fault(where, what, "save it in millimetres at full size")
    if not 1 / ODD < size < ODD:
        raise Fault(where, f"is drawn at {100 * size:.0f}% of its size", "save it in millimetres at full size")


def _size(pattern: Pattern) -> float:
    points = outline_points(pattern).sleeve
    return float(np.sqrt((np.abs(points - points.mean()) ** 2).mean()))
