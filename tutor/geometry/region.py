"""Flat regions, by shapely: areas, overlaps, what lies inside, what crosses itself.

Regions are rings of complex points (mm), first point not repeated, flattened from curves within a stated tolerance.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from tutor.geometry.cubic import Complexes


def _polygon(ring: Complexes) -> shapely.Polygon:
    return shapely.Polygon(np.column_stack([ring.real, ring.imag]))


def area(ring: Complexes) -> float:
    """The area inside a ring in mm2, by the shoelace sum; never negative."""
    return abs(float((ring.conj() * np.roll(ring, -1)).imag.sum())) / 2


def centroid(ring: Complexes) -> complex:
    """The centre of the area inside a ring; the mean of its points when it has no area."""
    following = np.roll(ring, -1)
    cross = (ring.conj() * following).imag
    total = float(cross.sum())
    if abs(total) < 1e-9:
        return complex(ring.mean())
    return complex(((ring + following) * cross).sum() / (3 * total))


def second_moment(ring: Complexes, about: complex) -> float:
    """The polar second moment of the area inside a ring about a point, mm4."""
    here = ring - about
    following = np.roll(here, -1)
    cross = (here.conj() * following).imag
    squares = np.abs(here) ** 2 + (here * following.conj()).real + np.abs(following) ** 2
    return abs(float((cross * squares).sum())) / 12


class Region:
    """The inside of one ring, prepared for many questions."""

    __slots__ = ("_shape",)

    def __init__(self, ring: Complexes) -> None:
        self._shape = _polygon(ring)
        shapely.prepare(self._shape)

    def distance_outside(self, point: complex) -> float:
        """How far in mm a point lies outside; 0 inside and on the edge."""
        return float(shapely.distance(self._shape, shapely.Point(point.real, point.imag)))

    def distance_to_edge(self, point: complex) -> float:
        """How far in mm a point lies from the edge, from either side."""
        return float(shapely.distance(self._shape.exterior, shapely.Point(point.real, point.imag)))

    def count_inside(self, points: Complexes) -> int:
        """How many of the points lie inside."""
        return int(shapely.contains_xy(self._shape, points.real, points.imag).sum())


def crosses_itself(ring: Complexes) -> bool:
    """Whether a closed ring touches or crosses itself."""
    closed = np.append(ring, ring[0])
    return not bool(shapely.is_simple(shapely.LinearRing(np.column_stack([closed.real, closed.imag]))))


def overlap_and_gap(pieces: Sequence[Complexes], outline: Complexes) -> tuple[float, float]:
    """Areas in mm2: where pieces lie on each other (counted once a layer), and of the outline left uncovered."""
    covered, layered = _union(pieces)
    around = shapely.make_valid(_polygon(outline))
    return max(layered - covered.area, 0.0), float(shapely.difference(around, covered).area)


def _union(pieces: Sequence[Complexes]) -> tuple[BaseGeometry, float]:
    shapes = [shapely.make_valid(_polygon(piece)) for piece in pieces]
    return shapely.union_all(shapes), sum(shape.area for shape in shapes)


def overlap_rings(pieces: Sequence[Complexes], *, least: float = 1.0) -> list[Complexes]:
    """Outer rings of the places where two pieces lie on each other, those larger than ``least`` mm2."""
    shapes = [shapely.make_valid(_polygon(piece)) for piece in pieces]
    meetings = [
        shapely.intersection(a, b) for k, a in enumerate(shapes) for b in shapes[k + 1 :] if shapely.intersects(a, b)
    ]
    return _rings(shapely.union_all(meetings), least) if meetings else []


def gap_rings(pieces: Sequence[Complexes], outline: Complexes, *, least: float = 1.0) -> list[Complexes]:
    """Outer rings of the parts of the outline that no piece covers, those larger than ``least`` mm2."""
    covered, _ = _union(pieces)
    return _rings(shapely.difference(shapely.make_valid(_polygon(outline)), covered), least)


def widths_at(ring: Complexes, y: float) -> float:
    """Width in mm across a ring at the level y: the sum of what is inside; 0 where the level misses it."""
    upper = ring.imag > y
    following = np.roll(ring, -1)
    crossing = upper != np.roll(upper, -1)
    a, b = ring[crossing], following[crossing]
    x = np.sort(a.real + (b.real - a.real) * (y - a.imag) / (b.imag - a.imag))
    return float((x[1::2] - x[0::2]).sum())


def _rings(shape: BaseGeometry, least: float) -> list[Complexes]:
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon" and part.area > least]
    parts.extend(
        inner
        for part in shapely.get_parts(shape)
        if part.geom_type == "GeometryCollection"
        for inner in part.geoms
        if inner.geom_type == "Polygon" and inner.area > least
    )
    return [_ring(part) for part in parts]


def _ring(polygon: shapely.Polygon) -> Complexes:
    coordinates = np.asarray(polygon.exterior.coords)[:-1]
    result: Complexes = coordinates[:, 0] + 1j * coordinates[:, 1]
    return result
