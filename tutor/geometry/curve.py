"""A seam as a chain of cubics, kept exact.

A place on a chain of n cubics is a number u in [0, n]: its whole part is the cubic, its fraction the cubic's own t.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.arclength import lengths
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.move import Move

JOIN = 1e-6
"""Ends nearer than this, in mm, are one point when curves are joined."""
SAMPLES = 24
DIPS = 4
"""The nearest place is looked for at so many of the samples nearer than their neighbours."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A chain of cubics: ``controls`` has shape (n, 4), complex mm, n at least 1, each row from where the last ended.

    Raises ValueError when the shape is wrong, a number is not finite, or the rows do not meet within 1e-6 mm.
    """

    controls: Complexes

    def __post_init__(self) -> None:
        controls = np.array(self.controls, dtype=np.complex128)
        if controls.ndim != 2 or controls.shape[1] != 4 or not len(controls):
            raise ValueError(f"a curve needs controls of shape (n, 4), not {controls.shape}")
        if not np.isfinite(controls).all():
            raise ValueError("a curve needs finite control points")
        if (np.abs(controls[1:, 0] - controls[:-1, 3]) > JOIN).any():
            raise ValueError("the cubics of a curve must meet end to start")
        controls[1:, 0] = controls[:-1, 3]
        controls.flags.writeable = False
        object.__setattr__(self, "controls", controls)

    @classmethod
    def _of(cls, controls: Complexes) -> Curve:
        """A curve of rows that are known to be sound: they come from a curve by exact steps."""
        controls.flags.writeable = False
        curve = object.__new__(cls)
        object.__setattr__(curve, "controls", controls)
        return curve

    @classmethod
    def line(cls, *corners: complex) -> Curve:
        """The straight lines through two or more corners."""
        return cls(np.array([cubic.line(a, b) for a, b in itertools.pairwise(corners)]))

    @classmethod
    def bezier(cls, c0: complex, c1: complex, c2: complex, c3: complex) -> Curve:
        """One cubic."""
        return cls(np.array([[c0, c1, c2, c3]]))

    @classmethod
    def join(cls, curves: Iterable[Curve]) -> Curve:
        """Curves end to start as one chain. Raises ValueError if two do not meet within 1e-6 mm."""
        return cls(np.concatenate([curve.controls for curve in curves]))

    def __len__(self) -> int:
        return len(self.controls)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Curve) and np.array_equal(self.controls, other.controls)

    def __hash__(self) -> int:
        return hash(self.controls.tobytes())

    @property
    def start(self) -> complex:
        """Where the first cubic starts."""
        return complex(self.controls[0, 0])

    @property
    def end(self) -> complex:
        """Where the last cubic ends."""
        return complex(self.controls[-1, 3])

    def _place(self, u: float) -> tuple[int, float]:
        k = min(max(int(u), 0), len(self) - 1)
        return k, min(max(u - k, 0.0), 1.0)

    def point(self, u: float) -> complex:
        """The point at u."""
        k, t = self._place(u)
        # As ``cubic.points``, but in plain numbers, which for a single point takes a fifth of the time.
        c0, c1, c2, c3 = self.controls[k].tolist()
        s = 1 - t
        return complex(s * s * (s * c0 + 3 * t * c1) + t * t * (3 * s * c2 + t * c3))

    def tangent(self, u: float, *, arriving: bool = False) -> complex:
        """Unit tangent at u; at a joint of two cubics the leaving one, or the arriving one if asked.

        Where handles of length zero hide the tangent it is taken from the next control point that differs; a curve
        shrunk to a point answers 1.
        """
        k, t = self._place(u)
        if arriving and t == 0 and k > 0:
            k, t = k - 1, 1.0
        controls = self.controls[k]
        if 0 < t < 1:
            first, second = cubic.split(controls, t)
            controls = first if arriving else second
            t = 1.0 if arriving else 0.0
        near, handle, far, end = controls.tolist() if t == 0 else controls[::-1].tolist()
        ray = (handle - near) if t == 0 else (near - handle)
        if abs(ray) > 1e-9 * max(abs(far - near), abs(end - near), 1e-12):
            return complex(ray / abs(ray))
        # A handle too short to carry a direction: the next control point that differs shows it.
        rays = controls[1:] - controls[0] if t == 0 else controls[3] - controls[2::-1]
        sizes = np.abs(rays)
        clear = np.flatnonzero(sizes > 1e-9 * max(float(sizes.max()), 1e-12))
        return complex(rays[clear[0]] / sizes[clear[0]]) if len(clear) else 1 + 0j

    def lengths(self, tolerance: float = 1e-9) -> Floats:
        """Arc length in mm of each cubic, shape (n,), error at most ``tolerance`` mm each."""
        return lengths(self.controls, tolerance)

    def length(self, tolerance: float = 1e-9) -> float:
        """Arc length in mm, error at most ``tolerance`` mm."""
        return float(self.lengths(tolerance / len(self)).sum())

    def reversed(self) -> Curve:
        """The same seam walked the other way; u becomes n - u."""
        return Curve._of(self.controls[::-1, ::-1].copy())

    def moved(self, move: Move) -> Curve:
        """The curve after a rigid move."""
        return Curve._of(move(self.controls))

    def mirrored(self) -> Curve:
        """Mirrored about the y axis, walked the same way (its start stays its start)."""
        return Curve._of(0 - self.controls.conj())

    def scaled(self, factor: float) -> Curve:
        """Scaled about the origin."""
        return Curve(self.controls * factor)

    def part(self, start: float, end: float) -> Curve:
        """The piece from u = start to u = end, exactly on this curve. Raises ValueError unless start < end."""
        if not start < end:
            raise ValueError("a part of a curve needs start < end")
        (first, t0), (last, t1) = self._place(start), self._place(end)
        if t1 == 0 and last > first:
            last, t1 = last - 1, 1.0
        if t0 == 1 and first < last:
            first, t0 = first + 1, 0.0
        rows = self.controls[first : last + 1].copy()
        if t1 < 1:
            rows[-1] = cubic.split(rows[-1], t1)[0]
        if t0 > 0:
            rows[0] = cubic.split(rows[0], t0 / t1 if first == last else t0)[1]
        return Curve._of(rows)

    def cut(self, places: Sequence[float]) -> list[Curve]:
        """The pieces between increasing inner places; no places give the curve itself."""
        bounds = [0.0, *places, float(len(self))]
        return [self.part(a, b) for a, b in itertools.pairwise(bounds)]

    def within_part(self, u: float, start: float, end: float) -> float:
        """The place on ``part(start, end)`` that is u here; u must lie between start and end."""
        (first, t0), (last, t1) = self._place(start), self._place(end)
        k, t = self._place(u)
        if t0 == 1 and first < last:
            first, t0 = first + 1, 0.0
        if k < first:
            return 0.0
        low = t0 if k == first else 0.0
        high = t1 if k == last and t1 > 0 else 1.0
        return (k - first) + (t - low) / (high - low)

    def distance_at(self, u: float) -> float:
        """Arc length in mm from the start to u."""
        return 0.0 if u <= 0 else self.part(0, min(u, float(len(self)))).length()

    def at_distance(self, distance: float, tolerance: float = 1e-9) -> float:
        """The place u at an arc length of ``distance`` mm from the start, within ``tolerance`` mm along the seam.

        Raises ValueError when the distance is not on the curve.
        """
        each = self.lengths()
        total = float(each.sum())
        if not -tolerance <= distance <= total + tolerance:
            raise ValueError(f"{distance:.6g} mm is not on a curve {total:.6g} mm long")
        ends = np.cumsum(each)
        k = min(int(np.searchsorted(ends, distance)), len(self) - 1)
        return k + _fraction(self.controls[k], distance - float(ends[k] - each[k]), float(each[k]), tolerance)

    def nearest(self, point: complex) -> tuple[float, float]:
        """The place u nearest to a point, and the distance in mm."""
        t = np.linspace(0, 1, SAMPLES + 1)
        away = np.abs(cubic.points(self.controls[:, None, :], t) - point)
        beside = np.full((len(away), SAMPLES + 3), np.inf)
        beside[:, 1:-1] = away
        dips = np.argwhere((away <= beside[:, :-2]) & (away <= beside[:, 2:])).tolist()
        dips.sort(key=lambda dip: float(away[dip[0], dip[1]]))
        found = [self._refine(point, k, sample) for k, sample in dips[:DIPS]]
        return min(found, key=lambda pair: pair[1])

    def _refine(self, point: complex, k: int, sample: int) -> tuple[float, float]:
        """The nearest place of one cubic about a sample, by Newton's steps kept inside their bracket."""
        c0, c1, c2, c3 = self.controls[k].tolist()
        low, high = max(sample - 1, 0) / SAMPLES, min(sample + 1, SAMPLES) / SAMPLES
        t = sample / SAMPLES
        for _ in range(40):
            s = 1 - t
            gap = s * s * (s * c0 + 3 * t * c1) + t * t * (3 * s * c2 + t * c3) - point
            first = 3 * (s * s * (c1 - c0) + 2 * s * t * (c2 - c1) + t * t * (c3 - c2))
            second = 6 * (s * (c2 - 2 * c1 + c0) + t * (c3 - 2 * c2 + c1))
            slope = gap.real * first.real + gap.imag * first.imag
            bend = abs(first) ** 2 + gap.real * second.real + gap.imag * second.imag
            low, high = (t, high) if slope < 0 else (low, t)
            step = t - slope / bend if bend > 0 else math.nan
            new = step if low <= step <= high else (low + high) / 2
            if abs(new - t) <= 4e-16 * t:
                break
            t = new
        return k + t, abs(complex(cubic.points(self.controls[k], t)) - point)

    def flatten(self, tolerance: float = 0.05) -> Complexes:
        """Points of a polygon nowhere farther than ``tolerance`` mm from the curve, shape (m,), ends included."""
        points, _ = flatten_rows(self.controls, tolerance)
        return np.append(points, self.controls[-1, 3])

    def line_crossings(self, a: complex, b: complex) -> list[tuple[float, float]]:
        """Where the endless line through a and b meets the curve: (s, u) with the point at a + s (b - a).

        Touching counts. A cubic lying on the line has no crossings of its own.
        """
        return [(s, k + t) for s, k, t in row_crossings(self.controls, a, b)]

    def turns_at_joints(self) -> Floats:
        """The turn in radians at each inner joint of two cubics, shape (n - 1,), anticlockwise positive."""
        arriving, leaving = (
            self.controls[:-1, 3] - self.controls[:-1, 2],
            self.controls[1:, 1] - self.controls[1:, 0],
        )
        if len(self) > 1 and min(np.abs(arriving).min(), np.abs(leaving).min()) < 1e-9:
            places = [float(k) for k in range(1, len(self))]
            arriving = np.array([self.tangent(u, arriving=True) for u in places])
            leaving = np.array([self.tangent(u) for u in places])
        return np.angle(leaving * arriving.conj())


