"""A name to be chosen from many: by its letters, by arrows, or by a click."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static

from tutor.tui.line import Line, Typing
from tutor.tui.names import Names
from tutor.tui.spelling import spelled_out
from tutor.tui.ways import Ways
from tutor.tui.writing import WRITING, keys_page


def _plain(text: str) -> str:
    """Text to look for, or in: small letters, words apart."""
    return " ".join(text.casefold().replace("-", " ").split())


def _holds(text: str, wanted: str) -> bool:
    return all(part in text for part in wanted.split())


class Choice(Typing[str | None]):
    """Asks for one of some names; letters typed narrow the list. Esc gives None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *WRITING,
        Binding("down", "move(1)", show=False),
        Binding("up", "move(-1)", show=False),
    ]

    def __init__(self, heading: str, names: Sequence[tuple[str, str]], *, enter: str, ascii: bool = False) -> None:
        super().__init__()
        self._heading = heading
        self._names = tuple((name, spelled_out(words, ascii=ascii)) for name, words in names)
        self._enter = enter
        self._ascii = ascii

    def compose(self) -> ComposeResult:
        with Vertical(id="choice"):
            yield Static(Content(self._heading), id="choice-heading")
            yield Line(example="type a few letters, or use the arrows", ascii=self._ascii, id="choice-line")
            yield Names(id="choice-list")
            yield Static(id="choice-none")
            yield Ways(ascii=self._ascii, id="choice-ways")

    def on_mount(self) -> None:
        self.query_one(Ways).show([("enter", "Enter", self._enter), ("escape", "Esc", "leave it")])
        self.changed()

    @property
    def _list(self) -> Names:
        return self.query_one(Names)

    def changed(self) -> None:
        """What is written narrows the list to those that hold all of it.

        They may in the words shown, or in the name that files and plans have for them.
        """
        wanted = _plain(self.line.text)
        found = [(name, words) for name, words in self._names if _holds(f"{_plain(words)} {_plain(name)}", wanted)]
        # What begins with the letters comes first, otherwise the order stays.
        found.sort(key=lambda pair: not any(_plain(each).startswith(wanted) for each in pair))
        self._list.put(found)
        self._list.display = bool(found)
        none = "" if found else "Nothing goes by that name; Backspace rubs letters out."
        self.query_one("#choice-none", Static).update(Content(none))
        self.query_one("#choice-none").display = bool(none)

    def action_take(self) -> None:
        chosen = self._list.highlighted_option
        if chosen is not None:
            self.dismiss(chosen.id)

    @on(OptionList.OptionSelected)
    def click(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option.id)

    @on(Ways.Chosen)
    def choose(self, event: Ways.Chosen) -> None:
        if event.key == "enter":
            self.action_take()
        else:
            self.dismiss(None)

    def action_move(self, lines: int) -> None:
        self._list.step(lines)

    def action_give_up(self) -> None:
        self.dismiss(None)

    def action_help(self) -> None:
        self.app.push_screen(keys_page("choosing", "a line up or down", self._enter, ascii=self._ascii))
