"""Cubic Beziers as rows of four complex control points, millimetres, y up.

Every function takes controls of shape (..., 4) and works on all rows at once.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]


def line(start: complex, end: complex) -> Complexes:
    """The straight cubic from start to end, shape (4,), its controls at thirds so that t is the fraction gone."""
    step = (end - start) / 3
    return np.array([start, start + step, end - step, end], dtype=np.complex128)


def points(controls: Complexes, t: float | Floats) -> Complexes:
    """Points at t in [0, 1]; t broadcasts against the rows, shape (...)."""
    c0, c1, c2, c3 = (controls[..., k] for k in range(4))
    s = 1 - t
    result: Complexes = s * s * (s * c0 + 3 * t * c1) + t * t * (3 * s * c2 + t * c3)
    return result


def derivatives(controls: Complexes, t: float | Floats) -> Complexes:
    """First derivatives by t, mm per unit of t, shape (...)."""
    d0, d1, d2 = (3 * (controls[..., k + 1] - controls[..., k]) for k in range(3))
    s = 1 - t
    result: Complexes = s * (s * d0 + 2 * t * d1) + t * t * d2
    return result


def split(controls: Complexes, t: float) -> tuple[Complexes, Complexes]:
    """One cubic, shape (4,), cut at t by de Casteljau's construction; both halves lie on the original exactly."""
    c0, c1, c2, c3 = controls.tolist()
    a, b, c = c0 + t * (c1 - c0), c1 + t * (c2 - c1), c2 + t * (c3 - c2)
    d, e = a + t * (b - a), b + t * (c - b)
    middle = d + t * (e - d)
    return np.array([c0, a, d, middle]), np.array([middle, e, c, c3])


def polygon_lengths(controls: Complexes) -> Floats:
    """Lengths of the control polygons in mm, upper bounds of the arc lengths, shape (...)."""
    result: Floats = np.abs(np.diff(controls, axis=-1)).sum(axis=-1)
    return result
