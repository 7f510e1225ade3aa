"""How wide and how high a cap is, from what was asked for."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.geometry.arclength import lengths
from tutor.pattern.drafting.half_cap import (
    LEAST_FULLNESS,
    MOST_FULLNESS,
    SOLVED,
    Side,
    half_caps,
)
from tutor.pattern.drafting.no_cap import NoCap, seam_in_words, size_in_words
from tutor.pattern.drafting.root import rising_root
from tutor.pattern.drafting.spec import LIMITS, SIDES, DraftSpec

USUAL = 1.0
"""The fullness at which a size is solved."""
MOST_SHIFT = 0.05
"""How far off the middle the crown may lie, as a share of the girth."""


@dataclass(frozen=True, slots=True)
class CapSize:
    """Half widths and cap height, mm."""

    width_front: float
    width_back: float
    height: float

    @property
    def girth(self) -> float:
        """The bicep girth, mm."""
        return self.width_front + self.width_back

    def width(self, side: Side) -> float:
        """The half width of a side, mm."""
        return self.width_front if side == "front" else self.width_back


def given_size(spec: DraftSpec) -> CapSize | None:
    """The size, where the measures say it outright; None where it is solved from the cap seam."""
    height, girth = spec.cap_height, spec.girth
    if height is None:
        return None
    if spec.slant_front is not None and spec.slant_back is not None:
        front, back = (math.sqrt(max(slant**2 - height**2, 0)) for slant in (spec.slant_front, spec.slant_back))
        return CapSize(front, back, height)
    return None if girth is None else shared_size(spec.seams, girth, height)


def shared_size(seams: Mapping[Side, float], girth: float, height: float) -> CapSize:
    """The size with the crown placed so that both cap seams are the same multiple of their slants, all in mm.

    So neither half is flatter than the other. The crown stays within 5 % of the girth from the middle.
    """
    # With slants L_f / r and L_b / r: sqrt(L_f^2 q - h^2) + sqrt(L_b^2 q - h^2) = g where q = 1 / r^2, a
    # quadratic in q.
    front, back = seams["front"] ** 2, seams["back"] ** 2
    both, difference, span = front + back, back - front, 1 + (2 * height / girth) ** 2
    root = math.sqrt(max(both**2 - difference**2 * span, 0.0))
    shift = difference * span * girth / (both + root) / 2
    shift = min(max(shift, -MOST_SHIFT * girth), MOST_SHIFT * girth)
    return CapSize(girth / 2 - shift, girth / 2 + shift, height)


def sized(spec: DraftSpec, solved: float) -> CapSize:
    """The size with the one measure that isn't given, girth or cap height, at ``solved``."""
    if spec.cap_height is not None:
        return shared_size(spec.seams, solved, spec.cap_height)
    return shared_size(spec.seams, spec.girth or 0.0, solved)


def extremes(spec: DraftSpec) -> tuple[tuple[CapSize, float], tuple[CapSize, float]]:
    """Size and fullness of the cap with the shortest seam, and of that with the longest."""
    given = given_size(spec)
    if given is not None:
        return (given, LEAST_FULLNESS), (given, MOST_FULLNESS)
    low, high = LIMITS["cap_height" if spec.cap_height is None else "bicep_girth"]
    return (sized(spec, low), USUAL), (sized(spec, high), USUAL)


def usual_seam(size: CapSize) -> float:
    """The whole cap seam at the usual fullness, mm."""
    height, fullness = np.array([size.height]), np.array([USUAL])
    caps = [half_caps(side, np.array([size.width(side)]), height, fullness) for side in SIDES]
    return float(lengths(np.concatenate(caps)).sum())


def cap_size(spec: DraftSpec) -> CapSize:
    """The size asked for, or solved so that the whole cap seam comes out at the usual fullness.

    Raises NoCap when no believable size gives that seam.
    """
    given = given_size(spec)
    if given is not None:
        return given
    wanted = sum(spec.seams.values())
    low, high = LIMITS["cap_height" if spec.cap_height is None else "bicep_girth"]

    def over(solved: float) -> float:
        return usual_seam(sized(spec, solved)) - wanted

    try:
        return sized(spec, rising_root(over, low, high, SOLVED))
    except ValueError:
        raise NoCap(spec, lambda: _trouble(spec, wanted, wanted + over(low), wanted + over(high))) from None


def _trouble(spec: DraftSpec, wanted: float, shortest: float, longest: float) -> str:
    with_size = size_in_words(spec, spec.cap_height, spec.girth)
    return f"with {with_size} {seam_in_words('the cap seam', wanted, shortest, longest, spec.unit)}"
