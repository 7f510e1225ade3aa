"""What a lesson is about, below the list."""

from __future__ import annotations

from collections.abc import Sequence

from rich.style import Style

from tutor.tui.pages import Part
from tutor.tui.rows import Row, Rows
from tutor.tui.spelling import spelled_out
from tutor.tui.themes import written
from tutor.tui.wrapping import cut_short, wrapped


class About(Rows[str]):
    """Shows a text in parts, each with its style, which changes from line to line only; as much as there is room for,
    and a sign where there is more.

    A row above it and a column on either side stay free.
    """

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._lines: tuple[tuple[str, str], ...] = ()

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """The text in lines as they were given, each with its style."""
        return self._lines

    def show(self, parts: Sequence[Part]) -> None:
        """Shows another text."""
        lines = [("", "$text")]
        for text, style in parts:
            first, *more = spelled_out(text, ascii=self._ascii).split("\n")
            if first:
                lines[-1] = (lines[-1][0] + first, style)
            lines += [(line, style) for line in more]
        self._lines = tuple(lines)
        self.renew()

    def style(self, look: str | None) -> Style:
        return written(self.app.theme, look or "$text")

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        width = max(width - 2, 1)
        rows = [("", "$text"), *((row, style) for line, style in self._lines for row in wrapped(line, width) or ("",))]
        rows += [("", "$text")] * (height - len(rows))
        if len(rows) > height > 0:
            row, style = rows[height - 1]
            more = spelled_out("…", ascii=self._ascii)
            rows[height - 1] = cut_short(row, width, more), style
        return [((f" {row.ljust(width)} ", style),) for row, style in rows[:height]]
