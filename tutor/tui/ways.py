"""Ways on from a page or a question: keys with their words in one line, each to be clicked as well."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content
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
            self.refresh()

    def place(self, key: str) -> tuple[int, int]:
        """Where a way stands: column and row."""
        return next((start, 0) for name, start, _ in self._spans() if name == key)

    def render(self) -> Content:
        parts: list[tuple[str, str]] = []
        for _, written, words in self._shown:
            parts += [(written, "bold $strong"), (f" {words}{APART}", "$text")]
        return Content.assemble(*parts)

    def on_click(self, event: events.Click) -> None:
        for key, start, end in self._spans():
            if start <= event.x < end:
                self.post_message(self.Chosen(key))

    def _spans(self) -> list[tuple[str, int, int]]:
        found, column = [], 0
        for key, written, words in self._shown:
            end = column + len(written) + 1 + len(words)
            found.append((key, column, end))
            column = end + len(APART)
        return found
