"""A page of text laid over the screen: help, the brief, hints, marks, the legend, all measures."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from tutor.tui.pages import Part, keys_parts, page
from tutor.tui.prose import Prose
from tutor.tui.sizes import size_classes
from tutor.tui.ways import Ways

_READING_KEYS = (
    ("↑ ↓", "a line up or down"),
    ("PgUp PgDn", "a page up or down (also Space)"),
    ("Home End", "to the beginning, to the end"),
    ("q", "leave the tutor"),
)
CHROME = 6
"""Rows that frame, heading and gaps take, the foot not counted."""

WIDEST, FRAME = 84, 4
"""Columns that a page takes at most, as the style sheet has it, and those of its frame."""
BESIDE_FROM = 100
"""Columns from which a page about the picture lies over the panel beside it, and leaves the picture to be seen."""
ABOUT_IT = 4
"""Rows above and below a page beside the picture: the head's, and those of guide and footer, which are not for it."""
CHOSEN = "do "
"""What the result begins with where an action was chosen on the page."""


class Reader(ModalScreen[str]):
    """Text to be read, with a heading; where its parts hang on the columns there are, what makes them is given.

    Any of the ``closing`` keys, each with its words, closes it and is its result; Esc and Enter always do. An action
    that is clicked on the page closes it too. A page that is ``beside`` the picture does not cover it, where there is
    room.
    """

    CSS_PATH = "pages.tcss"
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
        Binding("question_mark,f1", "help", show=False),
        Binding("q", "app.quit", show=False),
        Binding("ctrl+c,ctrl+q", "app.quit", show=False, priority=True),
    ]

    def __init__(
        self,
        heading: str,
        parts: Sequence[Part] | Callable[[int], Sequence[Part]],
        *,
        ascii: bool = False,
        closing: Sequence[tuple[str, str]] = (),
        enter: str = "",
        is_help: bool = False,
        beside: bool = False,
    ) -> None:
        super().__init__()
        self._may_be_beside = beside
        self._heading = page([(heading, "")], ascii=ascii)
        self._parts = parts
        self._ascii = ascii
        self._is_help = is_help
        self._ways = tuple(closing)
        self._enter = enter or "close"
        for key, _ in closing:
            self._bindings.bind(key, f"done('{key}')", show=False)

    @property
    def words(self) -> str:
        """Heading and text, as they are to be read."""
        return f"{self._heading.plain}\n{self._text(WIDEST - FRAME).plain}"

    def _text(self, width: int) -> Content:
        parts = self._parts(width) if callable(self._parts) else self._parts
        return page(parts, ascii=self._ascii)

    def compose(self) -> ComposeResult:
        with Vertical(id="reader"):
            yield Static(self._heading, id="reader-heading")
            with VerticalScroll(id="reader-page", can_focus=False):
                yield Prose(self._text if callable(self._parts) else self._text(0))
            yield Ways(ascii=self._ascii, id="reader-foot")
        yield Static(id="reader-veil")

    def on_mount(self) -> None:
        self.add_class(*size_classes(*self.app.size).split())
        self.watch(self.sheet, "scroll_y", self._tell_more, init=False)
        self._tell_more()

    def on_resize(self, event: events.Resize) -> None:
        self._tell_more()
        self.call_after_refresh(self._tell_more)

    @property
    def is_beside(self) -> bool:
        """Whether the picture is left to be seen."""
        return self._may_be_beside and self.app.size.width >= BESIDE_FROM

    def _tell_more(self) -> None:
        self.set_class(self.is_beside, "-beside")
        below = self.sheet.max_scroll_y - self.sheet.scroll_offset.y > 0.5
        ways = [(key, key, words) for key, words in self._ways]
        ways += [("enter", "Enter", self._enter)]
        ways += [("pagedown", "PgDn", "there is more")] if below else []
        foot = self.query_one(Ways)
        foot.show(ways)
        # A page with an automatic height does not give way by itself.
        wide = foot.size.width if self.is_beside else min(self.app.size.width, WIDEST) - FRAME
        rows = foot.rows_in(wide) + (ABOUT_IT if self.is_beside else 0)
        self.sheet.styles.max_height = max(self.app.size.height - CHROME - rows, 3)

    @on(Ways.Chosen)
    def choose(self, event: Ways.Chosen) -> None:
        if event.key == "pagedown":
            self.action_scroll(1)
        else:
            self.dismiss(event.key)

    @property
    def sheet(self) -> VerticalScroll:
        return self.query_one("#reader-page", VerticalScroll)

    def action_help(self) -> None:
        """The keys of a page; on the page of keys itself nothing more is to be told."""
        if self._is_help:
            return
        rows = [*((key, words) for key, words in self._ways), ("Enter Esc", self._enter), *_READING_KEYS]
        parts = keys_parts({"Reading": rows}, ascii=self._ascii)
        self.app.push_screen(Reader("Keys: reading a page", parts, ascii=self._ascii, is_help=True))

    def action_done(self, key: str) -> None:
        self.dismiss(key)

    def action_choose(self, name: str) -> None:
        """A line that stands for an action was clicked."""
        self.dismiss(f"{CHOSEN}{name}")

    def action_scroll(self, pages: int) -> None:
        height = max(self.sheet.size.height - 1, 1)
        self.sheet.scroll_relative(y=pages * height, animate=False)

    def action_line(self, lines: int) -> None:
        self.sheet.scroll_relative(y=lines, animate=False)

    def action_end(self, way: int) -> None:
        self.sheet.scroll_to(y=0 if way < 0 else self.sheet.max_scroll_y, animate=False)
