"""A page to be printed: lines and words in millimetres from its upper left corner, y down, as SVG has it.

What is on a page is told once, here; ``page_svg`` and ``page_pdf`` write it down.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from tutor.classwork.lettering import width_of
from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Style:
    """How a line is drawn: its width in mm, its dashes and gaps in mm, and how dark, from 0 (black) to 1 (white)."""

    width: float = 0.35
    dashes: tuple[float, ...] = ()
    grey: float = 0.0


SEAM = Style(0.5)
CUT = Style(0.25, (4.0, 2.0))
HELP = Style(0.2, (1.0, 1.5))
FINE = Style(0.2)
FOLD = Style(0.45, (2.4, 0.7))
JOIN = Style(0.15, (0.6, 1.8), 0.4)


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A line of cubics end to end, shape (n, 4)."""

    rows: Complexes
    style: Style = FINE

    def placed(self, scale: float, shift: complex) -> Stroke:
        return Stroke(self.rows * scale + shift, self.style)


@dataclass(frozen=True, slots=True)
class Words:
    """A line of words: where its foot stands, how high its letters are, in mm, and which point of it ``at`` is.

    It stands ``beside`` that place, in mm of the paper, whatever the place is scaled by.
    """

    at: complex
    text: str
    size: float = 3.2
    anchor: Anchor = "start"
    bold: bool = False
    beside: complex = 0j

    def placed(self, scale: float, shift: complex) -> Words:
        return replace(self, at=self.at * scale + shift)

    def settled(self, scale: float, least: float) -> Words:
        """The words where they stand, letters and distance scaled; letters stay ``least`` mm high, or as given."""
        size = min(self.size, max(self.size * scale, least))
        return replace(self, at=self.at + self.beside * size / self.size, size=size, beside=0j)


Item = Stroke | Words


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: its upper left and lower right corners, mm."""

    low: complex
    high: complex

    @property
    def width(self) -> float:
        return (self.high - self.low).real

    @property
    def height(self) -> float:
        return (self.high - self.low).imag

    def meets(self, other: Box) -> bool:
        """Whether two rectangles have any place in common."""
        across = self.low.real <= other.high.real and other.low.real <= self.high.real
        return across and self.low.imag <= other.high.imag and other.low.imag <= self.high.imag


@dataclass(frozen=True, slots=True)
class Page:
    """A page of a size in mm; ``inside`` is drawn only within ``window``, ``items`` everywhere."""

    width: float
    height: float
    items: tuple[Item, ...]
    inside: tuple[Item, ...] = ()
    window: Box | None = None

    @property
    def words(self) -> str:
        """All that is written on it."""
        return " ".join(item.text for item in (*self.inside, *self.items) if isinstance(item, Words))


def line(*corners: complex, style: Style = FINE) -> Stroke:
    """Straight lines through two or more corners."""
    rows = [cubic.line(a, b) for a, b in itertools.pairwise(corners)]
    return Stroke(np.array(rows), style)


def rectangle(box: Box, style: Style = FINE) -> Stroke:
    """The four sides of a rectangle."""
    low, high = box.low, box.high
    return line(low, complex(high.real, low.imag), high, complex(low.real, high.imag), low, style=style)


def cross(at: complex, size: float, style: Style = FINE) -> tuple[Stroke, Stroke]:
    """An upright cross whose arms are ``size`` mm long."""
    return line(at - size, at + size, style=style), line(at - 1j * size, at + 1j * size, style=style)


def box_of(items: Sequence[Item]) -> Box:
    """The rectangle round all lines, their handles taken in, and round all words."""
    points = [item.rows.ravel() if isinstance(item, Stroke) else _ends(item) for item in items]
    every = np.concatenate(points)
    low = complex(float(every.real.min()), float(every.imag.min()))
    return Box(low, complex(float(every.real.max()), float(every.imag.max())))


def _ends(words: Words) -> Complexes:
    """Two corners of the rectangle round words: where their foot begins, and above where it ends."""
    width = width_of(words.text, words.size, bold=words.bold)
    start = words.at + words.beside - {"start": 0.0, "middle": width / 2, "end": width}[words.anchor]
    return np.array([start, start + complex(width, -words.size)])
