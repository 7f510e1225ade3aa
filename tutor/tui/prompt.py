"""A line to be typed, and a name to be chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tutor.faults import Fault
from tutor.pattern.measures import Kind
from tutor.tui.line import Line, Typing
from tutor.tui.pages import keys_parts
from tutor.tui.reader import Reader
from tutor.tui.spelling import spelled_out
from tutor.tui.ways import Ways
from tutor.units import Unit

Step = Callable[[str, int], str]
"""The text so many steps on; where the text is no amount, it stays."""

_WRITING: list[BindingType] = [
    Binding("enter", "take", show=False),
    Binding("escape", "give_up", show=False),
    Binding("backspace,ctrl+h", "rub_out", show=False),
    Binding("ctrl+u", "clear", show=False),
    Binding("question_mark,f1", "help", show=False),
    Binding("ctrl+c,ctrl+q", "app.quit", show=False, priority=True),
]


_WRITING_KEYS = (
    ("Enter", "take what is written or chosen"),
    ("Esc", "leave it"),
    ("Backspace", "rub the last letter out"),
    ("Ctrl+U", "rub all of it out"),
    ("Ctrl+Q", "leave the tutor (q is a letter here)"),
)


def _keys_page(doing: str, arrows: str, *, ascii: bool) -> Reader:
    parts = keys_parts({doing.capitalize(): (*_WRITING_KEYS, ("↑ ↓", arrows))}, ascii=ascii)
    return Reader(f"Keys: {doing}", parts, ascii=ascii, is_help=True)


_UNIT_WORDS = {Unit.CM: "cm", Unit.MM: "mm", Unit.INCH: "inches"}
_KIND_WORDS = {Kind.ANGLE: "degrees", Kind.SHARE: "per cent"}


def asked_in(unit: Unit, kind: Kind = Kind.LENGTH) -> str:
    """What a figure of a kind is asked for in, written out."""
    return _KIND_WORDS.get(kind, _UNIT_WORDS[unit])


class Prompt(Typing[str | None]):
    """Asks for a line. What ``check`` raises as a Fault is said, and the line can be put right; Esc gives None.

    The arrows up and down, and the wheel, step what is written.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *_WRITING,
        Binding("up", "step(1)", show=False),
        Binding("down", "step(-1)", show=False),
    ]

    def __init__(
        self,
        words: str,
        example: str,
        check: Callable[[str], object],
        step: Step,
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
        self.query_one(Ways).show(
            [("enter", "Enter", self._enter), ("escape", "Esc", "leave it"), ("up", "↑", "more"), ("down", "↓", "less")]
        )

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
        self.line.put(self._step(self.line.text, steps))
        self.changed()

    def action_give_up(self) -> None:
        self.dismiss(None)

    def action_help(self) -> None:
        self.app.push_screen(_keys_page("writing", "a little more, or less", ascii=self._ascii))


NOTHING_FOUND = "nothing goes by that name"


def _plain(text: str) -> str:
    """Text to look for, or in: small letters, words apart."""
    return " ".join(text.casefold().replace("-", " ").split())


def _holds(text: str, wanted: str) -> bool:
    return all(part in text for part in wanted.split())


class Choice(Typing[str | None]):
    """Asks for one of some names; letters typed narrow the list. Esc gives None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *_WRITING,
        Binding("down", "move(1)", show=False),
        Binding("up", "move(-1)", show=False),
    ]

    def __init__(self, heading: str, names: Sequence[tuple[str, str]], *, ascii: bool = False) -> None:
        super().__init__()
        self._heading = heading
        self._names = tuple((name, spelled_out(words, ascii=ascii)) for name, words in names)
        self._ascii = ascii

    def compose(self) -> ComposeResult:
        with Vertical(id="choice"):
            yield Static(Content(self._heading), id="choice-heading")
            yield Line(example="type a few letters, or use the arrows", ascii=self._ascii, id="choice-line")
            yield OptionList(*self._options(""), id="choice-list")

    def on_mount(self) -> None:
        self._list.can_focus = False
        self._list.highlighted = 0

    @property
    def _list(self) -> OptionList:
        return self.query_one("#choice-list", OptionList)

    def _options(self, letters: str) -> list[Option]:
        """Those that hold all that is typed, in the words shown or in the name that files and plans have for them."""
        wanted = _plain(letters)
        found = [(name, words) for name, words in self._names if _holds(f"{_plain(words)} {_plain(name)}", wanted)]
        # What begins with the letters comes first, otherwise the order stays.
        found.sort(key=lambda pair: not any(_plain(each).startswith(wanted) for each in pair))
        if not found:
            return [Option(NOTHING_FOUND, disabled=True)]
        return [Option(Content(words), id=name) for name, words in found]

    def changed(self) -> None:
        self._list.clear_options()
        self._list.add_options(self._options(self.line.text))
        if self._list.option_count:
            self._list.highlighted = 0

    def action_take(self) -> None:
        chosen = self._list.highlighted_option
        if chosen is not None and not chosen.disabled:
            self.dismiss(chosen.id)

    @on(OptionList.OptionSelected)
    def click(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option.id)

    def action_move(self, lines: int) -> None:
        if self._list.option_count:
            here = self._list.highlighted or 0
            self._list.highlighted = min(max(here + lines, 0), self._list.option_count - 1)

    def action_give_up(self) -> None:
        self.dismiss(None)

    def action_help(self) -> None:
        self.app.push_screen(_keys_page("choosing", "a line up or down", ascii=self._ascii))
