"""How wide and how high a cap is, from what was asked for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tutor.geometry.arclength import lengths
from tutor.pattern.drafting.half_cap import (
    LEAST_FULLNESS,
    MOST_FULLNESS,
    SOLVED,
    Side,
    half_caps,
    seam_range,
)
from tutor.pattern.drafting.root import rising_root
from tutor.pattern.drafting.spec import LIMITS, SIDES, DraftSpec, cm, cm_outside, cm_range

USUAL = 1.0
"""The fullness at which a size is solved."""
MOST_SHIFT = 0.04
"""How far off the middle the crown may lie, as a share of the girth."""


@dataclass(frozen=True, slots=True)
class CapSize:
    """Half widths and cap height, mm."""

    width_front: float
    width_back: float
    height: float

    @property
    def girth(self) -> float:
        return self.width_front + self.width_back

    def width(self, side: Side) -> float:
        return self.width_front if side == "front" else self.width_back


class NoCap(Exception):
    """No cap of the wanted seam goes with the wanted size: the fields it is about, and what is the matter."""

    def __init__(self, where: str, what: str) -> None:
        self.where = where
        self.what = what
        super().__init__(where, what)


def given_size(spec: DraftSpec) -> CapSize | None:
    """The size, where the measures say it outright; None where it is solved from the cap seam."""
    height, girth = spec.cap_height, spec.girth
    if height is None:
        return None
    if spec.slant_front is not None and spec.slant_back is not None:
        front, back = (
            math.sqrt(max(slant**2 - height**2, 0)) for slant in (spec.slant_front, spec.slant_back)
        )
        return CapSize(front, back, height)
    return None if girth is None else shared_size(spec, girth, height)


def shared_size(spec: DraftSpec, girth: float, height: float) -> CapSize:
    """The size with the crown placed so that both cap seams are the same multiple of their slants.

    So neither half is flatter than the other. The crown stays within 4 % of the girth from the middle.
    """
    # With slants L_f / r and L_b / r: sqrt(L_f^2 q - h^2) + sqrt(L_b^2 q - h^2) = g where q = 1 / r^2, a quadratic in q.
    front, back = spec.seam("front") ** 2, spec.seam("back") ** 2
    both, difference, span = front + back, back - front, 1 + (2 * height / girth) ** 2
    root = math.sqrt(max(both**2 - difference**2 * span, 0.0))
    shift = difference * span * girth / (both + root) / 2
    shift = min(max(shift, -MOST_SHIFT * girth), MOST_SHIFT * girth)
    return CapSize(girth / 2 - shift, girth / 2 + shift, height)


def sized(spec: DraftSpec, solved: float) -> CapSize:
    """The size with the one measure that isn't given, girth or cap height, at ``solved``."""
    if spec.cap_height is not None:
        return shared_size(spec, solved, spec.cap_height)
    return shared_size(spec, spec.girth or 0.0, solved)


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
    wanted = spec.seam("front") + spec.seam("back")
    low, high = LIMITS["cap_height" if spec.cap_height is None else "bicep_girth"]
    try:
        return sized(spec, rising_root(lambda x: usual_seam(sized(spec, x)) - wanted, low, high, SOLVED))
    except ValueError:
        limits = (usual_seam(sized(spec, end)) for end in (low, high))
        raise NoCap(
            size_fields(spec), f"with {_in_words(spec)} {_seam_in_words('the cap seam', wanted, *limits)}"
        ) from None


def size_fields(spec: DraftSpec) -> str:
    """The fields that say the cap's size, as they were given."""
    fields = ("cap_height", "bicep_girth", "arm_girth", "wearing_ease", "slant_front", "slant_back")
    return ", ".join(field for field in fields if getattr(spec, field) is not None)


def check_seams(spec: DraftSpec, size: CapSize) -> None:
    """Raises NoCap when a half of this size can't have the seam that armhole and ease ask for."""
    limits = {side: seam_range(side, size.width(side), size.height) for side in SIDES}
    troubles = [
        _seam_in_words(f"the {side} cap seam", spec.seam(side), low, high)
        for side, (low, high) in limits.items()
        if not low <= spec.seam(side) <= high
    ]
    if troubles:
        raise NoCap(size_fields(spec), f"with {_in_words(spec, size)} {', and '.join(troubles)}")


def _seam_in_words(seam: str, wanted: float, shortest: float, longest: float) -> str:
    asked = cm_outside(wanted, shortest, longest)
    return f"{seam} can be {cm_range(shortest, longest)}, armhole and ease ask {asked}"


def _in_words(spec: DraftSpec, size: CapSize | None = None) -> str:
    height = size.height if size else spec.cap_height
    girth = size.girth if size else spec.girth
    parts = []
    if spec.slant_front is not None and spec.slant_back is not None:
        parts = [f"a front slant of {cm(spec.slant_front)}", f"a back slant of {cm(spec.slant_back)}"]
    elif girth is not None:
        parts = [f"a bicep girth of {cm(girth)}"]
    if height is not None:
        parts.append(f"a cap height of {cm(height)}")
    return listed(parts, "and")


def listed(parts: Sequence[str], last: str) -> str:
    """``a, b and c``."""
    return f" {last} ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))
