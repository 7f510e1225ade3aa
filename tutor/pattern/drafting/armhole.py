"""Drafting a bodice armhole of a given length.

The shape is a J: level at the underarm point, upright at the across point, where the piece is narrowest, and
leaning a little outwards at the shoulder tip. Its proportions are a choice of this program within common
practice: at a length of 215 the front is 66 mm wide and 179 deep, at 225 the back is 55 and 201. Together
that is 121 mm of armhole width; arm/4 + 4 cm (US patent 4,899,448, claim 1) gives 116 for an arm of 305.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.drafting.half_cap import Side
from tutor.pattern.sleeve import Mark

SIDE_SEAM = 200.0
NOTCH_SHARE = 1 / 3
"""How far up an armhole its notch lies, as a share of its length (common practice)."""
NOTCHES_APART = 12.0
"""Between the two notches of the back, mm (common practice: 10 to 13)."""


@dataclass(frozen=True, slots=True)
class _Shape:
    """Lengths in any one unit; the lower handles are shares of width and across height."""

    width: float
    across_height: float
    depth: float
    outwards: float
    underarm_handle: float
    across_handle: float
    tip_handle: float
    tip_lean: float

    def curve(self) -> Curve:
        """From the underarm point at 0 to the shoulder tip, the piece lying to the right."""
        across = complex(self.width, self.across_height)
        tip = complex(self.width - self.outwards, self.depth)
        rise = self.depth - self.across_height
        low = self.across_handle * self.across_height
        leaning = tip - self.tip_handle * rise * complex(-self.tip_lean, 1)
        # At the end of a cubic the curvature is 2/3 of the next control's distance from the tangent over the
        # handle squared; the upper handle takes that of the lower cubic over, so that the curve is smooth by
        # eye.
        bend = self.width * (1 - self.underarm_handle) / low**2
        high = math.sqrt((self.width - leaning.real) / bend)
        return Curve(
            np.array(
                [
                    [0, self.underarm_handle * self.width, across - 1j * low, across],
                    [across, across + 1j * high, leaning, tip],
                ]
            )
        )


_SHAPES = {
    "front": _Shape(64, 78, 174, 11, 0.58, 0.52, 0.30, 0.15),
    "back": _Shape(52, 88, 190, 8, 0.52, 0.48, 0.30, 0.10),
}


def notch_distances(side: Side, armhole: float, lowest: float | None = None) -> dict[str, float]:
    """Each notch of a side and its distance from the underarm point along the seam, mm.

    ``lowest`` is the distance of the (lower) notch; None puts it a third up the armhole.
    """
    first = armhole * NOTCH_SHARE if lowest is None else lowest
    if side == "front":
        return {"notch-front": first}
    return {"notch-back-1": first, "notch-back-2": first + NOTCHES_APART}


def marks_at(seam_name: str, from_underarm: Curve, distances: Mapping[str, float]) -> tuple[Mark, ...]:
    """Notches on a seam that starts at the underarm point. Raises ValueError for a distance off the seam."""
    return tuple(Mark(name, seam_name, from_underarm.at_distance(distance)) for name, distance in distances.items())


def draft_armhole(side: Side, length: float, notches: Mapping[str, float] | None = None) -> Armhole:
    """An armhole ``length`` mm long (arc length, within 1e-9 mm), with its side seam of 200 mm straight down.

    The underarm point is at the origin; the front piece lies to the right of it, the back piece to the left,
    as the two lie when the side seam is sewn, seen from outside. ``notches`` are distances from the underarm
    point in mm; None takes ``notch_distances``. Raises ValueError unless the length is positive and the
    notches lie on it.
    """
    if not 0 < length < math.inf:
        raise ValueError(f"an armhole can't be {length} mm long")
    shape = _SHAPES[side].curve()
    seam = shape.scaled(length / shape.length())
    if side == "back":
        seam = seam.mirrored()
    distances = notch_distances(side, length) if notches is None else notches
    return Armhole(side, seam, 1.0, Curve.line(0j, -1j * SIDE_SEAM), marks_at(f"armhole-{side}", seam, distances))
