"""A pattern read from an SVG file, the W3C's standard, whose elements carry ids in trade words.

Required are the seams: cap-back, cap-front, underarm-front, hem, underarm-back, drawn in any order and direction,
anywhere on the page and turned as the grain line says, back to the left of front once the grain points up. Optional
are grain, bicep-line and elbow-line; notches; and of each bodice piece, upright on the page: armhole-back, side-back,
across-back and its notches, the same for front. Seam lines only: any other element, such as a cut line, means nothing.

Notches and across points are circles, ellipses or rectangles whose centre lies on the seam, or lines that start on it.
Their ids: ``notch-...`` is on the cap seam of the side it names, else on the nearest seam of the sleeve;
``armhole-notch-...`` on the armhole of the side it names, else on the nearest one; ``SEAM-mark-NAME`` says the seam
outright, where SEAM is a seam's id or armhole-back or armhole-front, whose ids begin ``armhole-back-mark-``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.geometry.region import crosses_itself
from tutor.pattern.armhole import Armhole
from tutor.pattern.joining import MEET, Apart, chained, ring, with_start, without_specks
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Mark, Sleeve
from tutor.pattern.svg_drawing import Drawing
from tutor.pattern.svg_tree import Element, read_tree

ON_SEAM = 1.0
"""A notch, or an end of a line that should reach a seam, lies at most this far from it, in mm."""
SHORTEST = 1.0
"""No seam or grain line is shorter than this, in mm."""
LEAST_GIRTH = 20.0
LEAST_RISE = 20.0
"""An armhole rises at least this far, in mm."""
LEAST_CAP = 1.0
STEEPEST_GRAIN = 60.0
"""Degrees by which a grain line may be off square to the bicep line."""
FLATNESS = 0.05
"""The outline is tested for crossing itself as a polygon this near, in mm."""
MOST_MARKS = 100
SIDES = ("back", "front")
_PLAIN = frozenset(
    [*SEAMS, "grain", "bicep-line", "elbow-line"]
    + [f"{what}-{side}" for side in SIDES for what in ("armhole", "side", "across")]
)
_NOTCH = re.compile(r"(notch-(?:(back|front)\b)?.*)", re.DOTALL)
_SEAM_MARK = re.compile(rf"({'|'.join(SEAMS)})-mark-(.+)", re.DOTALL)
_ARMHOLE_NOTCH = re.compile(r"armhole-(notch-(?:(back|front)\b)?.*)", re.DOTALL)
_ARMHOLE_MARK = re.compile(r"armhole-(back|front)-mark-(.+)", re.DOTALL)
_MARKS = (_NOTCH, _SEAM_MARK, _ARMHOLE_NOTCH, _ARMHOLE_MARK)


def read_svg(source: Path | bytes, where: str) -> Pattern:
    """The pattern drawn in an SVG file, its sleeve in its frame; ``where`` names the file in faults.

    Ends of seams that miss each other by up to 0.5 mm are closed. Without a grain line the grain is square to the
    bicep line through the crown. Each armhole has its underarm point at the origin, unless the file says what it is
    measured from (``data-origin``); without an across point that is where the armhole lies deepest in the piece, its
    tangent upright, or half way up if it nowhere is. Raises Fault for whatever is not a pattern.
    """
    root = read_tree(source, where)
    return _Reader(Drawing(root, where, is_known), where).pattern(_title(root))


def is_known(name: str) -> bool:
    """Whether an id means something on a pattern."""
    return name in _PLAIN or any(form.fullmatch(name) for form in _MARKS)


def _title(root: Element) -> str:
    title = next((child.text for child in root.children if child.name == "title"), "")
    return one_line(title)


def one_line(title: str) -> str:
    """A title without line breaks, repeated spaces and what can't be printed."""
    return "".join(letter for letter in " ".join(title.split()) if letter.isprintable())