def _fraction(controls: Complexes, distance: float, total: float, tolerance: float) -> float:
    """The t of one cubic at an arc length from its start, by Newton's steps kept inside their bracket."""
    if total <= 0:
        return 0.0
    low, high, t = 0.0, 1.0, min(max(distance / total, 0.0), 1.0)
    for _ in range(100):
        part = cubic.split(controls, t)[0][None, :]
        off = float(lengths(part, tolerance / 10)[0]) - distance
        if abs(off) <= tolerance / 10:
            break
        low, high = (t, high) if off < 0 else (low, t)
        speed = abs(complex(cubic.derivatives(controls, t)))
        step = t - off / speed if speed > 0 else math.nan
        t = step if low < step < high else (low + high) / 2
    return t


def row_crossings(controls: Complexes, a: complex, b: complex) -> list[tuple[float, int, float]]:
    """Where the endless line through a and b meets cubics, shape (n, 4): (s, row, t), the point at a + s (b - a)."""
    size = abs(b - a)
    direction = (b - a) / size
    framed = (controls - a) * direction.conjugate()
    heights = framed.imag
    low, high = heights.min(axis=1), heights.max(axis=1)
    facing = (low <= 1e-9) & (high >= -1e-9) & (np.maximum(high, -low) > 1e-9)
    found: list[tuple[float, int, float]] = []
    for k in np.flatnonzero(facing).tolist():
        x0, x1, x2, x3 = framed[k].real.tolist()
        for t in _roots(*heights[k].tolist()):
            s = 1 - t
            found.append(((s * s * (s * x0 + 3 * t * x1) + t * t * (3 * s * x2 + t * x3)) / size, k, t))
    return found


