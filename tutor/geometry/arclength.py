"""Arc length of cubics to a stated tolerance.

Gauss-Legendre quadrature of the speed |B'(t)|. How far it is off is known beforehand: the speed is analytic but for
branch points at the roots of B' (and their conjugates). Where it is bounded by M inside the Bernstein ellipse of
parameter rho, its Chebyshev coefficients are at most 2 M rho^-k; the n-point rule on [-1, 1] is exact for all T_k but
those of even k from 2 n on, and misses each of them by at most 2 + 2 / (k^2 - 1). In sum the error is at most
(64/15) M rho^(-2n) / (1 - rho^-2) (L. N. Trefethen, "Approximation Theory and Approximation Practice", theorem 19.3).

So the points that a piece needs are known too: most pieces get the few, some the many, and a piece that needs more is
cut beside the root that spoils it.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
from numpy.polynomial import legendre

from tutor.geometry.cubic import Complexes, Floats

FEW, MANY = 24, 64
RELATIVE = 1e-12
ROUNDING = 1e-14
"""Shares of its control polygon: no length is farther off than the first, and none is asked to be nearer than this."""
WIDEST = 2.6
"""The widest ellipse looked at; beyond it M grows faster than it helps."""
DEEPEST = 40
"""Rounds of cutting; exact cusps, the worst there are, take up to 14."""
NEAREST_CUT = 0.03
SPECK = 1e-290
FAR = 1e9
HANDFUL = 10
"""So few cubics are reckoned one by one, which takes less time than setting up arrays."""
BLOCK = 8192
"""Points evaluated at once: more would leave the processor's cache."""


def _rule(points: int) -> tuple[Complexes, Floats]:
    """The powers 1, x, x^2 of the Gauss-Legendre points, shape (3, points), and their weights.

    numpy's own weights are off by 1e-12 near the ends; these, from the derivative at the points, by 1e-14.
    """
    x, _ = legendre.leggauss(points)
    slopes = legendre.legval(x, legendre.legder(np.eye(points + 1)[points]))
    weights = 1 / ((1 - x**2) * slopes**2)
    return np.array([np.ones(points), x, x**2], dtype=np.complex128), weights * (2 / weights.sum())


_RULES = {points: _rule(points) for points in (FEW, MANY)}


def lengths(controls: Complexes, tolerance: float = 1e-9) -> Floats:
    """Arc lengths in mm of cubics, controls (n, 4) -> (n,).

    The quadrature's error is at most ``tolerance`` mm for each cubic, and at most 1e-12 of its control polygon when
    that is less, though never held to less than 1e-14 of it; rounding adds a few parts in 1e16.
    """
    if len(controls) <= HANDFUL:
        easy = [_easy(row, tolerance) for row in controls.tolist()]
        if None not in easy:
            return np.array(easy, dtype=np.float64)
    points = np.ascontiguousarray(controls.T)
    steps = points[1:] - points[:-1]
    size = np.maximum(np.abs(steps).sum(axis=0), SPECK)
    # All in terms of the control polygon, so that no square of a length is too small or too large for a float.
    d0, d1, d2 = steps / size
    # B' as a quadratic in x, where t = (1 + x) / 2 runs over the piece: a0 + a1 x + a2 x^2, times dt / dx.
    quadratic = 0.375 * np.array([d0 + 2 * d1 + d2, 2 * (d2 - d0), d0 - 2 * d1 + d2], dtype=np.complex128)
    allowed = np.clip(tolerance / size, ROUNDING, RELATIVE)
    share = np.ones(len(controls))
    total: Floats = np.zeros(len(controls))
    owner = np.arange(len(controls))
    roots = _roots(quadratic)
    for depth in range(DEEPEST):
        # The foci are at -1 and 1: the two distances add up to the long axis of the ellipse through the root.
        axes = (np.abs(roots - 1) + np.abs(roots + 1)) / 2
        needed = _points_needed(quadratic, axes.min(axis=0), allowed[owner] * share)
        few = needed <= FEW
        _add(total, owner, quadratic, few, FEW)
        if few.all():
            break
        many = ~few & ((needed <= MANY) | (depth == DEEPEST - 1))
        _add(total, owner, quadratic, many, MANY)
        left = ~(few | many)
        if not left.any():
            break
        middle, scale = _cut(np.where(axes[0] < axes[1], roots[0], roots[1])[left])
        quadratic, roots = _moved(quadratic[:, left], roots[:, left], middle, scale)
        share, owner = np.concatenate([share[left]] * 2) * scale, np.concatenate([owner[left]] * 2)
    total *= size
    return total


