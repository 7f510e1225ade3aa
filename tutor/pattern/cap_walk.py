"""A cap seam walked along its armhole, as at the cutting table: rolled on it from the underarm point, never sliding.

The half cap is turned over, as it is when it is laid on the bodice piece seam on seam.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole
from tutor.pattern.sleeve import Sleeve

SAME = 0.05
"""mm; two notches nearer than this are one stop."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the way, from one named place to the next: how long it is on the cap and on the armhole, mm."""

    start: str
    end: str
    cap: float
    armhole: float

    @property
    def ease(self) -> float:
        """What the cap has more than the armhole here, mm."""
        return self.cap - self.armhole


@dataclass(frozen=True)
class CapWalk:
    """Half a cap and the armhole it goes into, both of ``side``, "back" or "front"."""

    side: str
    cap: Curve
    """From the underarm point to the crown, turned over."""
    armhole: Armhole
    cap_notches: tuple[tuple[str, float], ...]
    """Names, and distances from the underarm point along the cap, mm."""

    @classmethod
    def of(cls, sleeve: Sleeve, armhole: Armhole) -> CapWalk:
        """The walk of a sleeve's cap round one armhole."""
        name = f"cap-{armhole.side}"
        seam = sleeve.seam(name)
        up = seam if armhole.side == "back" else seam.reversed()
        marks = [(m.name, m.u if armhole.side == "back" else len(seam) - m.u) for m in sleeve.notches if m.seam == name]
        notches = sorted(((name, up.distance_at(u)) for name, u in marks), key=lambda notch: notch[1])
        return cls(armhole.side, up.mirrored(), armhole, tuple(notches))

    @cached_property
    def cap_length(self) -> float:
        """Along this half's cap seam, mm."""
        return self.cap.length()

    @cached_property
    def armhole_length(self) -> float:
        """Along this armhole, mm."""
        return self.armhole.seam.length()

    @cached_property
    def armhole_notches(self) -> tuple[tuple[str, float], ...]:
        """Names, and distances from the underarm point along the armhole, mm."""
        found = [(mark.name, self.armhole.seam.distance_at(mark.u)) for mark in self.armhole.marks]
        return tuple(sorted(found, key=lambda notch: notch[1]))

    @property
    def most(self) -> float:
        """How far the two can be walked together, mm: as far as the shorter goes."""
        return min(self.cap_length, self.armhole_length)

    @property
    def stops(self) -> tuple[float, ...]:
        """Where to stop on the way: at the underarm point, at every notch of either, and at the end."""
        found = [0.0]
        for distance in sorted([far for _, far in (*self.cap_notches, *self.armhole_notches)] + [self.most]):
            if distance - found[-1] > SAME and distance <= self.most:
                found.append(distance)
        return tuple(found)

    @property
    def stretches(self) -> tuple[Stretch, ...]:
        """The way from notch to notch, for notches that both have: where the ease lies."""
        on_armhole = dict(self.armhole_notches)
        pairs = [(name, far, on_armhole[name]) for name, far in self.cap_notches if name in on_armhole]
        places = [("underarm point", 0.0, 0.0), *pairs, ("shoulder", self.cap_length, self.armhole_length)]
        return tuple(
            Stretch(a, b, cap_to - cap_from, hole_to - hole_from)
            for (a, cap_from, hole_from), (b, cap_to, hole_to) in pairwise(places)
        )

    def rolled(self, distance: float) -> Move:
        """The move that lays the cap on the armhole ``distance`` mm from both underarm points, tangent on tangent."""
        seam = self.armhole.seam
        on_cap, on_hole = self.cap.at_distance(distance), seam.at_distance(distance)
        turn = seam.tangent(on_hole) / self.cap.tangent(on_cap)
        return Move(turn, seam.point(on_hole) - turn * self.cap.point(on_cap))
