"""A seam that was traced, drawn by hand or rounded, redrawn as a smooth chain of cubics through the middle of it.

What is sought is the line of a simple kind whose distance from the drawn one is least in squares: a cubic spline of
equal spans; or, beside a line of much the same shape, the difference from that one, which may be simpler still: none,
even, bent once, or a spline. Where the line turns sharply it may have a corner. The simplest is taken that comes near
enough: more must bring the line so much nearer that it follows its shape, and not the unsteadiness of a hand.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import Curve
from tutor.geometry.sharp_turns import corners

SPANS = (400.0, 200.0, 100.0, 60.0, 40.0, 25.0, 15.0, 10.0)
"""mm of a span, the longest first."""
BENDS = 6
"""How many places a difference that is bent once is tried to be bent at."""
ENOUGH = 0.01
"""mm; a line that is as near as this, in the root of the mean square, needs no more."""
STEP = 2.0
"""mm between the places of a curved stretch that are looked at."""
TRACED = 20.0
"""mm; of a straight stretch up to this long only the ends are looked at, as of points that were traced."""
STRAIGHT = 2e-3
FEW = 5
"""A line of no more cubics than these is drawn and not traced, and stays as it is."""
ROUGH = math.radians(0.5)
"""A line whose joints turn by less than this, half of them at least, is smooth as it is."""
MOST_PLACES = 1000
MOST_SPANS = 80
"""Of a line that is longer than any seam: its spans are then longer too, so that no line takes long."""
FINE = 0.005
EVENLY = 2001
SHARP = math.radians(12.0)
"""Where a line turns by so much more than beside, it is tried with a corner."""
MOST_CORNERS = 4
DENSE = 20.0
"""mm of each cubic of a line that is made of another and its difference."""

Basis = Callable[[Floats], Floats]
"""Functions of the share of a line, 0 to 1, whose sums are one kind of line: shape (shares, functions)."""


@dataclass(frozen=True, slots=True, eq=False)
class _Fit:
    """The sum of functions that lies nearest to points, and the mean square by which it misses them."""

    basis: Basis
    weights: Complexes
    square: float
    corners: Floats
    """Shares at which it has a corner."""

    def at(self, shares: Floats) -> Complexes:
        found: Complexes = self.basis(shares) @ self.weights
        return found


def is_rough(curve: Curve) -> bool:
    """Whether a line is drawn in many stretches that turn at their joints, as traced ones do."""
    if len(curve) <= FEW:
        return False
    return float(np.median(np.abs(curve.turns_at_joints()))) > ROUGH


def smoothed(curve: Curve, like: Curve | None = None) -> Curve:
    """The curve itself, or where it is rough a smooth one through the middle of it.

    ``like`` is a line of much the same shape, walked either way: then it is the difference from that line which is
    kept simple, and as it has less shape of its own than the line has, less of the hand's unsteadiness is left in it.
    """
    if not is_rough(curve):
        return curve
    points = _places(curve)
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    length, shares = float(along[-1]), along / along[-1]
    sharp = corners(points, SHARP, MOST_CORNERS) / length
    if like is None:
        fit = _simplest(points, shares, list(_splines(length, len(points))), sharp)
        return _as_cubics(fit.at, length, fit.corners)
    guess = _laid(like, points, shares)
    kinds = [*_simple_kinds(), *_splines(length, len(points))]
    difference = _simplest(points - _between(guess, shares), shares, kinds, sharp)
    return _as_cubics(lambda at: _between(guess, at) + difference.at(at), length, difference.corners)


def _simplest(points: Complexes, shares: Floats, kinds: Sequence[Basis], sharp: Floats) -> _Fit:
    """The fit of the kind that Schwarz's criterion (Annals of Statistics, 1978) prefers.

    ``sharp`` are the shares at which the line may have corners, all or none of them.
    """
    best: tuple[float, _Fit] | None = None
    none = np.empty(0)
    for basis, at in itertools.product(kinds, [none, sharp] if len(sharp) else [none]):
        fit = _fitted(points, shares, basis, at)
        worth = len(points) * math.log(max(fit.square, ENOUGH**2)) + len(fit.weights) * math.log(2 * len(points))
        if best is None or worth < best[0]:
            best = worth, fit
        if fit.square <= ENOUGH**2:
            break
    assert best is not None
    return best[1]


def _fitted(points: Complexes, shares: Floats, smooth: Basis, sharp: Floats) -> _Fit:
    basis = partial(_cornered, smooth=smooth, at=sharp) if len(sharp) else smooth
    rows = basis(shares)
    # The least of ridges keeps functions that no point tells of from flying off.
    square = rows.T @ rows + 1e-9 * np.eye(rows.shape[1])
    x, y = np.linalg.solve(square, rows.T @ np.stack([points.real, points.imag], axis=1)).T
    weights = x + 1j * y
    return _Fit(basis, weights, float(np.mean(np.abs(rows @ weights - points) ** 2)), sharp)


def _simple_kinds() -> Iterator[Basis]:
    """A shift, a shift and a stretch or turn, and the same bent at one place or another."""
    yield from (partial(_powers, count=count) for count in (1, 2, 3))
    yield from (partial(_bent, at=at) for at in np.linspace(0, 1, BENDS + 2)[1:-1])


def _powers(shares: Floats, count: int) -> Floats:
    return np.stack([shares**k for k in range(count)], axis=1)


def _bent(shares: Floats, at: float) -> Floats:
    return np.stack([np.ones_like(shares), shares, np.maximum(shares - at, 0.0)], axis=1)


def _cornered(shares: Floats, smooth: Basis, at: Floats) -> Floats:
    """The functions of a smooth kind, and for each corner one that is bent there."""
    return np.concatenate([smooth(shares), np.maximum(shares[:, None] - at, 0.0)], axis=1)


def _splines(length: float, points: int) -> Iterator[Basis]:
    """Cubic splines of fewer and more spans, as many as so many points can tell."""
    counts = dict.fromkeys(min(max(round(length / span), 1), MOST_SPANS) for span in SPANS)
    yield from (partial(_spline, count=count) for count in counts if count == 1 or count <= (points - 3) // 2)


def _spline(shares: Floats, count: int) -> Floats:
    """The uniform cubic B-splines of so many spans: shape (shares, count + 3)."""
    u = shares * count
    k = np.minimum(u.astype(int), count - 1)
    t = u - k
    s = 1 - t
    values = np.stack([s**3, 3 * t**3 - 6 * t**2 + 4, 3 * s**3 - 6 * s**2 + 4, t**3], axis=1) / 6
    rows = np.zeros((len(u), count + 3))
    rows[np.arange(len(u))[:, None], k[:, None] + np.arange(4)] = values
    return rows


def _places(curve: Curve) -> Complexes:
    """Places of a line: the joints of short straight stretches, and points of long or curved ones."""
    rows = curve.controls
    sizes = cubic.polygon_lengths(rows)
    bends = np.abs(np.diff(rows, n=2, axis=1)).max(axis=1)
    step = np.maximum(np.where(bends < STRAIGHT, TRACED, STEP), float(sizes.sum()) / MOST_PLACES)
    counts = np.maximum(np.ceil(sizes / step - 1e-9).astype(int), 1)
    owner = np.repeat(np.arange(len(curve)), counts)
    ends = np.cumsum(counts)
    t = (np.arange(ends[-1]) - (ends - counts)[owner]) / counts[owner]
    points = np.append(cubic.points(rows[owner], t), curve.end)
    if len(points) <= 2 * MOST_PLACES:
        return points
    chosen: Complexes = points[np.linspace(0, len(points) - 1, 2 * MOST_PLACES).round().astype(int)]
    return chosen


def _laid(like: Curve, points: Complexes, shares: Floats) -> Complexes:
    """A line laid on points as well as a rigid move does it, as many points evenly along it."""
    fine = like.flatten(FINE)
    far = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(fine)))])
    evenly = _between(fine, np.linspace(0, 1, EVENLY), far / far[-1])
    ways = [_moved(way, _between(way, shares), points) for way in (evenly, evenly[::-1])]
    return min(ways, key=lambda way: float(np.abs(_between(way, shares) - points).sum()))


def _moved(line: Complexes, own: Complexes, others: Complexes) -> Complexes:
    """A line after the rigid move that lays points of its own on others, one by one, with the least sum of squares."""
    here, there = own.mean(), others.mean()
    turn = complex(np.vdot(own - here, others - there))
    found: Complexes = there + (line - here) * (turn / abs(turn) if abs(turn) > 1e-12 else 1.0)
    return found


def _between(line: Complexes, shares: Floats, of: Floats | None = None) -> Complexes:
    """Points at shares of a line, whose own points lie at the shares ``of``, or evenly."""
    there = np.linspace(0, 1, len(line)) if of is None else of
    found: Complexes = np.interp(shares, there, line.real) + 1j * np.interp(shares, there, line.imag)
    return found


def _as_cubics(at: Callable[[Floats], Complexes], length: float, sharp: Floats) -> Curve:
    """A line, known at each share of it, as a chain of cubics that is smooth but for its corners."""
    stops = [0.0, *sharp.tolist(), 1.0]
    rows = np.concatenate([_chain(at, length, *ends) for ends in itertools.pairwise(stops)])
    rows[1:, 0] = rows[:-1, 3]
    return Curve(rows)


def _chain(at: Callable[[Floats], Complexes], length: float, start: float, end: float) -> Complexes:
    """The cubics of a smooth stretch between two shares of a line, shape (cubics, 4)."""
    count = min(max(round(length * (end - start) / DENSE), 1), MOST_SPANS)
    shares = np.linspace(0.0, 1.0, 6 * count + 1)
    weights = _fitted(at(start + shares * (end - start)), shares, partial(_spline, count=count), np.empty(0)).weights
    a, b, c, d = (weights[j : len(weights) - 3 + j] for j in range(4))
    found: Complexes = np.stack([(a + 4 * b + c) / 6, (2 * b + c) / 3, (b + 2 * c) / 3, (b + 4 * c + d) / 6], axis=1)
    found[1:, 0] = found[:-1, 3]
    return found
