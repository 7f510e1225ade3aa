"""A line that is written, and the screens that have one."""

from __future__ import annotations

from typing import TypeVar

from textual import events
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget

from tutor.tui.spelling import spelled_out

Result = TypeVar("Result")
LONGEST = 200


class Line(Widget):
    """Text with a cursor at its end. What it starts with is replaced by the first letter typed, or rubbed at.

    It never has the focus: letters come by way of the app, in their order with all other keys. A line of its own that
    takes them before the app does would swallow what is typed on after Enter.
    """

    can_focus = False

    def __init__(self, text: str = "", *, example: str = "", ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self.text = text
        self._untouched = bool(text)
        self._example = example
        self._ascii = ascii

    def write(self, letters: str) -> None:
        """Adds letters at the end."""
        kept = "" if self._untouched else self.text
        self.put(kept + "".join(letter for letter in letters if letter.isprintable()))

    def rub_out(self) -> None:
        """Takes the last letter away."""
        self.put(self.text[:-1])

    def put(self, text: str) -> None:
        """Puts another text in place."""
        self.text, self._untouched = text[:LONGEST], False
        self.refresh()

    def render(self) -> Content:
        shown = spelled_out(self.text[-(self.size.width - 1) :], ascii=self._ascii) if self.size.width > 1 else ""
        style = "bold $page on $chosen" if self._untouched else "$text"
        example = "" if self.text else f" {self._example}"
        return Content.assemble((shown, style), (" ", "reverse"), (example, "$quiet"))


class Typing(ModalScreen[Result]):
    """A screen with a line to write on."""

    CSS_PATH = "pages.tcss"

    @property
    def line(self) -> Line:
        return self.query_one(Line)

    def write(self, letters: str) -> None:
        """Letters typed or pasted."""
        self.line.write(letters)
        self.changed()

    def changed(self) -> None:
        """Called when the line has become another."""

    def action_rub_out(self) -> None:
        self.line.rub_out()
        self.changed()

    def action_clear(self) -> None:
        self.line.put("")
        self.changed()

    def on_paste(self, event: events.Paste) -> None:
        self.write(event.text)
