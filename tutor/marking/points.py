"""Marks in whole points. Nothing else is loaded for them, so that lists can show them at once."""

from __future__ import annotations

import math

ROUNDING = 1e-9
"""What working with floats may put a figure off by, in its own unit: millimetres, degrees, per cent, points."""


def out_of_100(mark: float) -> int:
    """A mark from 0 to 1 in whole points. It is never rounded up: what falls short of a pass mark is not told as it."""
    return math.floor(100 * mark + ROUNDING)
