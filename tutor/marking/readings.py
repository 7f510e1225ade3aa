"""Measures taken off a pattern in ways that mislead: straight where the seam is curved, or at the cut edge."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.geometry.region import widths_at
from tutor.marking.case import Reading
from tutor.pattern.armhole import Armhole
from tutor.pattern.cut_line import cut_line
from tutor.pattern.measures import FOREARM
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve, level_of

SIDES = ("back", "front")
STEPS = 64
"""Pieces of each cubic in the parallel of an armhole."""

CapLength = Callable[[Pattern, str], float]
"""The length of one side's cap seam, or of one side's armhole, as somebody measures it."""


def by_side(of: str, cap: CapLength, armhole: CapLength) -> Reading | None:
    """The reading of a seam, an armhole or a cap ease out of lengths side by side; None for another measure."""
    for name, sides in ((of, SIDES), *((of.removesuffix(f"-{side}"), (side,)) for side in SIDES if of.endswith(side))):
        if name == "cap-seam":
            return lambda pattern: sum(cap(pattern, side) for side in sides)
        if name == "armhole":
            return lambda pattern: _armholes(pattern, sides, armhole)
        if name == "cap-ease":
            return lambda pattern: _less(sum(cap(pattern, side) for side in sides), _armholes(pattern, sides, armhole))
    return None


def _armholes(pattern: Pattern, sides: tuple[str, ...], armhole: CapLength) -> float | None:
    if any(pattern.armhole(side) is None for side in sides):
        return None
    return sum(armhole(pattern, side) for side in sides)


def _less(first: float, second: float | None) -> float | None:
    return None if second is None else first - second


def cap_curve(pattern: Pattern, side: str) -> Curve:
    return pattern.sleeve.cap_back if side == "back" else pattern.sleeve.cap_front


def cap_chord(pattern: Pattern, side: str) -> float:
    """From crown straight to the underarm point, mm."""
    curve = cap_curve(pattern, side)
    return abs(curve.end - curve.start)


def armhole_chord(pattern: Pattern, side: str) -> float:
    """From underarm point straight to the shoulder tip, mm."""
    armhole = pattern.armhole(side)
    return 0.0 if armhole is None else abs(armhole.shoulder_tip - armhole.underarm_point)


def straight(of: str) -> Reading | None:
    """The measure with every curved seam in it measured straight from end to end; None where no seam is curved."""
    return by_side(of, cap_chord, armhole_chord)


def at_cut_edge(of: str, allowance: float) -> Reading | None:
    """The measure taken along the cut edge, ``allowance`` mm outside the seam line; None where there is none."""
    if of in _WIDTHS:
        return lambda pattern: _edge_width(pattern.sleeve, allowance, _WIDTHS[of](pattern.sleeve))
    if of == "cap-height":
        return lambda pattern: float(_ring(pattern.sleeve, allowance).imag.max())
    return by_side(
        of,
        lambda pattern, side: _cap_edge(pattern.sleeve, side, allowance),
        lambda pattern, side: _armhole_edge(pattern.armhole(side), allowance),
    )


def _hem(sleeve: Sleeve) -> float:
    return (sleeve.hem.start.imag + sleeve.hem.end.imag) / 2


def _forearm(sleeve: Sleeve) -> float | None:
    elbow = level_of(sleeve, "elbow")
    return None if elbow is None else elbow + (_hem(sleeve) - elbow) * FOREARM


_WIDTHS: dict[str, Callable[[Sleeve], float | None]] = {
    "bicep-girth": lambda sleeve: 0.0,
    "elbow-girth": lambda sleeve: level_of(sleeve, "elbow"),
    "forearm-girth": _forearm,
    "hem-girth": _hem,
}
"""The level, as y, at which a girth is measured across the sleeve; None where it isn't marked."""


@lru_cache(maxsize=32)
def _ring(sleeve: Sleeve, allowance: float) -> Complexes:
    return cut_line(sleeve, allowance)


def _edge_width(sleeve: Sleeve, allowance: float, level: float | None) -> float | None:
    if level is None:
        return None
    return widths_at(_ring(sleeve, allowance), level)


def _cap_edge(sleeve: Sleeve, side: str, allowance: float) -> float:
    """Along the cut edge from the corner at the underarm to the place beside the crown."""
    ring = _ring(sleeve, allowance)
    crown = _nearest(ring, sleeve.crown + 1j * allowance * sleeve.cap_front.tangent(0))
    if side == "back":
        before, after = sleeve.underarm_back, sleeve.cap_back
    else:
        before, after = sleeve.cap_front, sleeve.underarm_front
    corner = _nearest(ring, _mitre(before, after, allowance))
    first, last = (corner, crown) if side == "back" else (crown, corner)
    walked = np.roll(ring, -first)[: (last - first) % len(ring) + 1]
    return float(np.abs(np.diff(walked)).sum())


def _mitre(before: Curve, after: Curve, allowance: float) -> complex:
    """The corner of the cut edge beside the place where one seam of a clockwise outline ends and the next begins."""
    arriving, leaving = before.tangent(float(len(before)), arriving=True), after.tangent(0)
    along = arriving + leaving
    half = along / abs(along)
    return after.start + 1j * half * allowance / (half * arriving.conjugate()).real


def _nearest(ring: Complexes, point: complex) -> int:
    return int(np.abs(ring - point).argmin())


def _armhole_edge(armhole: Armhole | None, allowance: float) -> float:
    """Along the armhole's cut edge, which lies in its hollow: the seam's parallel on the side of the underarm."""
    if armhole is None:
        return 0.0
    t = np.linspace(0, 1, STEPS + 1)
    rows = armhole.seam.controls
    points = np.concatenate([cubic.points(row, t) for row in rows])
    slopes = np.concatenate([cubic.derivatives(row, t) for row in rows])
    parallel = points - 1j * armhole.outward * allowance * slopes / np.abs(slopes)
    return float(np.abs(np.diff(parallel)).sum())


def cap_length(pattern: Pattern, side: str) -> float:
    """Along one side's cap seam, mm."""
    return cap_curve(pattern, side).length()


def armhole_length(pattern: Pattern, side: str) -> float:
    """Along one side's armhole, mm."""
    armhole = pattern.armhole(side)
    return 0.0 if armhole is None else armhole.seam.length()
