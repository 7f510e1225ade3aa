"""A sleeve block: one outline of five named seams, with its landmarks.

Frame: right side up, back to the left, front to the right, y to the shoulder; the grain line is x = 0 and the bicep
line crosses it at the origin (``framed`` puts any outline there). The seams follow each other clockwise:
cap-back (underarm point to crown), cap-front (crown to underarm point), underarm-front (downwards), hem (front to
back), underarm-back (upwards).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import JOIN, Curve, flatten_rows
from tutor.geometry.move import Move

SEAMS = ("cap-back", "cap-front", "underarm-front", "hem", "underarm-back")
CORNERS = ("underarm-back", "crown", "underarm-front", "hem-front", "hem-back")
"""The landmark at the start of each seam, in the order of ``SEAMS``."""
CAP_TOP = "cap-top"
"""The mark at the top of a cap whose crown has been moved along the seam: the place the cap height is measured to."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A named place on a seam: a notch, or an end of the elbow line. ``u`` is a place of the seam's curve."""

    name: str
    seam: str
    u: float


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A sleeve's seam lines. ``grain`` is (top, bottom) of the grain line, two points.

    Raises ValueError when the seams do not close the outline within 1e-6 mm, or a mark is on no seam.
    """

    cap_back: Curve
    cap_front: Curve
    underarm_front: Curve
    hem: Curve
    underarm_back: Curve
    marks: tuple[Mark, ...] = ()
    grain: tuple[complex, complex] = (0j, -100j)

    def __post_init__(self) -> None:
        curves = self.curves()
        for k, curve in enumerate(curves):
            if abs(curve.end - curves[(k + 1) % len(curves)].start) > JOIN:
                raise ValueError(f"{SEAMS[k]} does not end where {SEAMS[(k + 1) % len(curves)]} starts")
        for mark in self.marks:
            if mark.seam not in SEAMS or not 0 <= mark.u <= len(self.seam(mark.seam)):
                raise ValueError(f"{mark.name} is not on the seam {mark.seam}")

    def curves(self) -> tuple[Curve, ...]:
        """The five seams in the order of ``SEAMS``."""
        return self.cap_back, self.cap_front, self.underarm_front, self.hem, self.underarm_back

    def seam(self, name: str) -> Curve:
        """A seam by its name in ``SEAMS``. Raises KeyError for any other."""
        try:
            return self.curves()[SEAMS.index(name)]
        except ValueError:
            raise KeyError(name) from None

    def with_seams(self, seams: Mapping[str, Curve], marks: tuple[Mark, ...]) -> Sleeve:
        """The sleeve with all five seams and the marks given anew."""
        back, front, down, hem, up = (seams[name] for name in SEAMS)
        return Sleeve(back, front, down, hem, up, marks, self.grain)

    @property
    def crown(self) -> complex:
        """Where the two cap seams meet."""
        return self.cap_front.start

    @property
    def cap_top(self) -> complex:
        """What the cap height is measured to: the crown, or where it was before it was moved along the seam."""
        mark = self.mark(CAP_TOP)
        return self.crown if mark is None else self.mark_point(mark)

    @property
    def notches(self) -> tuple[Mark, ...]:
        """The notches on the cap seams."""
        return tuple(mark for mark in self.marks if mark.seam in SEAMS[:2] and mark.name != CAP_TOP)

    @property
    def underarm_point_back(self) -> complex:
        """Where back cap seam and back underarm seam meet."""
        return self.cap_back.start

    @property
    def underarm_point_front(self) -> complex:
        """Where front cap seam and front underarm seam meet."""
        return self.cap_front.end

    def mark(self, name: str) -> Mark | None:
        """The mark of that name; None when there is none."""
        return next((mark for mark in self.marks if mark.name == name), None)

    def mark_point(self, mark: Mark) -> complex:
        """The point of a mark, mm."""
        return self.seam(mark.seam).point(mark.u)

    def landmarks(self) -> dict[str, complex]:
        """Every named place and its point: corners, marks, and where the grain line meets the cap and the hem."""
        found = {name: curve.start for name, curve in zip(CORNERS, self.curves(), strict=True)}
        found |= {mark.name: self.mark_point(mark) for mark in self.marks}
        for name, seams in (("grain-cap", ("cap-back", "cap-front")), ("grain-hem", ("hem",))):
            place = self.grain_meets(seams)
            if place is not None:
                found[name] = self.seam(place[0]).point(place[1])
        return found

    def grain_meets(self, seams: tuple[str, ...]) -> tuple[str, float] | None:
        """Where the grain line, made longer, meets one of the seams: (seam, u), or None."""
        top, bottom = self.grain
        hits = [(s, name, u) for name in seams for s, u in self.seam(name).line_crossings(top, bottom)]
        if not hits:
            return None
        _, name, u = min(hits, key=lambda hit: abs(hit[0] - (0 if seams[0].startswith("cap") else 1)))
        return name, u

    def outline(self, tolerance: float = 0.05) -> Complexes:
        """The outline as one ring of points, nowhere farther than ``tolerance`` mm off, first not repeated."""
        return flatten_rows(self.rows(), tolerance)[0]

    def rows(self) -> Complexes:
        """The cubics of all seams in one array, shape (n, 4), clockwise."""
        return np.concatenate([curve.controls for curve in self.curves()])

    def moved(self, move: Move) -> Sleeve:
        """The whole sleeve after a rigid move."""
        seams = {name: curve.moved(move) for name, curve in zip(SEAMS, self.curves(), strict=True)}
        top, bottom = self.grain
        return replace(self.with_seams(seams, self.marks), grain=(move(top), move(bottom)))

    def mirrored(self) -> Sleeve:
        """The sleeve of the other arm: back and front change places and names."""
        other = {"cap-back": "cap-front", "underarm-back": "underarm-front", "hem": "hem"}
        other |= {value: key for key, value in other.items()}
        seams = {other[name]: self.seam(name).mirrored().reversed() for name in SEAMS}
        marks = tuple(
            Mark(_swap_side(mark.name), other[mark.seam], len(self.seam(mark.seam)) - mark.u) for mark in self.marks
        )
        top, bottom = self.grain
        grain = (-top.conjugate(), -bottom.conjugate())
        return replace(self.with_seams(seams, tuple(sorted(marks, key=lambda mark: mark.name))), grain=grain)

    def framed(self) -> Sleeve:
        """The sleeve turned and shifted into its frame: grain on x = 0 pointing up, bicep line through the origin."""
        top, bottom = self.grain
        upright = Move(1j / ((top - bottom) / abs(top - bottom)))
        if abs(upright.angle) < 1e-13:
            upright = Move()
        back, front = upright(self.underarm_point_back), upright(self.underarm_point_front)
        x = upright((top + bottom) / 2).real
        y = back.imag + (front - back).imag * (x - back.real) / (front - back).real
        move = Move(1 + 0j, -complex(x, y)) @ upright
        settled = abs(move.shift) < 1e-9 and abs(move.angle) < 1e-13
        return self if settled else self.moved(move)


def _swap_side(name: str) -> str:
    swapped = name.replace("front", "\0").replace("back", "front").replace("\0", "back")
    return swapped


def level_of(sleeve: Sleeve, name: str) -> float | None:
    """The y of a level marked on both underarm seams (``elbow``): the mean of its two ends; None if unmarked."""
    ends = [mark for mark in sleeve.marks if mark.name in (f"{name}-back", f"{name}-front")]
    if not ends:
        return None
    return math.fsum(sleeve.mark_point(mark).imag for mark in ends) / len(ends)