class _Reader:
    """Turns what is drawn into a pattern, or raises a Fault."""

    def __init__(self, drawing: Drawing, where: str) -> None:
        self._drawing = drawing
        self._where = where
        self._marks = [name for name in drawing.ids if name not in _PLAIN]
        if len(self._marks) > MOST_MARKS:
            raise Fault(where, f"has {len(self._marks)} notches", f"a pattern has at most {MOST_MARKS}")
        for name in self._marks:
            if not name.isprintable() or len(name) > 100:
                raise Fault(drawing.place(name), f'has the id "{name[:100]}"', "use letters, figures and hyphens")

    def pattern(self, title: str) -> Pattern:
        sleeve = self._sleeve()
        armholes = {side: armhole for side in SIDES if (armhole := self._armhole(side))}
        armholes = self._notched(armholes)
        return Pattern(sleeve, armholes.get("back"), armholes.get("front"), title)

    def _has(self, name: str) -> bool:
        return name in self._drawing.ids

    def _fault(self, name: str, what: str, right: str = "") -> Fault:
        return Fault(self._drawing.place(name), what, right)

    def _sleeve(self) -> Sleeve:
        self._refuse_missing()
        curves = self._ring([self._curve(name) for name in SEAMS])
        outline = np.concatenate([curve.flatten(FLATNESS)[:-1] for curve in curves])
        back, crown, front = curves[0].start, curves[1].start, curves[1].end
        girth = abs(front - back)
        if girth < LEAST_GIRTH:
            raise Fault(self._where, f"has a bicep girth of {girth:.1f} mm", f"a sleeve has at least {LEAST_GIRTH:g} mm")
        if float((outline.conj() * np.roll(outline, -1)).imag.sum()) >= 0:
            raise Fault(
                self._where,
                "is mirrored: with the cap up, cap-back lies to the right of cap-front",
                "draw the sleeve right side up, back to the left, or let the ids change places",
            )
        across = (front - back) / girth
        height = ((crown - back) * across.conjugate()).imag
        if height < LEAST_CAP:
            raise Fault(self._where, f"has a cap height of {height:.1f} mm", "the crown lies above the bicep line")
        if crosses_itself(outline):
            raise Fault(self._where, "has an outline that touches or crosses itself", "redraw the seams apart")
        self._check_bicep_line(back, front)
        sleeve = Sleeve(*curves, grain=self._grain(crown, across * 1j, outline))
        return replace(sleeve, marks=self._sleeve_marks(sleeve)).framed()

    def _refuse_missing(self) -> None:
        missing = [name for name in SEAMS if not self._has(name)]
        if missing:
            others = [*self._drawing.ids, *self._drawing.others]
            shown = ", ".join(name[:40] for name in others[:12]) + (", …" if len(others) > 12 else "")
            raise Fault(
                self._where,
                f"draws no line with the id {', '.join(missing)}",
                f"give each seam its id; the ids found are {shown}" if others else "give each seam its id; there are none",
            )

    def _curve(self, name: str) -> Curve:
        """The one open line under an id."""
        lines = self._drawing.lines(name)
        if any(line.closed for line in lines):
            raise self._fault(name, "is a closed shape", "a seam is an open line")
        pieces = [Curve(rows) for line in lines if len(rows := without_specks(line.controls))]
        if not pieces:
            raise self._fault(name, "has no length", "draw it as a path or a line")
        try:
            curve = chained(pieces)
        except Apart as apart:
            raise self._fault(
                name,
                f"is drawn in {len(pieces)} lines that miss each other by {apart.gap:.2f} mm",
                f"draw one line, or let them meet within {MEET} mm",
            ) from None
        if curve.flatten(FLATNESS).size == 2 and abs(curve.end - curve.start) < SHORTEST:
            raise self._fault(name, f"is {abs(curve.end - curve.start):.3f} mm long", "look at the scale of the page")
        return curve

    def _ring(self, curves: list[Curve]) -> list[Curve]:
        try:
            return ring(curves)
        except Apart as apart:
            first, second = SEAMS[apart.first], SEAMS[apart.second]
            raise self._fault(
                first, f"misses {second} by {apart.gap:.2f} mm", f"they should meet within {MEET} mm"
            ) from None

    def _ends(self, name: str) -> tuple[complex, complex]:
        """The ends of the longest line under an id, for lines that may carry arrow heads."""
        lines = [line for line in self._drawing.lines(name) if len(line.controls)]
        ends = [(complex(line.controls[0, 0]), complex(line.controls[-1, 3])) for line in lines]
        first, last = max(ends, key=lambda pair: abs(pair[1] - pair[0]), default=(0j, 0j))
        if abs(last - first) < SHORTEST:
            raise self._fault(name, f"is shorter than {SHORTEST:g} mm", "draw it as a straight line")
        return first, last

    def _check_bicep_line(self, back: complex, front: complex) -> None:
        if not self._has("bicep-line"):
            return
        first, last = self._ends("bicep-line")
        along = (last - first) / abs(last - first)
        off = max(abs(((point - first) * along.conjugate()).imag) for point in (back, front))
        if off > ON_SEAM:
            raise self._fault(
                "bicep-line", f"passes an underarm point by {off:.2f} mm", "it runs through both, where cap and underarm meet"
            )

    def _grain(self, crown: complex, up: complex, outline: np.ndarray) -> tuple[complex, complex]:
        if not self._has("grain"):
            return crown, crown - up * float(((crown - outline) * up.conjugate()).real.max())
        first, last = self._ends("grain")
        direction = (first - last) / abs(first - last) * up.conjugate()
        if abs(direction.real) < np.cos(np.radians(STEEPEST_GRAIN)):
            raise self._fault(
                "grain", f"is more than {STEEPEST_GRAIN:g}° off square to the bicep line", "it points to the crown"
            )
        return (first, last) if direction.real > 0 else (last, first)

    def _sleeve_marks(self, sleeve: Sleeve) -> tuple[Mark, ...]:
        marks: list[Mark] = []
        for name in self._drawing.ids:
            if name == "elbow-line":
                marks.extend(self._elbow(sleeve))
            elif found := _SEAM_MARK.fullmatch(name):
                marks.append(self._mark(name, found[2], {found[1]: sleeve.seam(found[1])}))
            elif found := _NOTCH.fullmatch(name):
                marks.append(self._sleeve_notch(sleeve, name, found[2]))
        return tuple(marks)

    def _sleeve_notch(self, sleeve: Sleeve, name: str, side: str | None) -> Mark:
        if side:
            seam = f"cap-{side}"
            u, away = sleeve.seam(seam).nearest(self._drawing.point(name))
            if away <= ON_SEAM:
                return Mark(name, seam, u)
        return self._mark(name, name, {seam: sleeve.seam(seam) for seam in SEAMS})

    def _mark(self, name: str, called: str, seams: dict[str, Curve]) -> Mark:
        """The mark drawn under an id, on the nearest of some seams."""
        point = self._drawing.point(name)
        near = {seam: curve.nearest(point) for seam, curve in seams.items()}
        seam = min(near, key=lambda seam: near[seam][1])
        u, away = near[seam]
        if away > ON_SEAM:
            raise self._fault(
                name,
                f"starts {away:.2f} mm from {seam}",
                f"start it on the seam, within {ON_SEAM:g} mm, or centre a circle there",
            )
        return Mark(called, seam, u)

    def _elbow(self, sleeve: Sleeve) -> list[Mark]:
        """The ends of the elbow line, on the underarm seams or beyond them."""
        ends = self._ends("elbow-line")
        if sleeve.underarm_back.nearest(ends[0])[1] > sleeve.underarm_back.nearest(ends[1])[1]:
            ends = (ends[1], ends[0])
        marks = []
        for side, end, other in zip(SIDES, ends, ends[::-1], strict=True):
            seam = f"underarm-{side}"
            u, away = sleeve.seam(seam).nearest(end)
            if away > ON_SEAM:
                beyond = [place for s, place in sleeve.seam(seam).line_crossings(end, other) if 0 <= s <= 1]
                if not beyond:
                    raise self._fault("elbow-line", f"ends {away:.2f} mm from {seam}", "it runs from seam to seam")
                u = beyond[0]
            marks.append(Mark(f"elbow-{side}", seam, u))
        return marks

    def _armhole(self, side: str) -> Armhole | None:
        name = f"armhole-{side}"
        if not self._has(name):
            for part in (f"side-{side}", f"across-{side}"):
                if self._has(part):
                    raise self._fault(part, f"has no {name} to belong to", f"give the armhole the id {name}")
            return None
        seam = self._curve(name)
        seam = seam.reversed() if seam.start.imag > seam.end.imag else seam
        rise = (seam.end - seam.start).imag
        if rise < LEAST_RISE:
            raise self._fault(
                name, f"rises by {rise:.1f} mm from end to end", "draw the piece upright, the shoulder above the underarm"
            )
        side_seam = self._side_seam(side, seam)
        across = self._across(side, seam)
        armhole = Armhole(side, seam, across, side_seam)
        origin = self._drawing.origin(name)
        return armhole.moved(Move(shift=-(seam.start if origin is None else origin.conjugate().conjugate())))

    def _side_seam(self, side: str, seam: Curve) -> Curve | None:
        name = f"side-{side}"
        if not self._has(name):
            return None
        curve = self._curve(name)
        curve = curve.reversed() if abs(curve.end - seam.start) < abs(curve.start - seam.start) else curve
        gap = abs(curve.start - seam.start)
        if gap > MEET:
            raise self._fault(
                name,
                f"misses the lower end of armhole-{side} by {gap:.2f} mm",
                f"they should meet within {MEET} mm, the piece upright",
            )
        return with_start(curve, seam.start) if gap else curve

    def _across(self, side: str, seam: Curve) -> float:
        name = f"across-{side}"
        if not self._has(name):
            return across_by_default(seam)
        u = self._mark(name, name, {f"armhole-{side}": seam}).u
        if u <= 0:
            raise self._fault(name, "lies at the underarm point", "it lies part of the way up the armhole")
        return u

    def _notched(self, armholes: dict[str, Armhole]) -> dict[str, Armhole]:
        """The armholes with their notches, which are found on the page and so before anything has moved."""
        raise NotImplementedError
