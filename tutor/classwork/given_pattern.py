"""The pattern that was handed out to be altered, told from one that was: editors save either under the given name."""

from __future__ import annotations

from tutor.classwork.drawn_pattern import read_drawn
from tutor.classwork.outline_points import apart, outline_points
from tutor.faults import Fault
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_write import write_svg

SAME = 0.1
"""mm by which an editor that rewrites its numbers may move an outline that nobody has altered; no answer is so near."""


def is_as_dealt(svg: bytes, block: Pattern) -> bool:
    """Whether an SVG file draws nothing but ``block``: seams and notches within 0.1 mm, root of mean squares.

    What can't be read as a pattern does not: somebody has changed it.
    """
    if svg == write_svg(block).encode():
        return True
    try:
        drawn = read_drawn(svg, "pattern", block).pattern
    except Fault:
        return False
    return apart(outline_points(drawn), outline_points(block)) <= SAME
