"""The panel beside the picture: what is asked, the tape, and the plan to choose from."""

from __future__ import annotations

from rich.style import Style
from textual import events
from textual.message import Message

from tutor.tui.rows import Row, Rows
from tutor.tui.side_lines import SideLine, SideState, side_lines
from tutor.tui.themes import written


class Side(Rows[str]):
    """Shows a state. Posts ``Chosen`` for a click on a line of the plan, ``Wanted`` on others that do something."""

    class Chosen(Message):
        """A line of the plan was clicked."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    class Wanted(Message):
        """A line was clicked that stands for an action of the list, by its name."""

        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._state: SideState | None = None
        self._lines: tuple[SideLine, ...] = ()

    def show(self, state: SideState) -> None:
        """Shows another state; lines that come out the same are not sent again."""
        self._state = state
        self.renew()

    def on_click(self, event: events.Click) -> None:
        line = self._lines[event.y] if 0 <= event.y < len(self._lines) else SideLine("", "$text")
        if line.key:
            self.post_message(self.Chosen(line.key))
        elif line.action:
            self.post_message(self.Wanted(line.action))

    def style(self, look: str | None) -> Style:
        return written(self.app.theme, look or "$text")

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        # A column stays free between picture and panel.
        width -= 1
        if self._state is None or width <= 0:
            return []
        self._lines = side_lines(self._state, width, height, ascii=self._ascii)
        return [((" ", "$text"), (line.text.ljust(width), line.style)) for line in self._lines]
