"""A pattern written as an SVG file that ``svg_read`` brings back, prints to scale and can be redrawn in any editor.

The page is in millimetres. The sleeve's own coordinates are the file's, with y down, so that no digit is lost; the
armholes stand in groups of their own beside it, each saying by ``data-origin`` what it is measured from.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import zip_longest
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.cut_line import cut_line
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Mark, Sleeve
from tutor.pattern.svg_ids import SIDES, mark_id
from tutor.pattern.svg_read import one_line
from tutor.pattern.svg_tree import SVG

MARGIN = 10.0
"""Free paper all round, in mm."""
BETWEEN = 20.0
"""Free paper between the sleeve and an armhole, in mm."""
TICK = 5.0
"""Length of a notch, from the seam into the allowance, in mm."""
STRAIGHT = 1e-11
LETTERS = 6.0
DASHED = {"stroke-dasharray": "6 3"}


def write_svg(pattern: Pattern, *, allowance: float = 0.0) -> str:
    """The pattern as SVG text; above nothing, ``allowance`` mm of seam allowance are drawn round the sleeve.

    Seam lines stay what they are: the allowance is a line of its own, ``cut-line``, which reading passes over.
    Raises ValueError when the allowance is negative or not finite, and when two marks of a seam share their name.
    """
    if not 0 <= allowance < math.inf:
        raise ValueError(f"a seam allowance is at least 0 mm, not {allowance!r}")
    marks = [*pattern.sleeve.marks, *(mark for piece in _pieces(pattern) for mark in _marks(piece))]
    ids = [mark_id(mark) for mark in marks]
    if len(set(ids)) < len(ids):
        raise ValueError("two marks of one seam have the same name")
    outside = cut_line(pattern.sleeve, allowance) if allowance else None
    extent = _sleeve_extent(pattern.sleeve, outside)
    body = _sleeve(pattern.sleeve, outside)
    box = extent
    for piece in _pieces(pattern):
        shift = _shift(piece, extent)
        body += _bodice(piece, shift)
        box = _around(np.array([*box, *(corner + shift for corner in _piece_extent(piece))]))
    return _page(one_line(pattern.title), box, body)


Box = tuple[complex, complex]
"""Lower left and upper right corner."""


def _pieces(pattern: Pattern) -> list[Armhole]:
    return [piece for side in SIDES if (piece := pattern.armhole(side))]


def _marks(piece: Armhole) -> list[Mark]:
    return [replace(mark, seam=f"armhole-{piece.side}") for mark in piece.marks]


def _around(points: Complexes) -> Box:
    return (
        complex(float(points.real.min()), float(points.imag.min())),
        complex(float(points.real.max()), float(points.imag.max())),
    )


def _sleeve_extent(sleeve: Sleeve, outside: Complexes | None) -> Box:
    ticks = [_tick(sleeve.seam(mark.seam), mark.u, 1.0) for mark in sleeve.marks]
    shapes = [sleeve.outline(), np.array(sleeve.grain), np.array(ticks).ravel()]
    return _around(np.concatenate([*shapes, outside] if outside is not None else shapes))


def _piece_extent(piece: Armhole) -> Box:
    seams = [piece.seam, piece.side_seam] if piece.side_seam else [piece.seam]
    ticks = [_tick(piece.seam, mark.u, -piece.outward) for mark in piece.marks]
    return _around(np.concatenate([*(seam.flatten() for seam in seams), np.array(ticks).ravel()]))


def _shift(piece: Armhole, sleeve: Box) -> complex:
    """How far a piece is set aside, in whole mm: its underarm point level with the bicep line, clear of the sleeve."""
    low, high = _piece_extent(piece)
    if piece.side == "back":
        x = math.floor(sleeve[0].real - BETWEEN - high.real)
    else:
        x = math.ceil(sleeve[1].real + BETWEEN - low.real)
    return complex(x, -round(piece.underarm_point.imag))


def _page(title: str, box: Box, body: list[str]) -> str:
    left, top = math.floor(box[0].real - MARGIN), math.floor(-box[1].imag - MARGIN)
    width, height = math.ceil(box[1].real + MARGIN) - left, math.ceil(-box[0].imag + MARGIN) - top
    size = {"width": f"{width}mm", "height": f"{height}mm", "viewBox": f"{left} {top} {width} {height}"}
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', _open("svg", xmlns=SVG, **size)]
    lines += [f"  <title>{escape(title)}</title>", *(f"  {line}" for line in body), "</svg>"]
    return "\n".join(lines) + "\n"


def _sleeve(sleeve: Sleeve, outside: Complexes | None) -> list[str]:
    back, front = sleeve.underarm_point_back, sleeve.underarm_point_front
    lines = [_seam(name, sleeve.seam(name)) for name in SEAMS]
    lines += [_stroke("bicep-line", back, front, **DASHED), _stroke("grain", *sleeve.grain)]
    skip = ""
    for mark, following in zip_longest(sleeve.marks, sleeve.marks[1:]):
        if mark.name == skip:
            skip = ""
        elif following and {_elbow_side(mark), _elbow_side(following)} == set(SIDES):
            lines.append(_stroke("elbow-line", sleeve.mark_point(mark), sleeve.mark_point(following), **DASHED))
            skip = following.name
        else:
            lines.append(_stroke(mark_id(mark), *_tick(sleeve.seam(mark.seam), mark.u, 1.0)))
    if outside is not None:
        corners = " ".join(f"{_xy(complex(round(p.real, 3), round(p.imag, 3)))}" for p in outside)
        lines.append(_single("polygon", id="cut-line", points=corners, **DASHED))
    inset = (front - back) / 20
    lines += [_words("back", back + inset, "start"), _words("front", front - inset, "end")]
    return _group("sleeve", lines)


def _elbow_side(mark: Mark) -> str | None:
    """Which end of the elbow line a mark is, if any."""
    return next((side for side in SIDES if (mark.name, mark.seam) == (f"elbow-{side}", f"underarm-{side}")), None)


def _bodice(piece: Armhole, shift: complex) -> list[str]:
    """One armhole in a group that is set aside; the coordinates inside are the piece's own."""
    side = piece.side
    inwards = complex(-piece.outward, 0)
    lines = [_seam(f"armhole-{side}", piece.seam, **{"data-origin": "0 0"})]
    if piece.side_seam:
        lines.append(_seam(f"side-{side}", piece.side_seam))
    dot = {"cx": _number(piece.across_point.real), "cy": _number(-piece.across_point.imag), "r": "1"}
    lines.append(_single("circle", id=f"across-{side}", **dot))
    for mark in _marks(piece):
        lines.append(_stroke(mark_id(mark), *_tick(piece.seam, mark.u, -piece.outward)))
    lines.append(_words(f"{side} armhole", piece.underarm_point + 5 * inwards, "start" if inwards.real > 0 else "end"))
    return _group(f"bodice-{side}", lines, transform=f"translate({_xy(shift)})")


