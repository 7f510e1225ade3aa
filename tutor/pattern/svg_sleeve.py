"""The sleeve of a drawing: five seams put together, checked, marked and set in the frame."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from tutor.faults import Fault
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.geometry.region import crosses_itself, signed_area
from tutor.pattern.corner_loops import without_loops
from tutor.pattern.joining import Apart, middle, ring
from tutor.pattern.sleeve import SEAMS, Mark, Sleeve
from tutor.pattern.svg_ids import ARMHOLES, SIDES, is_mark, mark_name, mark_seams
from tutor.pattern.svg_page import Page

LEAST_GIRTH = 20.0
"""Of the bicep line, in mm."""
LEAST_CAP = 1.0
"""Cap height in mm."""
STEEPEST_GRAIN = 60.0
"""Degrees by which a grain line may be off square to the bicep line."""
FLATNESS = 0.05
"""The outline is tested for crossing itself as a polygon this near, in mm."""


def read_sleeve(page: Page) -> Sleeve:
    """The sleeve where it lies on the page, its grain line pointing from top to bottom.

    Raises Fault for seams that are missing or make no sleeve, and for marks off them.
    """
    _refuse_missing(page)
    curves = _ring(page)
    outline = _flat(curves)
    if page.care.loop and crosses_itself(outline):
        curves = without_loops(curves, page.care.loop)
        outline = _flat(curves)
    back, crown, front = curves[0].start, curves[1].start, curves[1].end
    up = _up(page, back, crown, front, outline)
    if crosses_itself(outline):
        raise Fault(page.where, "has an outline that touches or crosses itself", "redraw the seams apart")
    _check_bicep_line(page, back, front)
    grain = _grain(page, crown, up, outline)
    sleeve = Sleeve(curves[0], curves[1], curves[2], curves[3], curves[4], grain=grain)
    return replace(sleeve, marks=_marks(page, sleeve))


def _flat(curves: list[Curve]) -> Complexes:
    return np.concatenate([curve.flatten(FLATNESS)[:-1] for curve in curves])


def _refuse_missing(page: Page) -> None:
    missing = [name for name in SEAMS if not page.has(name)]
    if missing:
        ids = [*page.drawing.ids, *page.drawing.others]
        shown = ", ".join(name[:40] for name in ids[:12]) + (", …" if len(ids) > 12 else "")
        found = f"the ids found are {shown}" if ids else "no ids were found"
        raise Fault(page.where, f"draws no line with the id {', '.join(missing)}", f"give each seam its id; {found}")


def _ring(page: Page) -> list[Curve]:
    try:
        return ring([page.seam(name) for name in SEAMS], page.care.meet, page.care.corner or middle)
    except Apart as apart:
        first, second = SEAMS[apart.first], SEAMS[apart.second]
        raise page.fault(
            first, f"misses {second} by {apart.gap:.2f} mm", f"the two should meet within {page.care.meet} mm"
        ) from None


def _up(page: Page, back: complex, crown: complex, front: complex, outline: Complexes) -> complex:
    """The direction from the bicep line to the crown. Raises Fault when the sleeve is mirrored or has no cap."""
    girth = abs(front - back)
    if girth < LEAST_GIRTH:
        raise Fault(page.where, f"has a bicep girth of {girth:.1f} mm", f"a sleeve has at least {LEAST_GIRTH:g} mm")
    # The seams follow each other clockwise, so the area counts as negative whichever way the page is turned.
    if signed_area(outline) >= 0:
        raise Fault(
            page.where,
            "is mirrored: with the cap up, cap-back lies to the right of cap-front",
            "draw the sleeve right side up with the back to the left, or let the ids of back and front change places",
        )
    up = 1j * (front - back) / girth
    height = ((crown - back) * up.conjugate()).real
    if height < LEAST_CAP:
        raise Fault(page.where, f"has a cap height of {height:.1f} mm", "the crown should rise above the bicep line")
    return up


def _check_bicep_line(page: Page, back: complex, front: complex) -> None:
    if not page.has("bicep-line"):
        return
    first, last = page.ends("bicep-line")
    along = (last - first) / abs(last - first)
    off = max(abs(((point - first) * along.conjugate()).imag) for point in (back, front))
    if off > page.care.near:
        right = "it should run through both, where the cap seams meet the underarm seams"
        raise page.fault("bicep-line", f"passes an underarm point by {off:.2f} mm", right)


def _grain(page: Page, crown: complex, up: complex, outline: Complexes) -> tuple[complex, complex]:
    """Top and bottom of the grain line; without one, from the crown square to the bicep line as far as the sleeve."""
    if not page.has("grain"):
        return crown, crown - up * float(((crown - outline) * up.conjugate()).real.max())
    first, last = page.ends("grain")
    rise = ((first - last) / abs(first - last) * up.conjugate()).real
    if abs(rise) < math.cos(math.radians(STEEPEST_GRAIN)):
        what = f"is more than {STEEPEST_GRAIN:g}° off square to the bicep line"
        raise page.fault("grain", what, "it should run down the sleeve")
    return (first, last) if rise > 0 else (last, first)


def _marks(page: Page, sleeve: Sleeve) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for name in page.drawing.ids:
        if name == "elbow-line":
            marks.extend(_elbow(page, sleeve))
        elif is_mark(name) and not set(mark_seams(name)[-1]) <= set(ARMHOLES):
            mark = _mark(page, sleeve, name)
            if any(other.name == mark.name and other.seam == mark.seam for other in marks):
                what = f"is a second mark called {mark.name} on {mark.seam}"
                raise page.fault(name, what, "give each a name of its own")
            marks.append(mark)
    return tuple(marks)


def _mark(page: Page, sleeve: Sleeve, name: str) -> Mark:
    *first, last = mark_seams(name)
    for seams in first:
        point = page.drawing.point(name)
        for seam in seams:
            u, away = sleeve.seam(seam).nearest(point)
            if away <= page.care.near:
                return Mark(mark_name(name), seam, u)
    return page.mark(name, mark_name(name), {seam: sleeve.seam(seam) for seam in last})


def _elbow(page: Page, sleeve: Sleeve) -> list[Mark]:
    """Where the elbow line meets the underarm seams, in the order of its ends; it may be drawn on beyond them."""
    ends = page.ends("elbow-line")
    across = sleeve.underarm_point_front - sleeve.underarm_point_back
    from_back = ((ends[1] - ends[0]) * across.conjugate()).real > 0
    marks = []
    for side, end, other in zip(SIDES if from_back else SIDES[::-1], ends, ends[::-1], strict=True):
        seam = f"underarm-{side}"
        u, away = sleeve.seam(seam).nearest(end)
        if away > page.care.near:
            met = [place for s, place in sleeve.seam(seam).line_crossings(end, other) if 0 <= s <= 1]
            if not met:
                raise page.fault("elbow-line", f"ends {away:.2f} mm from {seam}", "it should run from seam to seam")
            u = met[0]
        marks.append(Mark(f"elbow-{side}", seam, u))
    return marks
