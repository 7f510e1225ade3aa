"""Outlines of an alteration in which something was left undone that the knife doesn't do: truing, and the notches."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import replace

from tutor.alteration.alter import Altered
from tutor.alteration.cutting import Arc
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.corner_loops import untangled
from tutor.pattern.joining import closed_gap
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Sleeve

BRIDGED = 0.5
"""mm; edges farther apart than this are bridged by a line, others meet half way."""
OVERLAP = 4.0
"""How many times as far as edges are apart they are followed for a crossing."""
CAP = ("cap-back", "cap-front")
SIDES = ("back", "front")


def untrued(altered: Altered) -> Pattern | None:
    """The pattern as the pieces lie, its cap not redrawn; None where nothing parted there, or a piece sticks out."""
    sleeve = _cap_set_back(altered) if altered.plan.set_back else _cap_as_cut(altered)
    return None if sleeve is None else replace(altered.after, sleeve=sleeve)


def _cap_set_back(altered: Altered) -> Sleeve | None:
    """The cap set back whole, with straight lines out to the new underarm points."""
    cap, before, after = altered.pieces[-1].move, altered.before.sleeve, altered.after.sleeve
    back, front = before.cap_back.moved(cap), before.cap_front.moved(cap)
    wider = abs(after.underarm_point_front - after.underarm_point_back) - abs(front.end - back.start)
    if wider <= 2 * BRIDGED:
        return None
    back = Curve.join([Curve.line(after.underarm_point_back, back.start), back])
    front = Curve.join([front, Curve.line(front.end, after.underarm_point_front)])
    return _with_cap(after, back, front)


def _cap_as_cut(altered: Altered) -> Sleeve | None:
    """The stretches of the cap where their pieces lie, with straight lines across what has parted."""
    arcs = [arc for arc in altered.paper.arcs if arc.seam < len(CAP)]
    if not any(a.piece != b.piece for a, b in itertools.pairwise(arcs)):
        return None
    halves = [[_moved(arc, altered) for arc in arcs if arc.seam == number] for number in range(len(CAP))]
    if not all(halves):
        return None
    back, front = (_bridged(curves) for curves in halves)
    after = altered.after.sleeve
    back, front = closed_gap(back, front) if abs(back.end - front.start) <= BRIDGED else _met(back, front)
    _, back = closed_gap(after.underarm_back, back, lambda first, _: first.end)
    front, _ = closed_gap(front, after.underarm_front, lambda _, second: second.start)
    return _with_cap(after, back, front)


def _moved(arc: Arc, altered: Altered) -> Curve:
    return arc.curve.moved(altered.pieces[arc.piece].move)


def _bridged(curves: list[Curve]) -> Curve:
    whole = curves[0]
    for curve in curves[1:]:
        whole, curve = closed_gap(whole, curve) if abs(whole.end - curve.start) <= BRIDGED else _met(whole, curve)
        whole = Curve.join([whole, curve])
    return whole


def _met(first: Curve, second: Curve) -> tuple[Curve, Curve]:
    """Two curves with a straight line from the end of one to the middle of the gap, and from there to the other.

    Where pieces overlap they end where they cross.
    """
    middle = (first.end + second.start) / 2
    reach = OVERLAP * abs(first.end - second.start)
    first = Curve.join([first, Curve.line(first.end, middle)])
    return untangled(first, Curve.join([Curve.line(middle, second.start), second]), reach)


def _with_cap(sleeve: Sleeve, back: Curve, front: Curve) -> Sleeve:
    """The sleeve with another cap, its notches at the places nearest to where they were."""
    curves = dict(zip(SEAMS, sleeve.curves(), strict=True)) | {"cap-back": back, "cap-front": front}
    marks = tuple(
        replace(mark, u=curves[mark.seam].nearest(sleeve.mark_point(mark))[0]) if mark.seam in CAP else mark
        for mark in sleeve.marks
    )
    return sleeve.with_seams(curves, marks)


def notches_left(altered: Altered) -> Pattern | None:
    """The altered pattern with the notches at the points where they were before, on the nearest place of each seam."""
    before, after = altered.before.sleeve, altered.after.sleeve
    marks = []
    for mark in after.marks:
        old = before.mark(mark.name)
        if mark.seam in CAP and old is not None:
            mark = replace(mark, u=after.seam(mark.seam).nearest(before.mark_point(old))[0])
        marks.append(mark)
    back, front = (_partners_left(altered.before.armhole(side), altered.after.armhole(side)) for side in SIDES)
    sleeve = replace(after, marks=tuple(marks))
    return replace(altered.after, sleeve=sleeve, armhole_back=back, armhole_front=front)


def _partners_left(before: Armhole | None, after: Armhole | None) -> Armhole | None:
    if before is None or after is None:
        return after
    old = {mark.name: before.seam.point(mark.u) for mark in before.marks}
    marks = (replace(mark, u=after.seam.nearest(old.get(mark.name, 0j))[0]) for mark in after.marks)
    return replace(after, marks=tuple(marks))


LEFT_UNDONE: Mapping[str, Callable[[Altered], Pattern | None]] = {"untrued": untrued, "notches-left": notches_left}
"""The outlines of those usual mistakes that no plan leads to, by the mistakes' names."""
