"""Seams drawn one by one, in any direction, put end to end.

Lines drawn by hand or rounded by an editor miss each other by a little: ends within ``MEET`` are one point. Both ends
go to the middle of their gap, each taking its own handle along, so that the seam's direction there is kept; a straight
line stays straight.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve

MEET = 0.5
"""Ends at most this far apart, in mm, are one point."""
SPECK = 1e-9
"""A cubic whose control polygon is no longer than this, in mm, draws nothing and is left out."""


class Apart(Exception):
    """Two lines that should meet don't: which two, and the gap between them in mm."""

    def __init__(self, first: int, second: int, gap: float) -> None:
        self.first = first
        self.second = second
        self.gap = gap
        super().__init__(first, second, gap)


def without_specks(controls: Complexes) -> Complexes:
    """The cubics that are longer than nothing, still end to end, shape (n, 4); n may be 0."""
    kept = controls[cubic.polygon_lengths(controls) > SPECK]
    if len(kept) < len(controls):
        kept = kept.copy()
        kept[1:, 0] = kept[:-1, 3]
    return kept


Corner = Callable[[Curve, Curve], complex]
"""Where one curve's end and another's start meet."""


def middle(first: Curve, second: Curve) -> complex:
    """The middle between one curve's end and another's start."""
    return (first.end + second.start) / 2


def chained(curves: Sequence[Curve], meet: float = MEET) -> Curve:
    """Lines in any order and direction as one, starting with the first as it is drawn.

    Raises Apart when an end that is left over is farther than ``meet`` mm from every other.
    """
    whole = curves[0]
    rest = list(enumerate(curves))[1:]
    while rest:
        gap, after, turned, at = min(
            (gap, after, turned, at) for at, (_, curve) in enumerate(rest) for gap, after, turned in _gaps(whole, curve)
        )
        index, curve = rest.pop(at)
        if gap > meet:
            raise Apart(0, index, gap)
        curve = curve.reversed() if turned else curve
        first, second = (whole, curve) if after else (curve, whole)
        whole = Curve.join(closed_gap(first, second))
    return whole


def _gaps(whole: Curve, curve: Curve) -> list[tuple[float, bool, bool]]:
    """The gap when a curve is set after (True) or before a whole, turned round (True) or not."""
    return [
        (abs(whole.end - curve.start), True, False),
        (abs(whole.end - curve.end), True, True),
        (abs(whole.start - curve.end), False, False),
        (abs(whole.start - curve.start), False, True),
    ]


def ring(curves: Sequence[Curve], meet: float = MEET, corner: Corner = middle) -> list[Curve]:
    """Curves in the order of a ring, each turned to run on from the one before, and their gaps closed at ``corner``.

    Each way of turning them is tried, and the one with the least sum of gaps is taken. Raises Apart for the widest gap
    that is wider than ``meet`` mm.
    """
    ends = [(curve.start, curve.end) for curve in curves]
    following = [*range(1, len(curves)), 0]

    def gaps(turns: tuple[int, ...]) -> list[float]:
        return [abs(ends[k][1 - turns[k]] - ends[n][turns[n]]) for k, n in enumerate(following)]

    best = min(product((0, 1), repeat=len(curves)), key=lambda turns: sum(gaps(turns)))
    gap, widest = max((gap, k) for k, gap in enumerate(gaps(best)))
    if gap > meet:
        raise Apart(widest, following[widest], gap)
    turned = [curve.reversed() if turn else curve for curve, turn in zip(curves, best, strict=True)]
    for k, n in enumerate(following):
        turned[k], turned[n] = closed_gap(turned[k], turned[n], corner)
    return turned


def closed_gap(first: Curve, second: Curve, corner: Corner = middle) -> tuple[Curve, Curve]:
    """Two curves, the end of one and the start of the next both moved to where they meet."""
    if first.end == second.start:
        return first, second
    at = corner(first, second)
    return with_end(first, at), with_start(second, at)


def with_end(curve: Curve, end: complex) -> Curve:
    """The curve with its last cubic carried to a new end, whose handle goes along; straight stays straight."""
    controls = curve.controls.copy()
    start, second, third, last = (complex(point) for point in controls[-1])
    straight = np.abs(controls[-1] - cubic.line(start, last)).max() <= SPECK
    controls[-1] = cubic.line(start, end) if straight else [start, second, third + (end - last), end]
    return Curve(controls)


def with_start(curve: Curve, start: complex) -> Curve:
    """As ``with_end``, for the start."""
    return with_end(curve.reversed(), start).reversed()
