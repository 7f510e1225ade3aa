"""Where a line turns more sharply than beside there: corners, seen through an unsteady hand.

A hand that is off by tenths of a millimetre turns at every point. So a line's way is taken over a window that is long
beside that, and how much it turns at a place is held against how much it turns a window before and after.
"""

from __future__ import annotations

import numpy as np

from tutor.geometry.cubic import Complexes, Floats

WINDOW = 18.0
"""mm of line on either side of a place that tell which way it runs."""
STEP = 2.0
"""mm between the places that are looked at."""


def evenly(points: Complexes, step: float = STEP) -> Complexes:
    """Points so many mm apart along a broken line."""
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    places = np.arange(0.0, float(along[-1]) + step / 2, step)
    result: Complexes = np.interp(places, along, points.real) + 1j * np.interp(places, along, points.imag)
    return result


def sharper_than_beside(points: Complexes) -> Floats:
    """By how many radians a line turns more than it does, in the mean, a window before and a window after.

    ``points`` are ``STEP`` apart. The first place is two windows from the start, the last as far from the end; a line
    that is hardly longer than that has none.
    """
    reach = round(WINDOW / STEP)
    if len(points) < 6 * reach:
        return np.empty(0)
    ways = points[reach:] - points[:-reach]
    turns = np.abs(np.angle(ways[reach:] / ways[:-reach]))
    result: Floats = turns[reach:-reach] - (turns[: -2 * reach] + turns[2 * reach :]) / 2
    return result


def corners(points: Complexes, sharper: float, most: int) -> Floats:
    """The mm along a broken line at which it turns by more than ``sharper`` radians more than beside, in order.

    Of places within half a window of each other there is only the sharpest, and so many of all, the sharpest ones.
    """
    excess = sharper_than_beside(evenly(points))
    reach = round(WINDOW / STEP)
    found: list[float] = []
    while len(found) < most and excess.max(initial=0.0) > sharper:
        sharpest = int(excess.argmax())
        found.append((sharpest + 2 * reach) * STEP)
        excess[max(sharpest - reach // 2, 0) : sharpest + reach // 2 + 1] = 0.0
    return np.array(sorted(found))
