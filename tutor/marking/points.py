"""Marks in whole points. Nothing else is loaded for them, so that lists can show them at once."""

from __future__ import annotations

import math

ROUNDING = 1e-9
"""What working with floats may put a figure off by, in its own unit: millimetres, degrees, per cent, points."""


def out_of_100(mark: float) -> int:
    """A mark from 0 to 1 in whole points. It is never rounded up: what falls short of a pass mark is not told as it."""
    return math.floor(100 * mark + ROUNDING)


def needed_of_100(pass_mark: float) -> str:
    """A pass mark from 0 to 1 in points, with its fraction where it has one: "70", "72.5"."""
    return f"{100 * pass_mark:.6g}"