def _roots(h0: float, h1: float, h2: float, h3: float) -> list[float]:
    """Real t in [0, 1] where a cubic in Bernstein form with four real coefficients is zero."""
    c3, c2, c1 = h3 - 3 * h2 + 3 * h1 - h0, 3 * (h2 - 2 * h1 + h0), 3 * (h1 - h0)
    slack = 1e-9
    real = set()
    for root in _complex_roots(c3, c2, c1, h0):
        t = root.real
        if abs(root.imag) < 1e-6 and -slack <= t <= 1 + slack:
            slope = (3 * c3 * t + 2 * c2) * t + c1
            off = ((c3 * t + c2) * t + c1) * t + h0
            if abs(off) < abs(slope) * 1e-6:
                t -= off / slope
            real.add(min(max(t, 0.0), 1.0))
    return sorted(real)


def _complex_roots(c3: float, c2: float, c1: float, c0: float) -> list[complex]:
    """All roots of c3 t^3 + c2 t^2 + c1 t + c0; leading coefficients that are only rounding are taken for zero."""
    small = 1e-13 * max(abs(c3), abs(c2), abs(c1), abs(c0))
    if abs(c3) <= small and abs(c2) <= small:
        return [complex(-c0 / c1)] if abs(c1) > small else []
    if abs(c3) <= small:
        spread = cmath.sqrt(c1 * c1 - 4 * c2 * c0)
        q = -(c1 + (spread if (c1 * spread.conjugate()).real >= 0 else -spread)) / 2
        return [q / c2, c0 / q] if q else [0j]
    if abs(c3) < 1e-3 * max(abs(c2), abs(c1), abs(c0)):
        roots: list[complex] = np.roots([c3, c2, c1, c0]).tolist()
        return roots
    # Cardano's formula for the cubic shifted so that its roots have sum zero.
    middle = c2 / (3 * c3)
    p = c1 / c3 - 3 * middle * middle
    q = middle * (2 * middle * middle - c1 / c3) + c0 / c3
    spread = cmath.sqrt(q * q / 4 + p**3 / 27)
    larger = -q / 2 + spread if abs(-q / 2 + spread) >= abs(-q / 2 - spread) else -q / 2 - spread
    if larger == 0:
        return [complex(-middle)]
    first = larger ** (1 / 3)
    thirds = (1, complex(-0.5, math.sqrt(0.75)), complex(-0.5, -math.sqrt(0.75)))
    return [first * turn - p / (3 * first * turn) - middle for turn in thirds]


