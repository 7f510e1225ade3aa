"""Carrying a seam's ends to new places, its inner shape following smoothly.

Over the whole seam runs a parameter v from 0 to 1. The end gets the displacement ``shift`` by the smooth step
3 v^2 - 2 v^3, whose slope is zero at both ends, and a change of its end direction by v^3 - v^2, whose value is zero at
both ends. Both are cubics in v, and v is linear in each cubic's own t, so a chain of cubics stays a chain of cubics
with no approximation, and the tangent at the start, and at every smooth joint, stays smooth.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import Curve


def carry_end(curve: Curve, shift: complex, turn: float = 0.0) -> Curve:
    """The curve with its end moved by ``shift`` mm and its end tangent turned by ``turn`` radians; its start is kept.

    The start point and start tangent do not change; places u keep their number on the new curve.
    """
    each = spans(curve)
    last = 3 * complex(curve.controls[-1, 3] - curve.controls[-1, 2]) / float(each[-1])
    bend = last * (cmath.rect(1, turn) - 1)
    v = np.concatenate([[0.0], np.cumsum(each)])
    displacement = v * v * (shift * (3 - 2 * v) + bend * (v - 1))
    slopes = v * (shift * (6 - 6 * v) + bend * (3 * v - 2))
    return _displaced(curve, displacement, slopes, each)


def carry_start(curve: Curve, shift: complex, turn: float = 0.0) -> Curve:
    """As ``carry_end``, for the start: the end point and end tangent are kept."""
    return carry_end(curve.reversed(), shift, turn).reversed()


def shifted_along(curve: Curve, joints: Sequence[int], shifts: Sequence[complex]) -> Curve:
    """The curve with some of its joints moved by ``shifts`` mm, and all between them moved smoothly with them.

    ``joints`` number the places between cubics, increasing, from 0 to the number of cubics, which both must be among
    them. Between two of them the displacement is a cubic of the seam's own parameter that goes from one shift to the
    other without overshooting (Fritsch and Carlson 1980, slopes after Fritsch and Butland 1984), so that where the
    shifts stay the same, or grow evenly, all between does just that. Places u keep their number.
    """
    each = spans(curve)
    v = np.concatenate([[0.0], np.cumsum(each)])
    knots, values = v[list(joints)], np.array(shifts, dtype=np.complex128)
    slopes = _slopes(knots, values.real) + 1j * _slopes(knots, values.imag)
    owner = np.clip(np.searchsorted(joints, np.arange(len(curve) + 1), side="right") - 1, 0, len(joints) - 2)
    span = (knots[1:] - knots[:-1])[owner]
    s = (v - knots[owner]) / span
    a, b, m, n = values[owner], values[owner + 1], span * slopes[owner], span * slopes[owner + 1]
    rise = 3 * (b - a) - 2 * m - n
    fall = m + n - 2 * (b - a)
    return _displaced(curve, a + s * (m + s * (rise + s * fall)), (m + s * (2 * rise + 3 * s * fall)) / span, each)


def _slopes(knots: Floats, values: Floats) -> Floats:
    """The slope at each knot of a piecewise cubic that never overshoots the values given there."""
    steps = np.diff(knots)
    rises = np.diff(values) / steps
    if len(rises) == 1:
        return np.repeat(rises, 2)
    slopes = np.zeros(len(knots))
    for k in range(1, len(rises)):
        if rises[k - 1] * rises[k] > 0:
            before, after = 2 * steps[k] + steps[k - 1], steps[k] + 2 * steps[k - 1]
            mean = (before + after) * rises[k - 1] * rises[k]
            slopes[k] = mean / (before * rises[k] + after * rises[k - 1])
    slopes[0] = _end_slope(steps[0], steps[1], rises[0], rises[1])
    slopes[-1] = _end_slope(steps[-1], steps[-2], rises[-1], rises[-2])
    return slopes


def _end_slope(near: float, far: float, rise: float, next_rise: float) -> float:
    """The slope at an end: of the parabola through the three nearest values, as far as it does not overshoot."""
    slope = ((2 * near + far) * rise - near * next_rise) / (near + far)
    if slope * rise <= 0:
        return 0.0
    return 3 * rise if rise * next_rise < 0 and abs(slope) > 3 * abs(rise) else slope


def _displaced(curve: Curve, displacement: Complexes, slopes: Complexes, each: Floats) -> Curve:
    """The curve moved by what is a cubic of v over each of its cubics, given by values and slopes at all joints."""
    moved = curve.controls.copy()
    moved[:, 0] += displacement[:-1]
    moved[:, 1] += displacement[:-1] + each * slopes[:-1] / 3
    moved[:, 2] += displacement[1:] - each * slopes[1:] / 3
    moved[:, 3] += displacement[1:]
    return Curve._of(moved)


def spans(curve: Curve) -> Floats:
    """How much of v each cubic takes, in sum 1, so that v runs on smoothly wherever the seam does."""
    each = np.ones(len(curve))
    for k in range(1, len(curve)):
        before = abs(complex(curve.controls[k - 1, 3] - curve.controls[k - 1, 2]))
        after = abs(complex(curve.controls[k, 1] - curve.controls[k, 0]))
        if before > 0 and after > 0:
            ratio = after / before
        else:
            pair = cubic.polygon_lengths(curve.controls[k - 1 : k + 1])
            ratio = float(pair[1] / pair[0]) if pair[0] > 0 else 1.0
        each[k] = each[k - 1] * min(max(ratio, 1e-6), 1e6)
    result: Floats = each / each.sum()
    return result
