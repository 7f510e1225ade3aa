"""The edge of a paper as one closed line, and places on it by how far round they lie."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from tutor.alteration.outline import Outline, Spot


@dataclass(frozen=True, eq=False)
class Edge:
    """An outline walked clockwise from the start of its first seam; distances in mm, within 1e-9."""

    outline: Outline
    ends: tuple[float, ...] = field(init=False)
    """How far along the edge each seam ends, mm."""

    def __post_init__(self) -> None:
        lengths = [curve.length() for curve in self.outline.curves]
        object.__setattr__(self, "ends", tuple(math.fsum(lengths[: k + 1]) for k in range(len(lengths))))

    @property
    def length(self) -> float:
        """All the way round, mm."""
        return self.ends[-1]

    def start(self, seam: int) -> float:
        """How far along the edge a seam starts, by its number; mm."""
        return self.ends[seam - 1] if seam else 0.0

    def along(self, spot: Spot) -> float:
        """How far along the edge a spot on it lies, mm."""
        return self.start(spot.seam) + self.outline.curves[spot.seam].distance_at(spot.u)

    def on_seam(self, along: float) -> tuple[int, float]:
        """The seam at a distance along the edge, by its number, and the distance from that seam's start; mm."""
        along %= self.length
        seam = next((k for k, end in enumerate(self.ends) if along < end), len(self.ends) - 1)
        return seam, min(along - self.start(seam), self.ends[seam] - self.start(seam))

    def point(self, along: float) -> complex:
        """The point at a distance along the edge, mm in the sleeve's frame."""
        seam, distance = self.on_seam(along)
        curve = self.outline.curves[seam]
        return curve.point(curve.at_distance(distance))

    def way(self, start: float, end: float) -> float:
        """How far it is from one place to another, the shorter way round: clockwise above zero."""
        half = self.length / 2
        return (end - start + half) % self.length - half
