"""Arc length of cubics to a stated tolerance.

Gauss-Legendre quadrature of the speed |B'(t)|. How far it is off is known beforehand: the speed is analytic but for
branch points at the roots of B' (and their conjugates), and for a function bounded by M inside the Bernstein ellipse
of parameter rho the n-point rule on [-1, 1] errs by at most (64/15) M rho^(-2n) / (1 - rho^-2)
(L. N. Trefethen, "Approximation Theory and Approximation Practice", theorem 19.3, from memory). A piece whose bound is
too large is cut, at the real part of the root that spoils it or in half, so a cusp only costs a few more pieces.
"""

from __future__ import annotations

import numpy as np

from tutor.geometry.cubic import Complexes, Floats, polygon_lengths

NODES = 24
RELATIVE = 1e-12
WIDEST = 2.6
DEEPEST = 80
BLOCK = 256
"""Rows integrated at once: more would leave the processor's cache."""
_GAUSS_X, _GAUSS_W = np.polynomial.legendre.leggauss(NODES)
_POWERS = np.array([np.ones(NODES), _GAUSS_X, _GAUSS_X**2], dtype=np.complex128)


def lengths(controls: Complexes, tolerance: float = 1e-9) -> Floats:
    """Arc lengths in mm of cubics, controls (n, 4) -> (n,).

    The quadrature's error is at most ``tolerance`` mm for each cubic, and at most 1e-12 of its control polygon when
    that is less; rounding adds a few parts in 1e16 of the length.
    """
    differences = 3 * np.diff(controls, axis=1)
    d0, d1, d2 = differences.T
    # B' as a quadratic in x, where t = (1 + x) / 2 runs over the piece: a0 + a1 x + a2 x^2.
    a0, a1, a2 = (d0 + 2 * d1 + d2) / 4, (d2 - d0) / 2, (d0 - 2 * d1 + d2) / 4
    allowed = np.minimum(tolerance, RELATIVE * polygon_lengths(controls))
    total = np.zeros(len(controls))
    owner = np.arange(len(controls))
    half = np.full(len(controls), 0.5)
    for depth in range(DEEPEST):
        bound, root = _bound(a0, a1, a2, half)
        done = (bound <= allowed[owner] * half) | (depth == DEEPEST - 1)
        if done.all():
            _add(total, owner, a0, a1, a2, half)
            break
        if done.any():
            _add(total, owner[done], a0[done], a1[done], a2[done], half[done])
        keep = ~done
        owner, half, cut = owner[keep], half[keep], _cut(root[keep])
        a0, a1, a2 = _halves(a0[keep], a1[keep], a2[keep], cut)
        half = np.concatenate([half * (1 + cut) / 2, half * (1 - cut) / 2])
        owner = np.concatenate([owner, owner])
    return total


def _add(total: Floats, owner: np.ndarray, a0: Complexes, a1: Complexes, a2: Complexes, half: Floats) -> None:
    powers = np.stack([a0, a1, a2], axis=1)
    blocks = [np.abs(powers[k : k + BLOCK] @ _POWERS) @ _GAUSS_W for k in range(0, len(powers), BLOCK)]
    total += np.bincount(owner, half * np.concatenate(blocks), len(total))


def _bound(a0: Complexes, a1: Complexes, a2: Complexes, half: Floats) -> tuple[Floats, Complexes]:
    """Upper bounds of the error of each piece in mm, and the root of B' that spoils it most, in x."""
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = np.sqrt(a1 * a1 - 4 * a0 * a2)
        q = -(a1 + np.where((a1.conj() * spread).real < 0, -spread, spread)) / 2
        roots = np.stack([q / a2, a0 / q])
    # The foci are at -1 and 1: the two distances add up to rho + 1 / rho on the ellipse through the root.
    axes = (np.abs(roots - 1) + np.abs(roots + 1)) / 2
    first = ~(axes[0] > axes[1])
    root = np.where(first, roots[0], roots[1])
    widest = np.fmin(np.fmin(axes[0], axes[1]), WIDEST)
    rho = widest + np.sqrt(np.maximum(widest * widest - 1, 0))
    sizes = np.abs(np.stack([a0, a1, a2]))
    largest = sizes[0] + sizes[1] * widest + sizes[2] * widest**2
    with np.errstate(divide="ignore"):
        quadrature = 64 / 15 * largest * rho ** (-2 * NODES) / (1 - rho**-2.0)
    # Nothing on a piece can be off by more than twice the piece itself.
    outright = 4 * sizes.sum(axis=0)
    return half * np.minimum(quadrature, outright), root


def _cut(root: Complexes) -> Floats:
    """Where to cut a piece, in x: at the root that spoils it if that is well inside, else in half."""
    inside = (np.abs(root.real) < 0.8) & (np.abs(root.imag) < 0.3) & (np.abs(root.real) > 1e-3)
    return np.where(inside, root.real, 0.0)


def _halves(a0: Complexes, a1: Complexes, a2: Complexes, cut: Floats) -> tuple[Complexes, Complexes, Complexes]:
    """The quadratics of both sides of the cut, each again over x in [-1, 1]."""
    middle = np.concatenate([(cut - 1) / 2, (cut + 1) / 2])
    scale = np.concatenate([(1 + cut) / 2, (1 - cut) / 2])
    a0, a1, a2 = (np.concatenate([a, a]) for a in (a0, a1, a2))
    return a0 + a1 * middle + a2 * middle**2, (a1 + 2 * a2 * middle) * scale, a2 * scale**2
