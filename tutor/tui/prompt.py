"""A line to be typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from tutor.faults import Fault
from tutor.pattern.measures import Kind
from tutor.tui.line import Line, Typing
from tutor.tui.spelling import spelled_out
from tutor.tui.ways import Ways
from tutor.tui.writing import WRITING, keys_page
from tutor.units import Unit

Step = Callable[[str, int], str]
"""The text so many steps on; where the text is no amount, it stays."""

_UNIT_WORDS = {Unit.CM: "cm", Unit.MM: "mm", Unit.INCH: "inches"}
_KIND_WORDS = {Kind.ANGLE: "degrees", Kind.SHARE: "per cent"}


def asked_in(unit: Unit, kind: Kind = Kind.LENGTH) -> str:
    """What a figure of a kind is asked for in, written out."""
    return _KIND_WORDS.get(kind, _UNIT_WORDS[unit])


class Prompt(Typing[str | None]):
    """Asks for a line. What ``check`` raises as a Fault is said, and the line can be put right; Esc gives None.

    The arrows up and down, and the wheel, step what is written, if it is an amount.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *WRITING,
        Binding("up", "step(1)", show=False),
        Binding("down", "step(-1)", show=False),
    ]

    def __init__(
        self,
        words: str,
        example: str,
        check: Callable[[str], object],
        step: Step | None,
        start: str = "",
        *,
        enter: str = "take it",
        ascii: bool = False,
    ) -> None:
        super().__init__()
        self._words = spelled_out(words, ascii=ascii)
        self._example = example
        self._check = check
        self._step = step
        self._first = start
        self._enter = enter
        self._ascii = ascii

    def compose(self) -> ComposeResult:
        with Vertical(id="prompt"):
            yield Static(Content(self._words), id="prompt-words")
            yield Line(self._first, example=self._example, ascii=self._ascii, id="prompt-line")
            yield Static(id="prompt-fault")
            yield Ways(ascii=self._ascii, id="prompt-ways")

    def on_mount(self) -> None:
        steps = [("up", "↑", "more"), ("down", "↓", "less")] if self._step is not None else []
        self.query_one(Ways).show([("enter", "Enter", self._enter), ("escape", "Esc", "leave it"), *steps])

    def action_take(self) -> None:
        text = self.line.text
        try:
            self._check(text)
        except Fault as fault:
            reason = f"{fault.what}; {fault.right}" if fault.right else fault.what
            self._tell(reason)
        else:
            self.dismiss(text)

    def _tell(self, fault: str) -> None:
        words = spelled_out(fault, ascii=self._ascii)
        self.query_one("#prompt-fault", Static).update(Content.styled(words, "$bad"))

    def changed(self) -> None:
        """What was wrong with the line as it was says nothing of it as it is."""
        self._tell("")

    @on(Ways.Chosen)
    def choose(self, event: Ways.Chosen) -> None:
        if event.key == "enter":
            self.action_take()
        elif event.key == "escape":
            self.dismiss(None)
        else:
            self.action_step(1 if event.key == "up" else -1)

    def on_mouse_scroll_up(self) -> None:
        self.action_step(1)

    def on_mouse_scroll_down(self) -> None:
        self.action_step(-1)

    def action_step(self, steps: int) -> None:
        if self._step is not None:
            self.line.put(self._step(self.line.text, steps))
            self.changed()

    def action_give_up(self) -> None:
        self.dismiss(None)

    def action_help(self) -> None:
        steps = "a little more, or less" if self._step is not None else ""
        self.app.push_screen(keys_page("writing", steps, self._enter, ascii=self._ascii))
