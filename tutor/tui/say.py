"""The line that says what to do next, cut to the room there is."""

from __future__ import annotations

import textwrap

from textual import events
from textual.content import Content
from textual.widget import Widget

from tutor.tui.spelling import spelled_out


class Say(Widget):
    """Shows a text over all its rows; what does not fit is cut off at a mark."""

    can_focus = False

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._words = ""

    @property
    def words(self) -> str:
        """The whole text, whether it fits or not."""
        return self._words

    def show(self, words: str) -> None:
        """Shows another text."""
        if words != self._words:
            self._words = words
            self.refresh()

    def on_resize(self, event: events.Resize) -> None:
        self.refresh()

    def render(self) -> Content:
        lines = textwrap.wrap(spelled_out(self._words, ascii=self._ascii), max(self.size.width, 1))
        if len(lines) > self.size.height > 0:
            lines = lines[: self.size.height]
            lines[-1] = lines[-1][: self.size.width - 2].rstrip() + (" ~" if self._ascii else " …")
        return Content("\n".join(lines))
