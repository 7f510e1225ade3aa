"""The edge of the paper a plan cuts: named seams in a closed round, clockwise, and places found on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from tutor.alteration.plan import Along, At, Landmark, OnSlash, Place, Share
from tutor.alteration.refusal import NOT_ON_OUTLINE, STOPS_INSIDE, Refusal, length
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve, flatten_rows
from tutor.geometry.region import Region
from tutor.pattern.sleeve import CORNERS, SEAMS, Mark, Sleeve

SNAP = 0.5
"""A point given within this many mm of an edge or a slash is taken to lie on it."""
SAME = 1e-6
"""Points nearer than this, in mm, are one."""
BICEP_LINE = "bicep-line"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a slash ends: its point; on the edge the seam's number and u; on another slash its name and share."""

    point: complex
    seam: int = -1
    u: float = 0.0
    slash: str = ""
    share: float = 0.0


@dataclass(frozen=True, eq=False)
class Outline:
    """Seams in a closed round, with the marks on them and other landmarks that can be named."""

    names: tuple[str, ...]
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...]
    spots: Mapping[str, Spot]
    name: str
    """What the uncut paper is called."""

    @cached_property
    def ring(self) -> Complexes:
        """Points clockwise round the paper, mm, no chord more than 0.05 mm off."""
        return flatten_rows(self.rows, 0.05)[0]

    @cached_property
    def rows(self) -> Complexes:
        """The cubics of all seams, shape (n, 4), clockwise."""
        return np.concatenate([curve.controls for curve in self.curves])

    @cached_property
    def region(self) -> Region:
        """The inside of that ring."""
        return Region(self.ring)

    def on_seam(self, seam: int, u: float) -> Spot:
        """The spot at u of a seam; the end of one seam is the start of the next."""
        curve = self.curves[seam]
        u = _settled_place(curve, u)
        if u == len(curve):
            seam, u = (seam + 1) % len(self.curves), 0.0
        return Spot(self.curves[seam].point(u), seam, u)

    def nearest(self, point: complex) -> tuple[Spot, float]:
        """The spot of the edge nearest to a point, and the distance in mm."""
        found = [(*curve.nearest(point), k) for k, curve in enumerate(self.curves)]
        u, distance, seam = min(found, key=lambda item: item[1])
        return self.on_seam(seam, u), distance

    def spot(self, place: Place, slash: str) -> Spot:
        """Where a place is. Refuses, naming the slash, what is no place of this outline."""
        match place:
            case Landmark(name):
                return self._landmark(name, slash)
            case Along(seam, distance, from_end):
                return self._along(seam, distance, from_end, slash)
            case Share(seam, share):
                return self._along(seam, share * self._curve(seam, slash).length(), False, slash)
            case At(point):
                spot, distance = self.nearest(point)
                return spot if distance <= SNAP else Spot(point)
            case OnSlash(other, share):
                return Spot(complex("nan"), slash=other, share=share)

    def refuse_inside(self, spot: Spot, slash: str) -> Refusal:
        """The refusal of a slash that ends at a spot on no edge and no slash."""
        where = _words(spot.point)
        if self.region.distances_outside(np.array([spot.point]))[0] > 0:
            what = f"the slash {slash} ends off the paper, at {where}; end it on the outline or on another slash"
            return Refusal(NOT_ON_OUTLINE, what, slash=slash, piece=self.name, place=spot.point)
        what = (
            f"the slash {slash} ends inside the paper, at {where}, and can't open flat;"
            " lead it on to an edge or to another slash"
        )
        return Refusal(STOPS_INSIDE, what, slash=slash, piece=self.name, place=spot.point)

    @property
    def landmarks(self) -> tuple[str, ...]:
        """The names of all places that have one."""
        return (*self.spots, *(mark.name for mark in self.marks))

    def _landmark(self, name: str, slash: str) -> Spot:
        if name in self.spots:
            return self.spots[name]
        for mark in self.marks:
            if mark.name == name:
                return self.on_seam(self.names.index(mark.seam), mark.u)
        known = ", ".join(self.landmarks)
        what = f"the slash {slash} asks for {name}, which is no place on this paper; there are {known}"
        raise Refusal(NOT_ON_OUTLINE, what, slash=slash, piece=self.name)

    def _curve(self, seam: str, slash: str) -> Curve:
        if seam not in self.names:
            what = f"the slash {slash} asks for the seam {seam}, which this paper lacks; it has {', '.join(self.names)}"
            raise Refusal(NOT_ON_OUTLINE, what, slash=slash, piece=self.name)
        return self.curves[self.names.index(seam)]

    def _along(self, seam: str, distance: float, from_end: bool, slash: str) -> Spot:
        curve = self._curve(seam, slash)
        size = curve.length()
        if not 0 <= distance <= size * (1 + 1e-12):
            what = f"the slash {slash} asks for a place {length(distance)} along {seam}, which is {length(size)} long"
            place = curve.start if from_end else curve.end
            raise Refusal(NOT_ON_OUTLINE, what, slash=slash, piece=self.name, place=place)
        distance = min(distance, size)
        u = curve.at_distance(size - distance if from_end else distance)
        return self.on_seam(self.names.index(seam), u)


