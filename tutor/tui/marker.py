"""The marker: a place that walks along the edge of the paper, or along a slash, and is then a place of a plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tutor.alteration.edge import Edge
from tutor.alteration.outline import Outline
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, Landmark, OnSlash, Place
from tutor.units import Unit

SNAP = 0.3
"""mm; a marker this near a landmark stands on it."""
FACING = 0.25
"""Least cosine between an arrow and the edge for the marker to follow the arrow."""


@dataclass(frozen=True, slots=True)
class Marker:
    """A place ``along`` mm from the start of the edge (clockwise from the first seam), or of the slash ``line``."""

    along: float = 0.0
    line: str = ""


@dataclass(frozen=True)
class Track:
    """What a marker walks on: the edge of a paper, with its landmarks, and the slashes already made."""

    outline: Outline
    slashes: Mapping[str, tuple[complex, complex]]
    edge: Edge = field(init=False)
    stops: tuple[tuple[float, str], ...] = field(init=False)
    """Landmarks in their order along the edge; of two in one place the first named."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "edge", Edge(self.outline))
        object.__setattr__(self, "stops", self._stops())

    def _stops(self) -> tuple[tuple[float, str], ...]:
        spots = dict(self.outline.spots)
        for mark in self.outline.marks:
            spots[mark.name] = self.outline.on_seam(self.outline.names.index(mark.seam), mark.u)
        found: dict[float, str] = {}
        for name, spot in spots.items():
            along = self.edge.along(spot)
            if all(abs(along - other) > SNAP for other in found):
                found[along] = name
        return tuple(sorted(found.items()))

    def length(self, line: str = "") -> float:
        """The length in mm of the whole edge, or of a slash."""
        if line:
            a, b = self.slashes[line]
            return abs(b - a)
        return self.edge.length

    def point(self, marker: Marker) -> complex:
        """Where a marker is, mm in the sleeve's frame."""
        if marker.line:
            a, b = self.slashes[marker.line]
            return a + (b - a) * marker.along / abs(b - a)
        return self.edge.point(marker.along)

    def place(self, marker: Marker) -> Place:
        """The marker as a place of a plan: a landmark where it stands on one."""
        if marker.line:
            return OnSlash(marker.line, min(max(marker.along / self.length(marker.line), 0.0), 1.0))
        name = self.landmark(marker)
        if name:
            return Landmark(name)
        seam, distance = self.edge.on_seam(marker.along)
        return Along(self.outline.names[seam], distance)

    def landmark(self, marker: Marker) -> str:
        """The landmark a marker stands on, or nothing."""
        if marker.line:
            return ""
        size = self.edge.length
        for along, name in self.stops:
            off = abs(along - marker.along % size)
            if min(off, size - off) <= SNAP:
                return name
        return ""

    def words(self, marker: Marker, unit: Unit) -> str:
        """Where a marker is, for people."""
        return place_words(self.place(marker), unit)

    def stepped(self, marker: Marker, mm: float) -> Marker:
        """The marker so many mm further on (clockwise; back when negative); a slash ends where it ends."""
        along = marker.along + mm
        if marker.line:
            return Marker(min(max(along, 0.0), self.length(marker.line)), marker.line)
        return Marker(along % self.edge.length)

    def toward(self, marker: Marker, direction: complex, mm: float) -> Marker | None:
        """The marker ``mm`` further on the way that an arrow points; None where neither way points there."""
        here = self.point(marker)
        size = self.length(marker.line)
        reach = min(mm, 2.0)
        ways: list[tuple[float, float]] = []
        for way in (1.0, -1.0):
            ahead = self.point(self.stepped(marker, way * reach)) - here
            if abs(ahead) > 1e-9 and size > 0:
                ways.append(((ahead / abs(ahead) * direction.conjugate()).real, way))
        facing, way = max(ways, default=(0.0, 1.0))
        return self.stepped(marker, way * mm) if facing >= FACING else None

    def next_stop(self, marker: Marker, way: int) -> Marker:
        """The next landmark clockwise (``way`` 1) or anticlockwise (-1); on a slash its other end."""
        if marker.line:
            return Marker(self.length(marker.line) if way > 0 else 0.0, marker.line)
        size = self.edge.length
        ahead = [((along - marker.along) * way) % size for along, _ in self.stops]
        distances = [distance if SNAP < distance < size - SNAP else size for distance in ahead]
        nearest = min(range(len(distances)), key=distances.__getitem__)
        return Marker(self.stops[nearest][0])

    def at_landmark(self, name: str) -> Marker | None:
        """The marker on a landmark; None for one that this paper lacks."""
        return next((Marker(along) for along, stop in self.stops if stop == name), None)

    def next_line(self, marker: Marker) -> Marker:
        """The marker on the middle of the next slash; after the last one, back on the edge near to it."""
        names = ["", *self.slashes]
        line = names[(names.index(marker.line) + 1) % len(names)]
        if not line:
            return self.nearest_on_edge(self.point(marker))[0]
        return Marker(self.length(line) / 2, line)

    def nearest_on_edge(self, point: complex) -> tuple[Marker, float]:
        """The marker on the edge nearest to a point, on a landmark within a hair of it; and how far away, mm."""
        spot, distance = self.outline.nearest(point)
        return Marker(self.edge.along(spot)), distance

    def nearest(self, point: complex, reach: float) -> Marker | None:
        """The marker nearest to a point that someone points at with a precision of ``reach`` mm.

        A landmark is preferred, then the edge, then a slash; None where nothing is within three times the reach.
        """
        stops = [(abs(self.point(Marker(along)) - point), along) for along, _ in self.stops]
        off, along = min(stops)
        if off <= 1.5 * reach:
            return Marker(along)
        marker, off = self.nearest_on_edge(point)
        if off <= 3 * reach:
            return marker
        best: tuple[float, Marker] | None = None
        for name, (a, b) in self.slashes.items():
            share = min(max(((point - a) / (b - a)).real, 0.0), 1.0)
            off = abs(a + share * (b - a) - point)
            if off <= 3 * reach and (best is None or off < best[0]):
                best = off, Marker(share * abs(b - a), name)
        return best[1] if best else None
