"""Measures taken at the cut edge, seam allowance and all, in place of the seam line."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.geometry.region import widths_at
from tutor.pattern.armhole import Armhole
from tutor.pattern.by_side import Reading, by_side
from tutor.pattern.cut_line import cut_line
from tutor.pattern.measures import FOREARM
from tutor.pattern.sleeve import Sleeve, level_of

STEPS = 64
"""Pieces of each cubic in the parallel of an armhole."""


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
AT_CUT_EDGE = (
    *_WIDTHS,
    "cap-height",
    *(f"{of}{side}" for of in ("cap-seam", "armhole", "cap-ease") for side in ("", "-back", "-front")),
)
"""The measures that can be taken there."""


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
