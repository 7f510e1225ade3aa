"""What an altered pattern measures where something was left undone that the knife doesn't do: truing, notches."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Mapping

from tutor.alteration.alter import Altered
from tutor.alteration.cutting import Arc
from tutor.geometry.curve import Curve
from tutor.marking.readings import SIDES, cap_curve

PARTED = 0.5
"""mm; edges farther apart than this are bridged by a line, with a corner at each end of it."""
CAP = ("cap-back", "cap-front")


def untrued_kink(altered: Altered) -> float:
    """The sharpest turn, in degrees, of the cap seam as the pieces lie, before it is redrawn; 0 where none parted."""
    if altered.plan.set_back:
        return _set_back_kink(altered)
    arcs = [arc for arc in altered.paper.arcs if arc.seam < len(CAP)]
    parted = [(a, b) for a, b in itertools.pairwise(arcs) if a.piece != b.piece]
    turns = [_corner(_moved(a, altered), _moved(b, altered)) for a, b in parted]
    return math.degrees(max(turns, default=0.0))


def _moved(arc: Arc, altered: Altered) -> Curve:
    return arc.curve.moved(altered.pieces[arc.piece].move)


def _set_back_kink(altered: Altered) -> float:
    """The corner where the cap, set back whole, meets the line out to a new underarm point."""
    cap = altered.pieces[-1].move
    sleeve, after = altered.before.sleeve, altered.after.sleeve
    back, front = sleeve.cap_back.moved(cap), sleeve.cap_front.moved(cap)
    turns = []
    for inner, outer, slope in (
        (back.start, after.underarm_point_back, back.tangent(0)),
        (front.end, after.underarm_point_front, -front.tangent(float(len(front)), arriving=True)),
    ):
        if abs(outer - inner) > PARTED:
            turns.append(abs(cmath.phase((inner - outer) / slope)))
    return math.degrees(max(turns, default=0.0))


def _corner(first: Curve, second: Curve) -> float:
    """The sharpest turn between two stretches, by way of the line that bridges a gap between them."""
    ways = [first.tangent(float(len(first)), arriving=True), second.tangent(0)]
    bridge = second.start - first.end
    if abs(bridge) > PARTED:
        ways.insert(1, bridge)
    return max(abs(cmath.phase(b / a)) for a, b in itertools.pairwise(ways))


def old_notches(altered: Altered) -> Mapping[str, float]:
    """The notch mismatches, mm, of an altered pattern on which the notches stay at the points where they were."""
    found: dict[str, float] = {}
    for side in SIDES:
        old, new = altered.before.armhole(side), altered.after.armhole(side)
        if old is None or new is None:
            continue
        seam, before = cap_curve(altered.after, side), cap_curve(altered.before, side)
        for mark in altered.before.sleeve.marks:
            partner = old.mark(mark.name)
            if mark.seam != f"cap-{side}" or partner is None:
                continue
            on_cap = seam.distance_at(seam.nearest(before.point(mark.u))[0])
            up_cap = on_cap if side == "back" else seam.length() - on_cap
            up_armhole = new.seam.distance_at(new.seam.nearest(old.seam.point(partner.u))[0])
            found[f"notch-mismatch-{mark.name.removeprefix('notch-')}"] = up_cap - up_armhole
    return found
