"""Credit for a figure: full inside the tolerance, none beyond three times it, linear between."""

from __future__ import annotations

from tutor.lesson.goal import Aim
from tutor.marking.points import ROUNDING
from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit

BEYOND = 3.0
DIVISIONS = {Unit.CM: 1.0, Unit.MM: 1.0, Unit.INCH: 25.4 / 8}
"""The smallest division, in mm, that people are asked to measure to: a millimetre, or an eighth of an inch."""


def tolerance_of(aim: Aim, unit: Unit) -> float:
    """The tolerance that holds for a learner who works in ``unit``: lengths at least half its smallest division."""
    if kind_of(aim.measure) is not Kind.LENGTH:
        return aim.tolerance
    return max(aim.tolerance, DIVISIONS[unit] / 2)


def credit(off: float, tolerance: float) -> float:
    """From 0 to 1 for a figure that lies ``off`` its bounds, sign aside, in the unit of ``tolerance``."""
    over = (abs(off) - ROUNDING) / tolerance
    return min(max((BEYOND - over) / (BEYOND - 1), 0.0), 1.0)
