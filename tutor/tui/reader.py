"""A page of text laid over the screen: help, the brief, hints, marks, the legend, all measures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static


class Reader(ModalScreen[str]):
    """Text to be read, with a heading. Any of ``closing`` keys closes it and is its result; Esc and Enter always do."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "done('escape')", show=False),
        Binding("enter", "done('enter')", show=False),
        Binding("space", "scroll(1)", show=False),
        Binding("pagedown", "scroll(1)", show=False),
        Binding("pageup", "scroll(-1)", show=False),
        Binding("down,j", "line(1)", show=False),
        Binding("up,k", "line(-1)", show=False),
        Binding("home", "end(-1)", show=False),
        Binding("end", "end(1)", show=False),
        Binding("ctrl+c,ctrl+q", "app.quit", show=False, priority=True),
    ]

    def __init__(self, heading: str, text: Content, *, closing: Sequence[tuple[str, str]] = ()) -> None:
        super().__init__()
        self._heading = heading
        self._text = text
        self._ways = tuple(closing)
        for key, _ in closing:
            self._bindings.bind(key, f"done('{key}')", show=False)

    def compose(self) -> ComposeResult:
        with Vertical(id="reader"):
            yield Static(Content(self._heading), id="reader-heading")
            with VerticalScroll(id="reader-page", can_focus=False):
                yield Static(self._text)
            yield Static(Content(self._foot()), id="reader-foot")

    def _foot(self) -> str:
        others = "".join(f" · {words}" for _, words in self._ways)
        return f"Enter: go on{others}" if self._ways else "Enter: close"

    @property
    def page(self) -> VerticalScroll:
        return self.query_one("#reader-page", VerticalScroll)

    def action_done(self, key: str) -> None:
        self.dismiss(key)

    def action_scroll(self, pages: int) -> None:
        height = max(self.page.size.height - 1, 1)
        self.page.scroll_relative(y=pages * height, animate=False)

    def action_line(self, lines: int) -> None:
        self.page.scroll_relative(y=lines, animate=False)

    def action_end(self, way: int) -> None:
        self.page.scroll_to(y=0 if way < 0 else self.page.max_scroll_y, animate=False)
