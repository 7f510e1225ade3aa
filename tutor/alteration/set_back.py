"""The cap lifted off along the bicep line and set back, whole, on the new one; its seam carried out to the new
underarm points."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.geometry.carry import carry_end, carry_start
from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.sleeve import Mark, Sleeve


def place_cap(sleeve: Sleeve, back: complex, front: complex) -> Move:
    """The move that sets the old cap on the new bicep line ``back`` to ``front``, its grain on the grain line x = 0."""
    old = sleeve.underarm_point_front - sleeve.underarm_point_back
    turn = ((front - back) / abs(front - back)) / (old / abs(old))
    old_share = -sleeve.underarm_point_back.real / old.real
    new_share = -back.real / (front - back).real
    foot = sleeve.underarm_point_back + old_share * old
    return Move(turn, back + new_share * (front - back) - turn * foot)


def carried_out(sleeve: Sleeve, cap: Move, back: complex, front: complex) -> tuple[Curve, Curve, tuple[Mark, ...]]:
    """Back and front cap seam on the cap's new place, carried out to the new underarm points; and their notches.

    Each is redrawn from its uppermost notch, or from half way up if that is higher.
    """
    blend_back = _blend(sleeve.cap_back, [m.u for m in sleeve.notches if m.seam == "cap-back"])
    front_places = [len(sleeve.cap_front) - m.u for m in sleeve.notches if m.seam == "cap-front"]
    blend_front = len(sleeve.cap_front) - _blend(sleeve.cap_front, front_places)
    low, high = _parts(sleeve.cap_back.moved(cap), blend_back)
    cap_back = Curve.join([carry_start(low, back - low.start), high])
    high_front, low_front = _parts(sleeve.cap_front.moved(cap), blend_front)
    cap_front = Curve.join([high_front, carry_end(low_front, front - low_front.end)])
    marks = tuple(
        Mark(
            m.name,
            m.seam,
            _renumbered(sleeve.seam(m.seam), m.u, blend_back if m.seam == "cap-back" else blend_front),
        )
        for m in sleeve.marks
        if m.seam in ("cap-back", "cap-front")
    )
    return cap_back, cap_front, marks


def _blend(curve: Curve, notches: Sequence[float]) -> float:
    return min(max([len(curve) / 2, *notches]), 0.9 * len(curve))


def _parts(curve: Curve, place: float) -> tuple[Curve, Curve]:
    return curve.part(0, place), curve.part(place, len(curve))


def _renumbered(curve: Curve, u: float, place: float) -> float:
    """A place of the curve on the same curve with a joint put in at ``place``."""
    if u <= place:
        return curve.within_part(u, 0, place)
    return len(curve.part(0, place)) + curve.within_part(u, place, len(curve))
