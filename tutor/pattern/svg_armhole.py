"""The armholes of a drawing, each with its side seam, across point and notches."""

from __future__ import annotations

import math
from dataclasses import replace

from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole
from tutor.pattern.joining import closed_gap, with_start
from tutor.pattern.svg_ids import ARMHOLES, SIDES, is_mark, mark_name, mark_seams
from tutor.pattern.svg_page import Page

LEAST_RISE = 20.0
"""An armhole's shoulder tip lies at least this far above its underarm point, in mm."""


def read_armholes(page: Page, *, upright: bool) -> dict[str, Armhole]:
    """The armholes there are, by side, the underarm point at the origin unless the file says another origin.

    ``upright`` says whether the sleeve is drawn upright: where it isn't, a bodice piece may have been turned with it,
    and only a side seam can tell. Raises Fault for a piece that is not upright, or might not be; for a side seam that
    is apart; and for marks that are on no armhole.
    """
    for name in ARMHOLES:
        if page.has(name) and not upright and not page.has(name.replace("armhole", "side")):
            right = f"draw all pieces upright, or give {name.replace('armhole', 'side')} too"
            raise page.fault(name, "may be drawn any way up, since the sleeve is not upright", right)
    pieces = {side: piece for side in SIDES if (piece := _piece(page, side))}
    armholes = _notched(page, {side: armhole for side, (armhole, _) in pieces.items()})
    return {side: _settled(page, armhole, pieces[side][1]) for side, armhole in armholes.items()}


def across_by_default(seam: Curve) -> float:
    """Where the across point of an armhole is taken to be, as a place u of its seam, when none is drawn.

    It is the place deepest in the piece, where the seam runs upright; when nothing lies deeper than the shoulder tip,
    the place half way up.
    """
    inwards = math.copysign(1, float(seam.flatten().real.mean()) - seam.start.real)
    places = [u for u in _upright(seam) if 0 < u < len(seam)]
    deepest = max(places, key=lambda u: seam.point(u).real * inwards, default=float(len(seam)))
    if deepest < len(seam) and (seam.point(deepest).real - seam.end.real) * inwards > 1e-6:
        return deepest
    level = 1j * (seam.start.imag + seam.end.imag) / 2
    return min((u for _, u in seam.line_crossings(level, level + 1)), default=len(seam) / 2)


def _upright(seam: Curve) -> list[float]:
    """Places where x stands still, and the joints of the cubics."""
    places = [float(k) for k in range(1, len(seam))]
    for k, row in enumerate(seam.controls.real):
        d0, d1, d2 = (float(row[j + 1] - row[j]) for j in range(3))
        # x' is d0 (1 - t)^2 + 2 d1 t (1 - t) + d2 t^2, up to a factor.
        a, b, c = d0 - 2 * d1 + d2, d1 - d0, d0
        if b * b < a * c:
            continue
        q = -(b + math.copysign(math.sqrt(b * b - a * c), b))
        roots = [q / a if a else math.nan, c / q if q else math.nan]
        places.extend(k + t for t in roots if 0 < t < 1)
    return places


def _piece(page: Page, side: str) -> tuple[Armhole, complex] | None:
    """One piece where it lies on the page, without its notches, and by what it is turned to stand upright."""
    name = f"armhole-{side}"
    if not page.has(name):
        for part in (f"side-{side}", f"across-{side}"):
            if page.has(part):
                raise page.fault(part, f"belongs to no {name}", f"give the armhole the id {name}")
        return None
    seam = page.seam(name)
    turn = 1 + 0j if page.care.upright is None else page.care.upright(name, seam)
    rise = ((seam.end - seam.start) * turn).imag
    seam, rise = (seam.reversed(), -rise) if rise < 0 else (seam, rise)
    if rise < LEAST_RISE:
        right = "draw the piece upright, the shoulder tip above the underarm point"
        raise page.fault(name, f"rises by {rise:.1f} mm from end to end", right)
    side_seam = _side_seam(page, side, seam, turn)
    if side_seam is not None and page.care.corner is not None:
        upper, side_seam = closed_gap(seam.reversed(), side_seam, page.care.corner)
        seam = upper.reversed()
    elif side_seam is not None:
        side_seam = with_start(side_seam, seam.start)
    return Armhole(side, seam, _across(page, side, seam, turn), side_seam), turn


def _side_seam(page: Page, side: str, seam: Curve, turn: complex) -> Curve | None:
    name = f"side-{side}"
    if not page.has(name):
        return None
    curve = page.seam(name)
    curve = curve.reversed() if abs(curve.end - seam.start) < abs(curve.start - seam.start) else curve
    gap = abs(curve.start - seam.start)
    if gap > page.care.meet:
        right = f"the two should meet within {page.care.meet} mm at the underarm point, the piece upright"
        raise page.fault(name, f"misses the lower end of armhole-{side} by {gap:.2f} mm", right)
    down = (curve.start - curve.end) * turn
    if down.imag <= abs(down.real):
        right = "draw the piece upright, the shoulder tip above the underarm point"
        raise page.fault(name, "does not run down from the underarm point", right)
    return curve


def _across(page: Page, side: str, seam: Curve, turn: complex) -> float:
    name = f"across-{side}"
    if not page.has(name):
        return across_by_default(seam.moved(Move(turn)))
    u = page.mark(name, name, {f"armhole-{side}": seam}).u
    if u <= 0:
        raise page.fault(name, "lies at the underarm point", "it should lie part of the way up the armhole")
    return u


def _notched(page: Page, armholes: dict[str, Armhole]) -> dict[str, Armhole]:
    notched = dict(armholes)
    for name in page.drawing.ids:
        if not is_mark(name) or not set(mark_seams(name)[-1]) <= set(ARMHOLES):
            continue
        (seams,) = mark_seams(name)
        known = {f"armhole-{side}": armhole.seam for side, armhole in armholes.items()}
        open_to = {seam: known[seam] for seam in seams if seam in known}
        if not open_to:
            raise page.fault(name, f"belongs to no {' or '.join(seams)}", f"give the armhole the id {seams[0]}")
        mark = page.mark(name, mark_name(name), open_to)
        side = mark.seam.removeprefix("armhole-")
        if notched[side].mark(mark.name):
            raise page.fault(name, f"is a second mark called {mark.name} on {mark.seam}", "give each a name of its own")
        notched[side] = replace(notched[side], marks=(*notched[side].marks, mark))
    return notched


def _settled(page: Page, armhole: Armhole, turn: complex) -> Armhole:
    """The piece turned upright, and shifted to its own origin."""
    origin = page.drawing.origin(f"armhole-{armhole.side}")
    return armhole.moved(Move(turn, -turn * (armhole.underarm_point if origin is None else origin)))
