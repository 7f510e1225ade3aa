"""A pattern as lines and words to be printed: seam and cut lines, notches, grain, levels, and the names of places.

Lines are in mm of the pattern, y down; they are scaled and placed afterwards, words keeping their size.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tutor.classwork.canvas import CUT, FINE, HELP, SEAM, Anchor, Box, Item, Stroke, Style, Words, box_of, line
from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.cut_line import cut_line
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Mark, Sleeve, level_of

TICK = 6.0
ARROW = 5.0
BESIDE = 3.0
"""mm between a place and its name."""
LEAST = 2.0
"""mm that letters are high at the least, at any scale."""
BETWEEN = 25.0
"""mm between the two armholes, with their allowance."""
SIDES = ("back", "front")


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a pattern, in mm with y down: what it is called, its lines and words."""

    name: str
    items: tuple[Item, ...]

    def placed(self, scale: float) -> tuple[Item, ...]:
        """The lines and words at a scale; words shrink less than lines do."""
        placed = (item.placed(scale, 0j) for item in self.items)
        return tuple(item.settled(math.sqrt(scale), LEAST) if isinstance(item, Words) else item for item in placed)

    def box(self, scale: float) -> Box:
        """The rectangle that the piece takes at a scale."""
        return box_of(self.placed(scale))


def pieces_of(pattern: Pattern, allowance: float, *, armholes: bool) -> tuple[Piece, ...]:
    """The sleeve, and the armholes side by side where they are wanted and there; ``allowance`` is the cut line's."""
    found = [Piece("Sleeve", tuple(_sleeve(pattern.sleeve, allowance)))]
    both = [piece for side in SIDES if (piece := pattern.armhole(side)) is not None] if armholes else []
    if both:
        found.append(Piece("Armholes", tuple(_armholes(both))))
    return tuple(found)


def _sleeve(sleeve: Sleeve, allowance: float) -> Iterator[Item]:
    yield _curve(sleeve.rows(), SEAM)
    if allowance:
        ring = np.conj(cut_line(sleeve, allowance))
        yield line(*ring.tolist(), complex(ring[0]), style=CUT)
    back, front = sleeve.underarm_point_back, sleeve.underarm_point_front
    yield _straight(back, front, HELP)
    yield from _grain(*sleeve.grain)
    for mark in sleeve.marks:
        if not mark.name.startswith("elbow-"):
            yield from _notch(sleeve.seam(mark.seam), mark)
    yield from _elbow(sleeve)
    yield from _sleeve_words(sleeve)


def _elbow(sleeve: Sleeve) -> Iterator[Item]:
    ends = [sleeve.mark_point(mark) for mark in sleeve.marks if mark.name in ("elbow-back", "elbow-front")]
    if len(ends) == 2:
        yield _straight(ends[0], ends[1], HELP)
        left = min(ends, key=lambda end: end.real)
        yield _words(left, "elbow line", complex(12, 2))


def _sleeve_words(sleeve: Sleeve) -> Iterator[Item]:
    back, front = sleeve.underarm_point_back, sleeve.underarm_point_front
    crown = sleeve.crown
    yield _words(crown, "crown", -3j * BESIDE, "middle")
    yield _words(back + (front - back) * 0.3, "bicep line", 2j)
    yield _words(back, "back underarm point", complex(BESIDE, -7))
    yield _words(front, "front underarm point", complex(-BESIDE, -7), "end")
    level = level_of(sleeve, "elbow")
    middle = complex(0, crown.imag * 0.4)
    spread = (front - back).real / 5
    yield Words((middle - spread).conjugate(), "BACK", 5.0, "middle", True)
    yield Words((middle + spread).conjugate(), "FRONT", 5.0, "middle", True)
    hem = (sleeve.hem.start + sleeve.hem.end) / 2
    yield _words(hem, "hem", complex(20 if level is not None else 0, BESIDE))


def _grain(top: complex, bottom: complex) -> Iterator[Item]:
    yield _straight(top, bottom, FINE)
    along = (top - bottom) / abs(top - bottom)
    for tip, way in ((top, along), (bottom, -along)):
        for turn in (1j, -1j):
            yield _straight(tip, tip - ARROW * way + 0.4 * ARROW * turn * way, FINE)
    yield _words(top + (bottom - top) / 3, "grain", complex(BESIDE))


def _notch(seam: Curve, mark: Mark) -> Iterator[Item]:
    """A short line into the allowance of a clockwise outline, which lies on the left of its seams."""
    point, outwards = seam.point(mark.u), 1j * seam.tangent(mark.u)
    yield _straight(point, point + TICK * outwards, FINE)
    anchor = -BESIDE * outwards - 1j
    yield _words(point, _notch_words(mark.name), anchor, "start" if anchor.real > 0 else "end")


def _notch_words(name: str) -> str:
    """What a notch is called: "notch", and its number where one side has two."""
    last = name.rpartition("-")[2]
    return f"notch {last}" if last.isdecimal() else "notch"


def _armholes(pieces: list[Armhole]) -> Iterator[Item]:
    """Both armholes, the back to the left, their underarm points on one level."""
    left = 0.0
    for piece in pieces:
        items = list(_armhole(piece))
        box = box_of(items)
        shift = complex(left - box.low.real, 0)
        yield from (item.placed(1.0, shift) for item in items)
        left += box.width + BETWEEN


def _armhole(piece: Armhole) -> Iterator[Item]:
    lower = -piece.underarm_point
    seam = Curve(piece.seam.controls + lower)
    yield _curve(seam.controls, SEAM)
    if piece.side_seam is not None:
        yield _curve(piece.side_seam.controls + lower, SEAM)
    for mark in piece.marks:
        point, outwards = seam.point(mark.u), -1j * piece.outward * seam.tangent(mark.u)
        yield _straight(point, point + TICK * outwards, FINE)
    inwards = -piece.outward
    across = seam.point(piece.across)
    yield _straight(across, across + 15 * inwards, HELP)
    anchor: Anchor = "start" if inwards > 0 else "end"
    yield _words(across, f"across {piece.side}", complex(BESIDE * inwards, 1.5), anchor)
    tip = complex(seam.end)
    yield _words(tip, "shoulder tip", complex(BESIDE * inwards, 2), anchor)
    under = complex(seam.start)
    yield _words(under, "underarm point", complex(BESIDE * inwards, -6), anchor)
    yield _words(under, f"{piece.side.upper()} ARMHOLE", complex(BESIDE * inwards, -14), anchor, 4.0)


def _words(place: complex, text: str, beside: complex, anchor: Anchor = "start", size: float = 3.2) -> Words:
    """Words beside a place, y up; those above the usual size are bold."""
    return Words(place.conjugate(), text, size, anchor, size > 3.2, beside.conjugate())


def _curve(rows: Complexes, style: Style) -> Stroke:
    return Stroke(np.conj(rows), style)


def _straight(start: complex, end: complex, style: Style) -> Stroke:
    return Stroke(np.conj(cubic.line(start, end))[None, :], style)
