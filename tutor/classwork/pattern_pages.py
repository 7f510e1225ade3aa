"""A pattern by itself on pages to be printed, with a square by which the printer is checked."""

from __future__ import annotations

from tutor.classwork.canvas import FINE, Page, Words, line
from tutor.classwork.pattern_print import Piece, pieces_of
from tutor.classwork.sheet import SCALE_WORDS, SCALES, Look
from tutor.classwork.tiles import grid_for, tiled
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve

SQUARE = {"full": 50.0, "half": 50.0, "quarter": 20.0}
"""mm of each side of the square, as it is printed."""
BELOW = 30.0
"""mm between bicep line and square, as printed."""


def pattern_pages(pattern: Pattern, title: str, look: Look, allowance: float) -> list[Page]:
    """The pages of a pattern's sleeve and armholes; a cut line lies ``allowance`` mm outside the seams."""
    scale = SCALES[look.scale]
    sleeve, *others = pieces_of(pattern, allowance if look.cut_line else 0.0, armholes=True)
    pieces = [with_square(sleeve, pattern.sleeve, scale, SQUARE[look.scale]), *others]
    last = sum(grid_for(piece.box(scale), look.paper).count for piece in pieces)
    pages: list[Page] = []
    for piece in pieces:
        foot = f"{title}, {SCALE_WORDS[look.scale]}"
        pages += tiled(piece, scale, look.paper, foot, len(pages) + 1, last)
    return pages


def with_square(piece: Piece, sleeve: Sleeve, scale: float, side: float) -> Piece:
    """The sleeve with a square below the bicep line, of ``side`` mm once it is printed at ``scale``."""
    middle = (sleeve.underarm_point_back + sleeve.underarm_point_front) / 2
    corner = complex(middle.real - side / scale / 2, -middle.imag + BELOW / scale)
    across, down = side / scale, 1j * side / scale
    ring = (corner, corner + across, corner + across + down, corner + down, corner)
    words = Words(corner + complex(2, 6) / scale, f"{side:.0f} mm each way")
    return Piece(piece.name, (*piece.items, line(*ring, style=FINE), words))
