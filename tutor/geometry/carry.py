"""Carrying a seam's ends to new places, its inner shape following smoothly.

Over the whole seam runs a parameter v from 0 to 1. The end gets the displacement ``shift`` by the smooth step
3 v^2 - 2 v^3, whose slope is zero at both ends, and a change of its end direction by v^3 - v^2, whose value is zero at
both ends. Both are cubics in v, and v is linear in each cubic's own t, so a chain of cubics stays a chain of cubics
with no approximation, and the tangent at the start, and at every smooth joint, stays smooth.
"""

from __future__ import annotations

import cmath

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Floats
from tutor.geometry.curve import Curve


def carry_end(curve: Curve, shift: complex, turn: float = 0.0) -> Curve:
    """The curve with its end moved by ``shift`` mm and its end tangent turned by ``turn`` radians; its start is kept.

    The start point and start tangent do not change; places u keep their number on the new curve.
    """
    spans = _spans(curve)
    last = 3 * complex(curve.controls[-1, 3] - curve.controls[-1, 2]) / float(spans[-1])
    bend = last * (cmath.rect(1, turn) - 1)
    v = np.concatenate([[0.0], np.cumsum(spans)])
    displacement = v * v * (shift * (3 - 2 * v) + bend * (v - 1))
    third = v * (shift * (6 - 6 * v) + bend * (3 * v - 2)) / 3
    moved = curve.controls.copy()
    moved[:, 0] += displacement[:-1]
    moved[:, 1] += displacement[:-1] + spans * third[:-1]
    moved[:, 2] += displacement[1:] - spans * third[1:]
    moved[:, 3] += displacement[1:]
    return Curve._of(moved)


def carry_start(curve: Curve, shift: complex, turn: float = 0.0) -> Curve:
    """As ``carry_end``, for the start: the end point and end tangent are kept."""
    return carry_end(curve.reversed(), shift, turn).reversed()


def _spans(curve: Curve) -> Floats:
    """How much of v each cubic takes, in sum 1, so that v runs on smoothly wherever the seam does."""
    spans = np.ones(len(curve))
    for k in range(1, len(curve)):
        before = abs(complex(curve.controls[k - 1, 3] - curve.controls[k - 1, 2]))
        after = abs(complex(curve.controls[k, 1] - curve.controls[k, 0]))
        if before > 0 and after > 0:
            ratio = after / before
        else:
            pair = cubic.polygon_lengths(curve.controls[k - 1 : k + 1])
            ratio = float(pair[1] / pair[0]) if pair[0] > 0 else 1.0
        spans[k] = spans[k - 1] * min(max(ratio, 1e-6), 1e6)
    result: Floats = spans / spans.sum()
    return result
