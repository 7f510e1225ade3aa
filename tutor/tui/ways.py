"""Ways on from a page or a question: keys with their words, each to be clicked as well."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from tutor.tui.spelling import spelled_out

APART = "   "


class Ways(Widget):
    """Shows ways, each a key's name with how it is written and what it does. Posts ``Chosen`` for a click."""

    can_focus = False

    class Chosen(Message):
        """A way was clicked."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._shown: tuple[tuple[str, str, str], ...] = ()

    def show(self, ways: Sequence[tuple[str, str, str]]) -> None:
        """Shows ways: (key, as written, words)."""
        spelled = tuple((key, *(spelled_out(text, ascii=self._ascii) for text in texts)) for key, *texts in ways)
        fresh = tuple((key, written, words) for key, written, words in spelled)
        if fresh != self._shown:
            self._shown = fresh
            self.refresh(layout=True)

    def place(self, key: str) -> tuple[int, int]:
        """Where a way stands: column and row."""
        return next((start, row) for name, row, start, _ in self._spans() if name == key)

    def rows_in(self, width: int) -> int:
        """How many rows the ways take in so many columns."""
        return max((row for _, row, _, _ in self._spans(width)), default=0) + 1

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self.rows_in(width)

    def render(self) -> Content:
        parts: list[tuple[str, str]] = []
        before = 0
        for (_, row, start, _), (_, written, words) in zip(self._spans(), self._shown, strict=True):
            apart = "\n" if row > before else APART if start else ""
            parts += [(apart, ""), (written, "bold $strong"), (f" {words}", "$text")]
            before = row
        return Content.assemble(*parts)

    def on_click(self, event: events.Click) -> None:
        for key, row, start, end in self._spans():
            if row == event.y and start <= event.x < end:
                self.post_message(self.Chosen(key))

    def _spans(self, width: int = 0) -> list[tuple[str, int, int, int]]:
        """Each way's key, its row, and the columns where it starts and ends; a way that does not fit begins a row."""
        width = width or self.size.width
        found, row, column = list[tuple[str, int, int, int]](), 0, 0
        for key, written, words in self._shown:
            size = len(written) + 1 + len(words)
            if column and column + size > width > 0:
                row, column = row + 1, 0
            found.append((key, row, column, column + size))
            column += size + len(APART)
        return found