def _easy(row: list[complex], tolerance: float) -> float | None:
    """The length of one cubic that the few points are enough for, else None: the same reckoning in plain numbers."""
    d0, d1, d2 = row[1] - row[0], row[2] - row[1], row[3] - row[2]
    size = abs(d0) + abs(d1) + abs(d2)
    if not SPECK < size < 1 / SPECK:
        return None
    a0, a1, a2 = ((0.375 / size) * a for a in (d0 + 2 * d1 + d2, 2 * (d2 - d0), d0 - 2 * d1 + d2))
    spread = cmath.sqrt(a1 * a1 - 4 * a0 * a2)
    q = -(a1 + (-spread if (a1.conjugate() * spread).real < 0 else spread)) / 2
    axis = WIDEST
    for top, bottom in ((q, a2), (a0, q)):
        if abs(top) < FAR * abs(bottom):
            root = top / bottom
            axis = min(axis, (abs(root - 1) + abs(root + 1)) / 2)
    if axis <= 1:
        return None
    rho = axis + math.sqrt(axis * axis - 1)
    largest = abs(a0) + axis * (abs(a1) + axis * abs(a2))
    allowed = min(max(tolerance / size, ROUNDING), RELATIVE)
    if 64 / 15 * largest > allowed * (1 - 1 / (rho * rho)) * rho ** (2 * FEW):
        return None
    powers, weights = _RULES[FEW]
    return float(np.abs(np.array([a0, a1, a2]) @ powers) @ weights) * size


def _roots(quadratic: Complexes) -> Complexes:
    """Both roots of a0 + a1 x + a2 x^2, shape (2, n); a far place where there is none."""
    a0, a1, a2 = quadratic
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        spread = np.sqrt(a1 * a1 - 4 * a0 * a2)
        q = -(a1 + np.where((a1.conj() * spread).real < 0, -spread, spread)) / 2
        roots = np.array([q / a2, a0 / q], dtype=np.complex128)
        return np.where(np.abs(roots) < FAR, roots, FAR)


def _points_needed(quadratic: Complexes, nearest: Floats, allowed: Floats) -> Floats:
    """How many points bring the error of each piece under what is allowed.

    ``nearest`` is half the long axis of the largest ellipse, with foci -1 and 1, that holds no root.
    """
    axis = np.minimum(nearest, WIDEST)
    rho = axis + np.sqrt(np.maximum(axis * axis - 1, 0))
    sizes = np.abs(quadratic)
    largest = sizes[0] + axis * (sizes[1] + axis * sizes[2])
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = np.log(64 / 15 * largest / (allowed * (1 - 1 / (rho * rho)))) / (2 * np.log(rho))
    # Nothing on a piece can be off by more than twice the piece itself.
    return np.where(4 * sizes.sum(axis=0) <= allowed, 0, needed)


def _add(total: Floats, owner: np.ndarray, quadratic: Complexes, chosen: np.ndarray, points: int) -> None:
    """Adds the lengths of the chosen pieces to their owners' totals."""
    if not chosen.all():
        owner, quadratic = owner[chosen], quadratic[:, chosen]
    if not len(owner):
        return
    powers, weights = _RULES[points]
    rows, step = quadratic.T, BLOCK // points
    blocks = [np.abs(rows[k : k + step] @ powers) @ weights for k in range(0, len(rows), step)]
    total += np.bincount(owner, np.concatenate(blocks), len(total))


def _cut(root: Complexes) -> tuple[Floats, Floats]:
    """Middle and half length, in x, of both parts of a piece cut so that the root spoils each part less.

    The cut is at the root's real part; or when that is no place inside, as far from the end nearest to the root that
    the root is far from the one part and large against the other.
    """
    end = np.where(root.real < 0, -1.0, 1.0)
    beside = np.clip(np.sqrt(np.abs(root - end)), NEAREST_CUT, 1)
    cut = np.where(np.abs(root.real) < 0.999, root.real, end * (1 - beside))
    return np.concatenate([cut - 1, cut + 1]) / 2, np.concatenate([1 + cut, 1 - cut]) / 2


def _moved(quadratic: Complexes, roots: Complexes, middle: Floats, scale: Floats) -> tuple[Complexes, Complexes]:
    """The quadratics and roots of both parts of every cut piece, each again over x in [-1, 1]."""
    a0, a1, a2 = np.concatenate([quadratic, quadratic], axis=1)
    parts = np.array(
        [a0 + middle * (a1 + middle * a2), scale * (a1 + 2 * a2 * middle), scale**2 * a2], dtype=np.complex128
    )
    parts *= scale
    seen = np.concatenate([roots, roots], axis=1)
    seen -= middle
    seen /= scale
    return parts, seen
