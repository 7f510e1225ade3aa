"""The first pages of a sheet: whose it is, the test square, what each lesson is about, the questions, and blanks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tutor.classwork.canvas import FINE, Box, Item, Page, Words, line, rectangle
from tutor.classwork.lettering import broken
from tutor.classwork.tiles import MARGIN, Paper

SQUARE = 50.0
"""mm that each side of the test square must measure."""
EDGE = 14.0
TEXT, SMALL, HEAD = 3.6, 3.0, 6.0
LINE = 1.45
"""Line spacing in times the letters' size."""
GAP = 3.0
"""mm above and below a figure."""
BLANK = 9.0
"""mm from one blank to the next."""
TEST = (
    "This square must measure",
    "50 mm each way (1 31/32 in).",
    "If it does not, print again",
    "at 100 %, fitted to nothing.",
)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words that are broken into lines; ``before`` is the room above them, ``keep`` the least room left on a page."""

    text: str
    size: float = TEXT
    bold: bool = False
    before: float = 1.5
    keep: float = 0.0


@dataclass(frozen=True, slots=True)
class Blank:
    """A line to write on, after some words."""

    words: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing among the words, ``height`` mm high, its upper left corner at nought."""

    items: tuple[Item, ...]
    height: float


Flow = Paragraph | Blank | Figure


def question_pages(paper: Paper, flow: Sequence[Flow], foot: str, last: int | None = None) -> list[Page]:
    """The flow on as many pages as it takes; the test square stands on the first, at its upper right.

    ``foot`` stands at the foot of each; ``last`` is the number of pages in all, left out while it is not known.
    """
    layout = _Layout(paper)
    for each in flow:
        layout.add(each)
    count = len(layout.pages)
    return [
        Page(paper.width, paper.height, (*items, _foot(paper, foot, number, last or count)))
        for number, items in enumerate(layout.pages, 1)
    ]


def _foot(paper: Paper, foot: str, number: int, last: int) -> Words:
    return Words(complex(MARGIN, paper.height - MARGIN), f"{foot}. Page {number} of {last}", 2.8)


def square_box(paper: Paper) -> Box:
    """Where the test square stands on the first page."""
    corner = complex(paper.width - EDGE - SQUARE, EDGE)
    return Box(corner, corner + complex(SQUARE, SQUARE))


class _Layout:
    """Fills page after page from the top."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.pages: list[list[Item]] = []
        self.y = 0.0
        self._begin()

    def _begin(self) -> None:
        self.pages.append([])
        self.y = EDGE
        if len(self.pages) == 1:
            self.pages[0] += _square(square_box(self.paper))

    @property
    def _left(self) -> float:
        """The room that is left on the page."""
        return self.paper.height - 2 * MARGIN - self.y

    @property
    def _width(self) -> float:
        """The room across: beside the test square there is less."""
        beside = len(self.pages) == 1 and self.y < EDGE + SQUARE
        return self.paper.width - 2 * EDGE - (SQUARE + 6 if beside else 0)

    def add(self, flow: Flow) -> None:
        if isinstance(flow, Blank):
            self._blank(flow)
        elif isinstance(flow, Figure):
            self._figure(flow)
        else:
            self._paragraph(flow)

    def _paragraph(self, paragraph: Paragraph) -> None:
        height = paragraph.size * LINE
        if self._left < max(paragraph.keep, height + paragraph.before):
            self._begin()
        else:
            self.y += paragraph.before
        rest = paragraph.text
        while rest:
            if self._left < height:
                self._begin()
            first = broken(rest, self._width, paragraph.size, bold=paragraph.bold)[0]
            self.y += height
            at = complex(EDGE, self.y)
            self.pages[-1].append(Words(at, first, paragraph.size, bold=paragraph.bold))
            rest = " ".join(rest.split())[len(first) :].strip()

    def _figure(self, figure: Figure) -> None:
        if self._left < figure.height + 2 * GAP:
            self._begin()
        self.y += GAP
        self.pages[-1] += [item.placed(1.0, complex(EDGE, self.y)) for item in figure.items]
        self.y += figure.height + GAP

    def _blank(self, blank: Blank) -> None:
        if self._left < BLANK:
            self._begin()
        right = EDGE + self._width
        self.y += BLANK
        if blank.words:
            self.pages[-1].append(Words(complex(EDGE, self.y), blank.words, SMALL))
        start = EDGE + (40 if blank.words else 0)
        self.pages[-1].append(line(complex(start, self.y + 0.6), complex(right, self.y + 0.6), style=FINE))


def _square(box: Box) -> Iterator[Item]:
    yield rectangle(box, FINE)
    for k, words in enumerate(TEST):
        yield Words(complex((box.low + box.high).real / 2, box.low.imag + 20 + 4.2 * k), words, 2.6, "middle")
