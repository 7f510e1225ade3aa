"""Flat regions, by shapely: areas, overlaps, what lies inside, what crosses itself.

Regions are rings of complex points (mm), first point not repeated, flattened from curves within a stated tolerance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from tutor.geometry.cubic import Complexes, Floats

GRID = 1e-6
"""mm; regions are laid over each other on a grid of this size, since GEOS loses whole pieces that share an edge but
for rounding."""


def _polygon(ring: Complexes) -> shapely.Polygon:
    closed = np.append(ring, ring[0])
    return shapely.polygons(shapely.linearrings(closed.real, closed.imag))


def area(ring: Complexes) -> float:
    """The area inside a ring in mm2, by the shoelace sum; never negative."""
    return abs(signed_area(ring))


def signed_area(ring: Complexes) -> float:
    """The area inside a ring in mm2, negative when the ring is walked clockwise."""
    return float(np.vdot(ring[:-1], ring[1:]).imag + (ring[-1].conjugate() * ring[0]).imag) / 2


@dataclass(frozen=True, slots=True)
class Section:
    """A ring's area in mm2, the centre of that area, and its polar second moment about the centre in mm4."""

    area: float
    centre: complex
    moment: float


def section(ring: Complexes) -> Section:
    """Area, centre and second moment of the inside of a ring, which must enclose some area."""
    origin = complex(ring[0])
    here = ring - origin
    following = np.append(here[1:], here[0])
    product = here.conj() * following
    cross = product.imag
    twice = float(cross.sum())
    centre = complex(((here + following) @ cross) / (3 * twice))
    squares = here.real**2 + here.imag**2 + product.real + following.real**2 + following.imag**2
    size = abs(twice) / 2
    return Section(size, origin + centre, abs(float(cross @ squares)) / 12 - size * abs(centre) ** 2)


class Region:
    """The inside of one ring, prepared for many questions."""

    __slots__ = ("_shape",)

    def __init__(self, ring: Complexes) -> None:
        self._shape = _polygon(ring)
        shapely.prepare(self._shape)

    def distances_outside(self, points: Complexes) -> Floats:
        """How far in mm points lie outside; 0 inside and on the edge."""
        result: Floats = shapely.distance(self._shape, shapely.points(points.real, points.imag))
        return result

    def distances_to_edge(self, points: Complexes) -> Floats:
        """How far in mm points lie from the edge, from either side."""
        result: Floats = shapely.distance(self._shape.exterior, shapely.points(points.real, points.imag))
        return result


def count_inside(ring: Complexes, x: float, y: Floats) -> int:
    """How many of the points (x, y) lie inside a ring: those with an odd number of its edges above them."""
    right = ring.real > x
    crossing = np.flatnonzero(right != np.append(right[1:], right[0]))
    if not len(crossing):
        return 0
    a, b = ring[crossing], ring[(crossing + 1) % len(ring)]
    heights = a.imag + (b.imag - a.imag) * (x - a.real) / (b.real - a.real)
    return int(((heights > y[:, None]).sum(axis=1) % 2).sum())


def crosses_itself(ring: Complexes) -> bool:
    """Whether a closed ring touches or crosses itself."""
    closed = np.append(ring, ring[0])
    return not bool(shapely.is_simple(shapely.linearrings(closed.real, closed.imag)))


class Layers:
    """Pieces of paper laid inside an outline: where they lie on each other, and what of the outline stays uncovered."""

    def __init__(self, pieces: Sequence[Complexes], outline: Complexes) -> None:
        *shapes, whole = _valid_polygons([*pieces, outline])
        self._shapes = np.array(shapes, dtype=object)
        self._covered = shapely.union_all(self._shapes, grid_size=GRID)
        self._gap = shapely.difference(whole, self._covered, grid_size=GRID)

    @property
    def overlap(self) -> float:
        """The area in mm2 where pieces lie on each other, counted once for each layer above the first."""
        return max(float(shapely.area(self._shapes).sum() - self._covered.area), 0.0)

    @property
    def gap(self) -> float:
        """The area in mm2 of the outline that no piece covers."""
        return float(self._gap.area)

    def overlaps(self, least: float = 1.0) -> list[Complexes]:
        """Outer rings of the places where two pieces lie on each other, those larger than ``least`` mm2."""
        first, second = np.triu_indices(len(self._shapes), 1)
        first, second = self._shapes[first], self._shapes[second]
        meeting = shapely.intersects(first, second)
        double = shapely.intersection(first[meeting], second[meeting], grid_size=GRID)
        double = double[shapely.area(double) > 0]
        return _rings(shapely.union_all(double, grid_size=GRID), least) if len(double) else []

    def gaps(self, least: float = 1.0) -> list[Complexes]:
        """Outer rings of the parts of the outline that no piece covers, those larger than ``least`` mm2."""
        return _rings(self._gap, least)


def _valid_polygons(rings: Sequence[Complexes]) -> NDArray[np.object_]:
    """What lies inside each ring; made valid where a ring crosses itself. All at once, as every call takes its time."""
    points = np.concatenate([np.append(ring, ring[0]) for ring in rings])
    owners = np.repeat(np.arange(len(rings)), [len(ring) + 1 for ring in rings])
    shapes = shapely.polygons(shapely.linearrings(points.real, points.imag, indices=owners))
    result: NDArray[np.object_] = shapely.make_valid(shapes)
    return result


def widths_at(ring: Complexes, y: float) -> float:
    """Width in mm across a ring at the level y: the sum of what is inside; 0 where the level misses it."""
    upper = ring.imag > y
    following = np.roll(ring, -1)
    crossing = upper != np.roll(upper, -1)
    a, b = ring[crossing], following[crossing]
    x = np.sort(a.real + (b.real - a.real) * (y - a.imag) / (b.imag - a.imag))
    return float((x[1::2] - x[0::2]).sum())


def _rings(shape: BaseGeometry, least: float) -> list[Complexes]:
    """The outer rings of the polygons that a shape is made of, those larger than ``least`` mm2."""
    parts = shapely.get_parts(shapely.get_parts(shape))
    large = parts[(shapely.get_type_id(parts) == shapely.GeometryType.POLYGON) & (shapely.area(parts) > least)]
    corners = [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_exterior_ring(large)]
    return [each[:, 0] + 1j * each[:, 1] for each in corners]