def _tick(seam: Curve, u: float, left: float) -> tuple[complex, complex]:
    """A short line from a place of a seam outwards, which is to its left (1.0) or right (-1.0)."""
    point = seam.point(u)
    return point, point + 1j * left * seam.tangent(u) * TICK


def _seam(name: str, curve: Curve, **more: str) -> str:
    steps = [f"M{_xy(curve.start)}"]
    for row in curve.controls:
        straight = np.abs(row - cubic.line(complex(row[0]), complex(row[3]))).max() <= STRAIGHT
        if straight:
            steps.append(f"L{_xy(complex(row[3]))}")
        else:
            steps.append("C" + " ".join(_xy(complex(point)) for point in row[1:]))
    return _single("path", id=name, d=" ".join(steps), **more)


def _stroke(name: str, start: complex, end: complex, **more: str) -> str:
    return _single("path", id=name, d=f"M{_xy(start)} L{_xy(end)}", **more)


def _words(text: str, at: complex, anchor: str) -> str:
    place = {"x": _number(at.real), "y": _number(LETTERS * 1.5 - at.imag)}
    style = {"font-family": "sans-serif", "font-size": f"{LETTERS:g}", "text-anchor": anchor}
    return _open("text", **place, **style, stroke="none", fill="#000000") + escape(text) + "</text>"


def _group(name: str, lines: list[str], **more: str) -> list[str]:
    style = {"fill": "none", "stroke": "#000000", "stroke-width": "0.4"}
    return [_open("g", id=name, **more, **style), *(f"  {line}" for line in lines), "</g>"]


def _open(name: str, **attributes: str) -> str:
    return f"<{name} {' '.join(f'{key}={quoteattr(value)}' for key, value in attributes.items())}>"


def _single(name: str, **attributes: str) -> str:
    return _open(name, **attributes)[:-1] + "/>"


def _xy(point: complex) -> str:
    """A point of the pattern, y up, as the page's numbers, y down."""
    return f"{_number(point.real)},{_number(-point.imag)}"


def _number(value: float) -> str:
    """The shortest text that reads back as the same number."""
    return repr(value + 0.0).removesuffix(".0")
