"""A pattern read from an SVG file, the W3C's standard, whose elements carry ids in trade words.

Required are the seams cap-back, cap-front, underarm-front, hem and underarm-back, drawn in any order and direction,
anywhere on the page and turned as the grain line says, the back to the left of the front once the grain points up.
Optional are grain, bicep-line, elbow-line and notches; and of each bodice piece, upright on the page, armhole-back,
side-back, across-back and its notches, and the same for the front. Notches and across points are circles, ellipses or
rectangles whose centre lies on the seam, or lines that start on it. Only seam lines are read: any other element, such
as a cut line, means nothing.
"""

from __future__ import annotations

from pathlib import Path

from tutor.faults import Fault
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_armhole import read_armholes
from tutor.pattern.svg_drawing import Drawing
from tutor.pattern.svg_ids import is_known, is_mark
from tutor.pattern.svg_page import Page
from tutor.pattern.svg_sleeve import read_sleeve
from tutor.pattern.svg_tree import read_tree

MOST_MARKS = 100
LONGEST_ID = 100


def read_svg(source: Path | bytes, where: str) -> Pattern:
    """The pattern drawn in an SVG file, its sleeve in its frame; ``where`` names the file in faults.

    Seams whose ends miss each other by up to 0.5 mm are closed. Without a grain line the grain runs from the crown
    square to the bicep line. Each armhole has its underarm point at the origin, unless the file says what it is
    measured from (``data-origin``, two numbers in the element's own units); without an across point that is where the
    armhole lies deepest in the piece, or half way up if no place lies deeper than the shoulder tip. Raises Fault,
    with line and id where there are such, for whatever can't be read as a pattern.
    """
    pattern, _ = pattern_drawn(Page(Drawing(read_tree(source, where), where, is_known), where))
    return pattern


def pattern_drawn(page: Page) -> tuple[Pattern, complex]:
    """The pattern drawn on a page, and by what its sleeve was turned to stand upright, a complex number of modulus 1.

    Raises Fault as ``read_svg``.
    """
    _refuse_marks(page)
    sleeve = read_sleeve(page)
    top, bottom = sleeve.grain
    up = (top - bottom) / abs(top - bottom)
    armholes = read_armholes(page, upright=page.care.upright is not None or up.imag > abs(up.real))
    title = next((child.text for child in page.drawing.root.children if child.name == "title"), "")
    return Pattern(sleeve.framed(), armholes.get("back"), armholes.get("front"), one_line(title)), 1j / up


def one_line(title: str) -> str:
    """A title without line breaks, spaces beyond one, and what can't be printed."""
    return " ".join("".join(letter for letter in title if letter.isprintable() or letter.isspace()).split())


def _refuse_marks(page: Page) -> None:
    marks = [name for name in page.drawing.ids if is_mark(name)]
    if len(marks) > MOST_MARKS:
        raise Fault(page.where, f"has {len(marks)} notches", f"a pattern has at most {MOST_MARKS}")
    for name in marks:
        if not name.isprintable() or len(name) > LONGEST_ID:
            raise page.fault(name, "has an id that can't be shown", "use letters, figures and hyphens")
