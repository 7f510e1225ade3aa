"""The cut line: the sleeve's outline with seam allowance round it."""

from __future__ import annotations

import math

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.geometry.region import Region
from tutor.pattern.sleeve import Sleeve

SHARPEST = 2.5
"""Radians that a corner may turn before its mitre is cut off."""


def cut_line(sleeve: Sleeve, allowance: float, tolerance: float = 0.02) -> Complexes:
    """A ring of points ``allowance`` mm outside the seams, corners mitred, shape (n,), first not repeated.

    Its points lie on the parallel of the seams within ``tolerance`` mm, and where the parallel of a hollow crosses
    itself the loop is cut off at points on it.
    """
    outline = Curve(np.concatenate([curve.controls for curve in sleeve.curves()]))
    parallel = np.concatenate([_beside(outline, k, allowance, tolerance) for k in range(len(outline))])
    parallel = parallel[np.abs(parallel - np.roll(parallel, 1)) > tolerance]
    region = Region(outline.flatten(tolerance / 2)[:-1])
    result: Complexes = parallel[region.distances_outside(parallel) > allowance - tolerance]
    return result


def _beside(outline: Curve, k: int, allowance: float, tolerance: float) -> Complexes:
    """The parallel of one cubic of a clockwise outline, on its left, and the mitre at its end."""
    row = outline.controls[k]
    ends = outline.tangent(float(k)), outline.tangent(float(k + 1), arriving=True)
    bend = float(np.abs(np.diff(row, n=2)).max())
    t = np.linspace(0, 1, max(math.ceil(math.sqrt(0.75 * bend / tolerance)), 1) + 1)
    slopes = cubic.derivatives(row, t)
    slopes[0], slopes[-1] = ends
    clear = np.abs(slopes) > 0
    slopes = slopes[clear] / np.abs(slopes[clear])
    points = cubic.points(row, t)[clear] + 1j * allowance * slopes
    turn = outline.tangent(float(k + 1) if k + 1 < len(outline) else 0.0) / ends[1]
    angle = math.atan2(turn.imag, turn.real)
    if not -SHARPEST < angle < -1e-6:
        return points
    half = complex(math.cos(angle / 2), math.sin(angle / 2))
    mitre = complex(row[3]) + 1j * ends[1] * half * allowance / half.real
    return np.append(points, mitre)