def flatten_all(curves: Sequence[Curve], tolerance: float = 0.05) -> list[Complexes]:
    """``flatten`` of many curves in one go."""
    points, counts = flatten_rows(np.concatenate([curve.controls for curve in curves]), tolerance)
    rows = np.cumsum([len(curve) for curve in curves])
    bounds = np.concatenate([[0], np.cumsum(counts)])[np.concatenate([[0], rows])]
    return [
        np.append(points[first:last], curve.controls[-1, 3])
        for curve, first, last in zip(curves, bounds, bounds[1:], strict=False)
    ]


def flatten_rows(controls: Complexes, tolerance: float) -> tuple[Complexes, np.ndarray]:
    """Points along cubics, shape (n, 4), each one's end left out, no chord more than ``tolerance`` mm off.

    With the points, shape (m,), comes how many each cubic has, shape (n,). Raises ValueError unless the tolerance is
    above zero.
    """
    if not tolerance > 0:
        raise ValueError("a tolerance must be above zero")
    c0, c1, c2, c3 = controls.T
    bends = np.maximum(np.abs(c0 - 2 * c1 + c2), np.abs(c1 - 2 * c2 + c3))
    # A chord over a step h of t strays by at most h^2 |B''| / 8, and |B''| is at most 6 times the largest bend.
    counts = np.maximum(np.ceil(np.sqrt(0.75 * bends / tolerance)), 1).astype(int)
    owner = np.repeat(np.arange(len(controls)), counts)
    ends = np.cumsum(counts)
    t = (np.arange(ends[-1]) - (ends - counts)[owner]) / counts[owner]
    s = 1 - t
    c0, c1, c2, c3 = controls[owner].T
    return s * s * (s * c0 + 3 * t * c1) + t * t * (3 * s * c2 + t * c3), counts
