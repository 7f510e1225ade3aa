"""An altered pattern as a learner drew it, in an editor of drawings or by tracing points, read with a teacher's eye.

Seams need not meet to the hair, marks may have been left behind, ids may have been rewritten as editors do, and what
was traced is smoothed. Corners of traced seams lie where the smooth lines meet: a line is known better than its end.
"""

from __future__ import annotations

import contextlib
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from tutor.classwork.drawn_scale import ODD
from tutor.classwork.drawn_sides import check_sides
from tutor.classwork.drawn_turn import Turns, upright
from tutor.classwork.trace_spacing import Trace, trace_of
from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.geometry.smoothing import smoothed
from tutor.pattern.joining import middle
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS
from tutor.pattern.svg_drawing import Drawing
from tutor.pattern.svg_ids import SIDES, is_known
from tutor.pattern.svg_page import Care, Page
from tutor.pattern.svg_read import pattern_drawn
from tutor.pattern.svg_tree import Element, read_tree

MEET = 4.0
"""mm by which ends of seams may miss each other."""
LOOP = 10.0
"""mm before a corner within which seams may cross."""
NEAR = 60.0
"""mm that a mark which was left behind may lie from its seam."""
EXACT = 0.05
"""mm; a drawing whose seams meet this well, and which was not traced, is taken as it is."""
SHARP = 0.9
"""Radians by which lines must cross for their crossing to be a better corner than the middle of their ends."""
NAMES = ("data-name", "label")
"""Attributes in which editors keep what a line is called, and may give it another id."""
_SUFFIX = re.compile(r"_\d+_\Z")
_ESCAPE = re.compile(r"_x([0-9A-Fa-f]{2})_")
_BETWEEN = re.compile(r"[\s_]+")


@dataclass(frozen=True, slots=True)
class Drawn:
    """A pattern as drawn, whether so exactly that its seams can be taken as they are, what was turned, how traced."""

    pattern: Pattern
    exact: bool
    turns: Turns
    traces: Mapping[str, Trace]
    """Of each seam that has straight stretches, and a seam it was altered from, how it was traced."""


@dataclass(slots=True)
class _Hand:
    """What reading finds out about how a pattern was drawn."""

    like: Mapping[str, Curve]
    traced: set[complex] = field(default_factory=set)
    """Ends of seams that were smoothed."""
    widest: float = 0.0
    turned: dict[str, complex] = field(default_factory=dict)
    """By what bodice pieces are turned to stand upright."""
    armholes: dict[str, Curve] = field(default_factory=dict)
    """Of those pieces that are of their size, the seams as they were drawn."""

    def upright(self, name: str, seam: Curve) -> complex:
        # One at another scale is looked at as it lies: its scale is what there is to tell of it, once all is read.
        like = self.like.get(name)
        of_its_size = like is not None and 1 / ODD < seam.length() / like.length() < ODD
        turn = upright(seam, like) if like is not None and of_its_size else 1 + 0j
        side = name.removeprefix("armhole-")
        self.turned[side] = turn
        if of_its_size:
            self.armholes[side] = seam
        return turn

    traces: dict[str, Trace] = field(default_factory=dict)

    def smooth(self, name: str, curve: Curve) -> Curve:
        trace = trace_of(curve, self.like[name]) if name in self.like else None
        if trace is not None:
            self.traces[name] = trace
        found = smoothed(curve, self.like.get(name))
        if found is not curve:
            self.traced |= {found.start, found.end}
        return found

    def corner(self, first: Curve, second: Curve) -> complex:
        self.widest = max(self.widest, abs(first.end - second.start))
        between = middle(first, second)
        if first.end not in self.traced or second.start not in self.traced:
            return between
        met = _crossing(first, second)
        return met if met is not None and abs(met - between) <= MEET else between

    @property
    def is_exact(self) -> bool:
        return not self.traced and self.widest <= EXACT


def _crossing(first: Curve, second: Curve) -> complex | None:
    """Where the end of one line and the start of another, made longer, cross; None where they run alike."""
    a, b = first.tangent(float(len(first)), arriving=True), second.tangent(0)
    sine = (a.conjugate() * b).imag
    if abs(sine) < math.sin(SHARP):
        return None
    along = ((second.start - first.end).conjugate() * b).imag / sine
    return first.end + along * a


def read_drawn(svg: bytes, where: str, block: Pattern) -> Drawn:
    """The pattern in an SVG file as a learner drew it, altered from ``block``.

    Raises Fault for what can't be read as a pattern.
    """
    root = read_tree(svg, where)
    _rename(root)
    hand = _Hand(_seams(block))
    care = Care(MEET, NEAR, hand.smooth, hand.corner, LOOP, hand.upright)
    page = Page(Drawing(root, where, _is_looked_at), where, care)
    try:
        pattern, turn = pattern_drawn(page)
    except Fault:
        _check_sides(page, hand, where)
        raise
    except (ValueError, ArithmeticError, IndexError):
        _check_sides(page, hand, where)
        raise Fault(
            where, "draws seams that make no pattern", "draw each seam as one line that doesn't cross itself"
        ) from None
    _check_sides(page, hand, where)
    return Drawn(pattern, hand.is_exact, Turns(turn, hand.turned), hand.traces)


def _check_sides(page: Page, hand: _Hand, where: str) -> None:
    """Raises Fault for armholes in each other's place or in a mirror, also where nothing else of them can be read."""
    sides = {side: hand.like[f"armhole-{side}"] for side in SIDES if f"armhole-{side}" in hand.like}
    if not hand.armholes:
        return
    for side in sides:
        # The first fault ends reading, and half of what was drawn tells less than all of it.
        if side not in hand.armholes and page.has(f"armhole-{side}"):
            with contextlib.suppress(Fault, ValueError, ArithmeticError, IndexError):
                hand.upright(f"armhole-{side}", page.seam(f"armhole-{side}"))
    check_sides(hand.armholes, sides, where)


def _seams(block: Pattern) -> dict[str, Curve]:
    """The seams of a block by the ids they are drawn under."""
    found = {name: block.sleeve.seam(name) for name in SEAMS}
    for side in SIDES:
        piece = block.armhole(side)
        if piece is not None:
            found[f"armhole-{side}"] = piece.seam
            found |= {} if piece.side_seam is None else {f"side-{side}": piece.side_seam}
    return found


def _is_looked_at(name: str) -> bool:
    """Whether an id is the pattern's; the bicep line follows from the seams, wherever it may have been left."""
    return is_known(name) and name != "bicep-line"


def _rename(root: Element) -> None:
    """Gives elements the ids that they had before an editor rewrote them, or their labels, where nothing has those."""
    elements = list(_all(root))
    taken = {element.id for element in elements}
    for element in elements:
        for text in filter(None, (element.id, *map(element.attributes.get, NAMES))):
            name = _plain(text)
            if name not in taken and is_known(name):
                element.attributes["id"] = name
                taken.add(name)


def _plain(name: str) -> str:
    """An id without what editors make of it: escapes, a number at its end, capitals, blanks and underlines."""
    bare = _SUFFIX.sub("", name[:200])
    bare = _ESCAPE.sub(lambda match: chr(int(match[1], 16)), bare)
    return _BETWEEN.sub("-", bare.strip()).casefold()


def _all(root: Element) -> Iterator[Element]:
    waiting = [root]
    while waiting:
        element = waiting.pop()
        yield element
        waiting.extend(element.children)
