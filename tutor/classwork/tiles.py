"""A piece laid over as many pages as it needs, with overlaps and marks by which the pages are put together.

Marks and glue lines are places of the piece itself, drawn on both pages that share them, so that pages which are laid
mark on mark lie right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tutor.classwork.canvas import FINE, JOIN, Box, Item, Page, Words, box_of, cross, line
from tutor.classwork.pattern_print import Piece

MARGIN = 10.0
FOOT = 8.0
"""mm of each page's lower edge, inside its margin, for the words that say which page it is."""
OVERLAP = 16.0
ROOM = 6.0
"""Free paper round a piece, in mm."""
MARK = 4.0
"""mm of each arm of a mark."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper in mm, upright."""

    name: str
    width: float
    height: float

    @property
    def sideways(self) -> Paper:
        return Paper(self.name, self.height, self.width)

    @property
    def window(self) -> Box:
        """The part of the page that a pattern may take."""
        return Box(complex(MARGIN, MARGIN), complex(self.width - MARGIN, self.height - MARGIN - FOOT))


PAPERS = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("Letter", 215.9, 279.4)}
"""A4 by ISO 216; Letter is 8 1/2 by 11 inches (ANSI/ASME Y14.1, size A)."""


@dataclass(frozen=True, slots=True)
class Grid:
    """How many columns and rows of pages a piece takes, and how far each is from the next, in mm."""

    paper: Paper
    columns: int
    rows: int

    @property
    def step(self) -> complex:
        window = self.paper.window
        return complex(window.width - OVERLAP, window.height - OVERLAP)

    @property
    def count(self) -> int:
        return self.columns * self.rows


def grid_for(box: Box, paper: Paper) -> Grid:
    """The grid of fewest pages, upright or sideways, for a piece of this size at its scale."""
    return min((_grid(box, each) for each in (paper, paper.sideways)), key=lambda grid: grid.count)


def _grid(box: Box, paper: Paper) -> Grid:
    window = paper.window
    counts = (
        max(math.ceil((size + 2 * ROOM - OVERLAP) / (room - OVERLAP)), 1)
        for size, room in ((box.width, window.width), (box.height, window.height))
    )
    return Grid(paper, *counts)


def tiled(piece: Piece, scale: float, paper: Paper, foot: str, first: int, last: int) -> list[Page]:
    """The pages of a piece at a scale, row by row; ``foot`` stands at the foot of each.

    They are numbered from ``first``, of ``last`` in all.
    """
    placed = piece.placed(scale)
    box = piece.box(scale)
    grid = grid_for(box, paper)
    # The piece lies in the middle of all the paper there is.
    window = grid.paper.window
    whole = complex(
        (grid.columns - 1) * grid.step.real + window.width, (grid.rows - 1) * grid.step.imag + window.height
    )
    corner = (box.low + box.high) / 2 - whole / 2
    marks = tuple(_marks(grid, corner))
    pages = []
    for number in range(grid.count):
        row, column = divmod(number, grid.columns)
        origin = corner + complex(column * grid.step.real, row * grid.step.imag)
        where = f"{piece.name}, row {row + 1} of {grid.rows}, column {column + 1} of {grid.columns}"
        words = f"{foot}. {where}. Page {first + number} of {last}"
        pages.append(_page((*placed, *marks), origin, grid.paper, words))
    return pages


def _page(items: tuple[Item, ...], origin: complex, paper: Paper, words: str) -> Page:
    """One page: what of the items lies in its window, whose upper left corner is at ``origin``."""
    window = paper.window
    seen = Box(origin, origin + complex(window.width, window.height))
    shift = window.low - origin
    inside = tuple(item.placed(1.0, shift) for item in items if _meets(item, seen))
    foot = Words(complex(MARGIN, paper.height - MARGIN), words, 2.8)
    return Page(paper.width, paper.height, (foot,), inside, window)


def _meets(item: Item, seen: Box) -> bool:
    return box_of([item]).meets(seen)


def _marks(grid: Grid, corner: complex) -> Iterator[Item]:
    """Along the middle of every overlap: a line to glue along, and marks with the same name on both pages."""
    window, step = grid.paper.window, grid.step
    for column in range(1, grid.columns):
        x = corner.real + column * step.real + OVERLAP / 2
        top, bottom = corner.imag, corner.imag + (grid.rows - 1) * step.imag + window.height
        yield line(complex(x, top), complex(x, bottom), style=JOIN)
        for row in range(grid.rows):
            for k, share in enumerate((0.3, 0.7)):
                at = complex(x, corner.imag + row * step.imag + share * window.height)
                yield from _mark(at, f"{chr(96 + column)}{2 * row + k + 1}")
    for row in range(1, grid.rows):
        y = corner.imag + row * step.imag + OVERLAP / 2
        left, right = corner.real, corner.real + (grid.columns - 1) * step.real + window.width
        yield line(complex(left, y), complex(right, y), style=JOIN)
        for column in range(grid.columns):
            for k, share in enumerate((0.3, 0.7)):
                at = complex(corner.real + column * step.real + share * window.width, y)
                yield from _mark(at, f"{chr(64 + row)}{2 * column + k + 1}")


def _mark(at: complex, name: str) -> Iterator[Item]:
    yield from cross(at, MARK, FINE)
    yield Words(at + complex(1.2, -1.2), name, 2.6)
