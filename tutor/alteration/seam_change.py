"""Paper added to the edges of a sleeve, or taken away: its underarm seams redrawn, hem and lower cap carried along."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tutor.alteration.plan import SeamChange
from tutor.alteration.refusal import NO_ROOM, Refusal, length
from tutor.geometry.carry import carry_start, shifted_along
from tutor.geometry.curve import Curve
from tutor.geometry.joints import Jointed, jointed
from tutor.pattern.measures import width_at
from tutor.pattern.sleeve import Mark, Sleeve

LOWEST_NOTCH = 0.2
"""The lower cap is redrawn from the lowest notch; one lower than this share of its half leaves no room for that."""
HALF_WAY = 0.5
"""Without a notch the cap is redrawn from half way up; without an elbow line the elbow is half way down."""
ROOM = 0.9


def change_seams(sleeve: Sleeve, back: SeamChange, front: SeamChange) -> Sleeve:
    """The sleeve, in its frame, with its underarm seams moved out at underarm point, elbow and hem.

    Between those the seams go smoothly, without overshooting: added at the underarm point alone, a seam comes in to
    its old line at the elbow and keeps it from there. Each half of the cap is carried along up to its lowest notch;
    the notches stay. The hem goes evenly with its corners. Refuses to take away more than there is.
    """
    if back == front == SeamChange():
        return sleeve
    for side, change in (("back", back), ("front", front)):
        _check_room(sleeve, side, change)
        if change != SeamChange():
            sleeve = _changed(sleeve, side, change)
    return sleeve


def _changed(sleeve: Sleeve, side: str, change: SeamChange) -> Sleeve:
    """One edge changed. All is worked out for seams that run away from the underarm point, or to the other corner."""
    out = -1.0 if side == "back" else 1.0
    cap, seam = f"cap-{side}", f"underarm-{side}"
    top, corner = out * change.bicep + 1j * change.up, out * change.hem + 0j
    low = _lower_cap(sleeve, side, top)
    edge = _edge(sleeve, side, (top, out * change.elbow + 0j, corner))
    hem = sleeve.hem if side == "front" else sleeve.hem.reversed()
    moved = shifted_along(hem, (0, len(hem)), (corner, 0j))
    curves = {cap: low, seam: edge}
    seams = {name: sleeve.seam(name) for name in ("cap-back", "cap-front", "underarm-front", "underarm-back")}
    marks = list(sleeve.marks)
    for name, found in curves.items():
        turned = name in ("cap-front", "underarm-back")
        size = len(sleeve.seam(name))
        seams[name] = found.curve.reversed() if turned else found.curve
        marks = [_renumbered(mark, found, size, turned) if mark.seam == name else mark for mark in marks]
    seams["hem"] = moved if side == "front" else moved.reversed()
    return sleeve.with_seams(seams, tuple(marks))


def _renumbered(mark: Mark, found: Jointed, size: int, turned: bool) -> Mark:
    """A mark on the seam with its new joints; ``turned`` seams were worked on from their end."""
    if not turned:
        return replace(mark, u=found.place(mark.u))
    return replace(mark, u=len(found.curve) - found.place(size - mark.u))


def _lower_cap(sleeve: Sleeve, side: str, top: complex) -> Jointed:
    """Half the cap, from the underarm point up, its lower end carried along."""
    up = sleeve.cap_back if side == "back" else sleeve.cap_front.reversed()
    blend = _blend(sleeve, side)
    found = jointed(up, [blend])
    joint = found.joint(blend)
    rows = found.curve.controls
    low = carry_start(Curve(rows[:joint]), top)
    return found.with_rows([low, Curve(rows[joint:])] if joint < len(rows) else [low])


def _blend(sleeve: Sleeve, side: str) -> float:
    """The place, from the underarm point up, above which the cap stays as it is."""
    size = float(len(sleeve.seam(f"cap-{side}")))
    places = [mark.u if side == "back" else size - mark.u for mark in sleeve.notches if mark.seam == f"cap-{side}"]
    lowest = min(places, default=0.0)
    return lowest if lowest >= LOWEST_NOTCH * size else HALF_WAY * size


def _edge(sleeve: Sleeve, side: str, shifts: tuple[complex, complex, complex]) -> Jointed:
    """The underarm seam from its top down, moved out at its top, at the elbow and at the hem."""
    down = sleeve.underarm_front if side == "front" else sleeve.underarm_back.reversed()
    elbow = _elbow(sleeve, side)
    found = jointed(down, [elbow])
    joints = (0, found.joint(elbow), len(found.curve))
    return Jointed(shifted_along(found.curve, joints, shifts), found.knots)


def _elbow(sleeve: Sleeve, side: str) -> float:
    """The place of the elbow line on an underarm seam, from the top down."""
    size = float(len(sleeve.seam(f"underarm-{side}")))
    mark = sleeve.mark(f"elbow-{side}")
    if mark is None or mark.seam != f"underarm-{side}" or not 0 < mark.u < size:
        return HALF_WAY * size
    return mark.u if side == "front" else size - mark.u


def _check_room(sleeve: Sleeve, side: str, change: SeamChange) -> None:
    for given, most, words, place in _limits(sleeve, side, change):
        if given > most:
            what = f"the {side} underarm seam can't be {words} by {length(given)}; {length(most)} is the most"
            raise Refusal(NO_ROOM, what, piece="the whole sleeve", place=place)


def _limits(sleeve: Sleeve, side: str, change: SeamChange) -> Iterator[tuple[float, float, str, complex]]:
    """Each amount that takes away, with what there is room for, in words, and where."""
    point = sleeve.underarm_point_back if side == "back" else sleeve.underarm_point_front
    seam = sleeve.underarm_front if side == "front" else sleeve.underarm_back.reversed()
    elbow = seam.point(_elbow(sleeve, side))
    cap = sleeve.cap_back if side == "back" else sleeve.cap_front.reversed()
    half = ROOM / 2
    yield -change.bicep, half * abs(sleeve.underarm_point_front - sleeve.underarm_point_back), "taken in", point
    yield -change.elbow, half * width_at(sleeve, elbow.imag), "taken in at the elbow", elbow
    yield -change.hem, half * abs((sleeve.hem.start - sleeve.hem.end).real), "taken in at the hem", seam.end
    yield change.up, ROOM * (cap.point(_blend(sleeve, side)).imag - point.imag), "raised", point
    yield -change.up, ROOM * (point.imag - elbow.imag), "lowered", point
