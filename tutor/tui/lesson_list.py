"""The lessons as lines to choose from; the chosen one has a sign as well as a colour of its own."""

from __future__ import annotations

from collections.abc import Sequence

from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.message import Message

from tutor.tui.rows import Row, Rows
from tutor.tui.themes import written

CHOSEN, OTHER = ">", " "
AT = "bold $page on $chosen"
UNDER = "$text on $bar"
"""The line that is chosen, and the one that the mouse is on."""
THUMB = "|"
"""Stands beside lines in view where there are more than there is room for, beside as many as is their share."""


class LessonList(Rows[str]):
    """Lines, one of them chosen. Posts ``Opened`` when one is clicked."""

    class Opened(Message):
        """A line was clicked."""

        def __init__(self, line: int) -> None:
            super().__init__()
            self.line = line

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words: tuple[str, ...] = ()
        self._chosen = 0
        self._first = 0
        self._height = 0
        self._under: int | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The lines as they are to be read."""
        return self._words

    @property
    def chosen(self) -> int | None:
        """The number of the chosen line, from 0; None where there are no lines."""
        return self._chosen if self._words else None

    @property
    def page(self) -> int:
        """How many lines are in view, but for one that stays; 1 at the least."""
        return max(self.size.height - 1, 1)

    def show(self, words: Sequence[str], chosen: int) -> None:
        """Shows other lines, and chooses one of them."""
        if len(words) != len(self._words):
            self.refresh(layout=True)
        self._words = tuple(words)
        self.choose(chosen)

    def choose(self, line: int) -> None:
        """Chooses a line, as far as there are lines."""
        self._chosen = min(max(line, 0), max(len(self._words) - 1, 0))
        self._keep_in_view(self.size.height)
        self.renew()

    def style(self, look: str | None) -> Style:
        return written(self.app.theme, look or "$text")

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._words)

    def on_mouse_move(self, event: events.MouseMove) -> None:
        self._point(self._first + event.y)

    def on_leave(self, event: events.Leave) -> None:
        self._point(None)

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self._scroll(1)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self._scroll(-1)

    def on_click(self, event: events.Click) -> None:
        line = self._first + event.y
        if line < len(self._words):
            self.choose(line)
            self.post_message(self.Opened(line))

    def _point(self, line: int | None) -> None:
        if line != self._under:
            self._under = line
            self.renew()

    def _scroll(self, lines: int) -> None:
        """Brings lines into view that are not, whether or not the chosen one stays."""
        first = min(max(self._first + lines, 0), max(len(self._words) - self.size.height, 0))
        if first != self._first:
            self._first = first
            self.renew()

    def _keep_in_view(self, height: int) -> None:
        if not height:
            return
        self._first = min(max(self._first, self._chosen - height + 1), self._chosen, max(len(self._words) - height, 0))

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        if height != self._height:
            self._height = height
            self._keep_in_view(height)
        shown = range(self._first, min(self._first + height, len(self._words)))
        return [self._line(line, max(width - 2, 2), height) for line in shown]

    def _line(self, line: int, width: int, height: int) -> Row[str]:
        sign = CHOSEN if line == self._chosen else OTHER
        look = AT if line == self._chosen else UNDER if line == self._under else "$text"
        beside = " " if len(self._words) <= height else self._thumb(line - self._first, height)
        return (" ", "$text"), (f"{sign}{self._words[line]}"[:width].ljust(width), look), (beside, "$quiet")

    def _thumb(self, row: int, height: int) -> str:
        """The sign at the right of a row: a thumb beside those rows whose share of all lines is in view."""
        top = self._first * height // len(self._words)
        size = max(height * height // len(self._words), 1)
        top = height - size if self._first + height >= len(self._words) else min(top, height - size)
        return THUMB if top <= row < top + size else " "
