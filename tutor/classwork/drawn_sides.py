"""Whether the armholes of a drawing are each other's, or lie in a mirror, told by their shapes.

Back and front armhole are each about the other's mirror image, so that one in the other's place, or in a mirror, fits
its own far worse than what it is; an alteration moves it by much less. That is no alteration, right or wrong.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.classwork.outline_points import laid_on, spread_along
from tutor.faults import Fault
from tutor.geometry.curve import Curve

CLEARLY = 0.65
"""What fits clearly better is off by less than this share of what fits worse. Armholes as lessons have them altered fit
their own at least 1.9 times as well as anything else, and others their own at most 0.51 times as well."""
FINE = 1e-3
"""mm by which broken lines may be off the seams that they stand for."""
OTHER = {"back": "front", "front": "back"}
FLIP = "draw each piece as it lies in the pattern that was handed out"


@dataclass(frozen=True, slots=True)
class _Fit:
    """How far a piece is off its own, that in a mirror, and the other side's, in mm, once laid on each of them."""

    own: float
    mirrored: float
    other: float

    @property
    def is_other(self) -> bool:
        return self.other < CLEARLY * self.own

    @property
    def is_mirrored(self) -> bool:
        return self.mirrored < CLEARLY * self.own


def check_sides(drawn: Mapping[str, Curve], block: Mapping[str, Curve], where: str) -> None:
    """Raises Fault for armhole seams, by their sides, that lie in each other's place or in a mirror."""
    fits = {side: _fit(seam, block[side], block.get(OTHER[side])) for side, seam in drawn.items() if side in block}
    swapped = all(fit.is_other for fit in fits.values())
    if swapped and sum(fit.other for fit in fits.values()) < sum(fit.mirrored for fit in fits.values()):
        if len(fits) == 2:
            what = "has armhole-back and armhole-front the wrong way round: each is the other by its shape"
            raise Fault(where, what, "give each the id of the other")
        for side in fits:
            what = f"is the {OTHER[side]} armhole by its shape"
            raise Fault(f"{where}, armhole-{side}", what, f"give it the id armhole-{OTHER[side]}")
    turned = [side for side, fit in fits.items() if fit.is_mirrored]
    if turned:
        which = " and ".join(f"armhole-{side}" for side in turned)
        raise Fault(f"{where}, {which}", f"{'lie' if len(turned) > 1 else 'lies'} in a mirror", FLIP)


def _fit(seam: Curve, own: Curve, other: Curve | None) -> _Fit:
    return _Fit(_off(seam, own), _off(seam, own.mirrored()), math.inf if other is None else _off(seam, other))


def _off(seam: Curve, like: Curve) -> float:
    """By how much a seam, drawn either way, is off one that it is laid on, in the root of the mean square, mm."""
    there = spread_along(like.flatten(FINE))
    found = []
    for way in (seam, seam.reversed()):
        here = spread_along(way.flatten(FINE))
        found.append(math.sqrt(float((np.abs(laid_on(here, there)(here) - there) ** 2).mean())))
    return min(found)
