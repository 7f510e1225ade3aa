"""What lines are laid out on: so many columns, in all letters or in those of ASCII."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TextIO

from tutor.letters import in_ascii, takes_every_letter
from tutor.practice.whole_figures import NO_BREAK, kept_together

USUAL, NARROWEST, WIDEST = 80, 40, 120
NARROWEST_COLUMN = 14
Row = Sequence[str]


def _row_in_words(heads: Row, row: Row) -> str:
    named = [f"{head} {cell}" for head, cell in zip(heads[1:], row[1:], strict=True) if cell]
    return f"{row[0]}: {', '.join(named)}"


@dataclass(frozen=True, slots=True)
class Page:
    """Lines of at most ``width`` letters, and never less than 40; with ``ascii`` all are letters of ASCII.

    Some letters are several in ASCII, so that they are spelled before anything is laid out.
    """

    width: int = USUAL
    ascii: bool = False

    @classmethod
    def on(cls, output: TextIO | None, width: int, ascii: bool | None = None) -> Page:
        """The page for an output, at most 120 wide; ``ascii`` left out is what output and locale ask for."""
        return cls(min(width, WIDEST), not takes_every_letter(output) if ascii is None else ascii)

    def spelled(self, text: str) -> str:
        """The text in the letters of the page."""
        return in_ascii(text) if self.ascii else text

    def wrapped(self, text: str, indent: str = "", hanging: str | None = None) -> list[str]:
        """The text in lines, its figures whole; ``hanging`` indents all but the first."""
        after = indent if hanging is None else hanging
        return _lines(self.spelled(text), max(self.width, NARROWEST), indent, after) or [""]

    def table(
        self, rows: Sequence[Row], left: int = 1, *, in_words: Callable[[Row, Row], str] = _row_in_words
    ) -> list[str]:
        """Columns two apart, the first ``left`` of them to the left and the others to the right.

        Where the width is too little the first column is broken into lines; where it is still too little, each row is
        written out as a sentence instead, which ``in_words`` makes of the heads and the row.
        """
        spelled = [[self.spelled(cell) for cell in row] for row in rows]
        widths = [max(map(len, column)) for column in zip(*spelled, strict=True)]
        over = sum(widths) + 2 * (len(widths) - 1) - max(self.width, NARROWEST)
        if over > 0 and widths[0] - over < NARROWEST_COLUMN:
            heads = rows[0]
            return [line for row in rows[1:] for line in self.wrapped(in_words(heads, row), "", "  ")]
        widths[0] -= max(over, 0)
        return [line for row in spelled for line in _row_lines(row, widths, left)]


def _lines(text: str, width: int, first: str, further: str) -> list[str]:
    """The text in lines, none of which ends between a figure and its unit; nothing of no text."""
    lines = textwrap.wrap(kept_together(text), width, initial_indent=first, subsequent_indent=further)
    return [line.replace(NO_BREAK, " ") for line in lines]


def _row_lines(row: Row, widths: Sequence[int], left: int) -> list[str]:
    """A row with its first cell broken into lines of its column's width; the figures stand in the last of them."""
    *above, first = _lines(row[0], widths[0], "", "  ") or [""]
    cells = [
        f"{cell:<{w}}" if k < left else f"{cell:>{w}}"
        for k, (cell, w) in enumerate(zip((first, *row[1:]), widths, strict=True))
    ]
    return [*above, "  ".join(cells).rstrip()]