@lru_cache(maxsize=8)
def whole(sleeve: Sleeve) -> Outline:
    """The outline of a whole sleeve."""
    corners = {name: Spot(curve.start, k) for k, (name, curve) in enumerate(zip(CORNERS, sleeve.curves(), strict=True))}
    return Outline(SEAMS, sleeve.curves(), sleeve.marks, corners | _grain_spots(sleeve, SEAMS), "the whole sleeve")


@lru_cache(maxsize=8)
def lower_part(sleeve: Sleeve) -> Outline:
    """The outline of what is left of a sleeve when its cap is cut off along the bicep line."""
    names = (BICEP_LINE, *SEAMS[2:])
    curves = (Curve.line(sleeve.underarm_point_back, sleeve.underarm_point_front), *sleeve.curves()[2:])
    corners = ("underarm-back", "underarm-front", "hem-front", "hem-back")
    spots = {name: Spot(curve.start, k) for k, (name, curve) in enumerate(zip(corners, curves, strict=True))}
    share = (0 - curves[0].start.real) / (curves[0].end.real - curves[0].start.real)
    if 0 < share < 1:
        spots["grain-bicep"] = Spot(curves[0].point(share), 0, share)
    spots |= _grain_spots(sleeve, names)
    return Outline(names, curves, tuple(mark for mark in sleeve.marks if mark.seam in names), spots, "the lower part")


def _grain_spots(sleeve: Sleeve, names: tuple[str, ...]) -> dict[str, Spot]:
    spots: dict[str, Spot] = {}
    for name, seams in (("grain-cap", ("cap-back", "cap-front")), ("grain-hem", ("hem",))):
        place = sleeve.grain_meets(seams) if seams[0] in names else None
        if place is None:
            continue
        seam, u = place
        u = _settled_place(sleeve.seam(seam), u)
        point = sleeve.seam(seam).point(u)
        # The grain line mostly runs through the crown: then they are one place.
        if abs(point - sleeve.crown) < 1e-6:
            spots[name] = Spot(sleeve.crown, names.index("cap-front"))
        else:
            spots[name] = Spot(point, names.index(seam), u)
    return spots


def _settled_place(curve: Curve, u: float) -> float:
    """A place of a curve, moved to a joint or an end that is less than 1e-6 mm away, so that no sliver is cut."""
    joint = round(u)
    near = abs(curve.point(u) - curve.point(joint)) < SAME and abs(u - joint) < 0.5
    return float(joint) if near else u


def _words(point: complex) -> str:
    """A point for a message: cm across and up from where grain and bicep line cross."""
    across = f"{length(abs(point.real))} {'in front of' if point.real >= 0 else 'behind'} the grain"
    return f"{across} and {length(abs(point.imag))} {'above' if point.imag >= 0 else 'below'} the bicep line"
