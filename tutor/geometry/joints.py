"""Joints put into a seam: the same curve, cut into more cubics at places that something is to be done at."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from tutor.geometry.curve import Curve

NEAR = 1e-9
"""Places nearer than this, in u, are one."""


@dataclass(frozen=True, slots=True)
class Jointed:
    """A curve with a joint at every one of ``knots``, which are places of the curve as it was."""

    curve: Curve
    knots: tuple[float, ...]

    def joint(self, u: float) -> int:
        """The number of the joint that was put in at u."""
        return bisect_left(self.knots, u - NEAR)

    def place(self, u: float) -> float:
        """A place u of the curve as it was, as the place on the curve with its new joints."""
        k = min(max(bisect_right(self.knots, u) - 1, 0), len(self.knots) - 2)
        return k + min(max((u - self.knots[k]) / (self.knots[k + 1] - self.knots[k]), 0.0), 1.0)

    def with_rows(self, parts: Sequence[Curve]) -> Jointed:
        """The same joints on a curve made of ``parts``, which together have as many cubics."""
        return Jointed(Curve(np.concatenate([part.controls for part in parts])), self.knots)


def jointed(curve: Curve, places: Sequence[float]) -> Jointed:
    """The curve with a joint at each of the places; those that are joints already stay as they are."""
    knots = [float(k) for k in range(len(curve) + 1)]
    for u in places:
        k = bisect_left(knots, u - NEAR)
        if k == len(knots) or knots[k] - u > NEAR:
            knots.insert(k, u)
    parts = [curve.part(a, b).controls for a, b in pairwise(knots)]
    return Jointed(Curve(np.concatenate(parts)), tuple(knots))
