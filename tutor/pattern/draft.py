"""Drafting a block: a sleeve, and the two armholes it goes into, from measures.

Everything is in mm. The cap seam comes out at armhole plus cap ease, front and back each, within 1e-9 mm.
"""

from __future__ import annotations

import math

from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.pattern.drafting.advice import advice
from tutor.pattern.drafting.armhole import draft_armhole, marks_at, notch_distances
from tutor.pattern.drafting.cap_size import CapSize, cap_size
from tutor.pattern.drafting.half_cap import Side, solved_half
from tutor.pattern.drafting.no_cap import NoCap
from tutor.pattern.drafting.reach import check_seams
from tutor.pattern.drafting.spec import LIMITS, SIDES, DraftSpec, check, in_range
from tutor.pattern.drafting.telling import told
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Mark, Sleeve

__all__ = ["DraftSpec", "draft", "draft_armhole"]

SHORTEST_UNDERARM = 20.0
ELBOW_INSET = 5.0
"""The least from elbow line to bicep line and to hem."""
GRAIN_INSET = 40.0
HEM_BESIDE_GRAIN = 10.0
"""The least of the hem on either side of the grain line."""
FLATTEST_ADVISED = math.radians(10)
"""The slope of crown to underarm point below which no cap is suggested, though one asked for is drawn (our choice)."""
NOTCH_INSET = 10.0


def draft(spec: DraftSpec) -> Pattern:
    """The pattern asked for, in the sleeve's frame: crown and grain line on x = 0, bicep line on y = 0.

    Underarm seams are straight and equally long: the hem is narrower (or wider) than the bicep line by the
    same amount on either side. Raises Fault, at the field it is about, for a measure nobody would believe,
    for measures that contradict each other, and for a cap that can't be drawn, with what would be possible in
    numbers.
    """
    check(spec)
    try:
        return _drafted(spec)
    except NoCap as reason:
        raise Fault(reason.where, reason.what, advice(spec, _works)) from None


def _works(spec: DraftSpec) -> bool:
    """Whether the spec can be drafted, with a cap that is steep enough to be suggested."""
    try:
        check(spec)
        sleeve = _drafted(spec).sleeve
    except (Fault, NoCap):
        return False
    width = (sleeve.underarm_point_front - sleeve.underarm_point_back).real / 2
    return sleeve.crown.imag >= width * math.tan(FLATTEST_ADVISED)


def _drafted(spec: DraftSpec) -> Pattern:
    size = cap_size(spec)
    elbow = _checked_levels(spec, size)
    _check_hem(spec, size)
    notches = {side: _checked_notches(spec, side) for side in SIDES}
    check_seams(spec, size)
    up = {side: solved_half(side, size.width(side), size.height, spec.seam(side)) for side in SIDES}
    taken_in = (size.girth - spec.hem_girth) / 2
    hem = size.height - spec.sleeve_length
    hem_front = complex(size.width_front - taken_in, hem)
    hem_back = complex(taken_in - size.width_back, hem)
    inset = min(GRAIN_INSET, spec.sleeve_length / 4)
    sleeve = Sleeve(
        cap_back=up["back"],
        cap_front=up["front"].reversed(),
        underarm_front=Curve.line(up["front"].start, hem_front),
        hem=Curve.line(hem_front, hem_back),
        underarm_back=Curve.line(hem_back, up["back"].start),
        marks=(*_cap_notches(up, notches), *_elbow_marks(elbow, hem)),
        grain=(complex(0, size.height - inset), complex(0, hem + inset)),
    )
    back, front = (draft_armhole(side, spec.armhole(side), notches[side]) for side in ("back", "front"))
    return Pattern(sleeve, back, front, spec.title)


def _checked_levels(spec: DraftSpec, size: CapSize) -> float | None:
    """The elbow line's y, or None for a sleeve without one, once hem and elbow are where they can be."""
    length, elbow = spec.sleeve_length, spec.elbow_level
    if length < size.height + SHORTEST_UNDERARM:
        limits = size.height + SHORTEST_UNDERARM, LIMITS["sleeve_length"][1]
        in_range(spec, "sleeve_length", length, *limits, f"is too short for a cap {told(size.height, spec.unit)} high")
    if not spec.to_wrist:
        return None
    if elbow is None:
        return (size.height - length) / 2
    why = "from the crown is below the hem" if elbow > length - ELBOW_INSET else "from the crown is in the cap"
    in_range(spec, "elbow_level", elbow, size.height + ELBOW_INSET, length - ELBOW_INSET, why)
    return size.height - elbow


def _check_hem(spec: DraftSpec, size: CapSize) -> None:
    """The underarm seams may lean by 45 degrees, and the grain line must reach the hem."""
    lean = 2 * (spec.sleeve_length - size.height)
    narrowest = abs(size.width_back - size.width_front) + 2 * HEM_BESIDE_GRAIN
    low = max(size.girth - lean, narrowest, LIMITS["hem_girth"][0])
    high = min(size.girth + lean, LIMITS["hem_girth"][1])
    why = f"can't follow from a bicep girth of {told(size.girth, spec.unit)}"
    in_range(spec, "hem_girth", spec.hem_girth, low, high, why)


def _checked_notches(spec: DraftSpec, side: Side) -> dict[str, float]:
    lowest = spec.notch(side)
    distances = notch_distances(side, spec.armhole(side), lowest)
    if lowest is not None:
        above = max(distances.values()) - lowest
        room = min(spec.armhole(side), spec.seam(side)) - NOTCH_INSET - above
        why = f"from the underarm is too far up the {side} seam"
        in_range(spec, f"notch_{side}", lowest, NOTCH_INSET, room, why)
    return distances


def _cap_notches(up: dict[Side, Curve], notches: dict[Side, dict[str, float]]) -> tuple[Mark, ...]:
    front = marks_at("cap-front", up["front"], notches["front"])
    turned = (Mark(mark.name, mark.seam, len(up["front"]) - mark.u) for mark in front)
    return (*turned, *marks_at("cap-back", up["back"], notches["back"]))


def _elbow_marks(elbow: float | None, hem: float) -> tuple[Mark, ...]:
    if elbow is None:
        return ()
    down = elbow / hem
    return Mark("elbow-front", "underarm-front", down), Mark("elbow-back", "underarm-back", 1 - down)
