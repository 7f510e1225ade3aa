"""The keys of every screen with a line to write on."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from tutor.tui.pages import keys_parts
from tutor.tui.reader import Reader

WRITING: list[BindingType] = [
    Binding("enter", "take", show=False),
    Binding("escape", "give_up", show=False),
    Binding("backspace,ctrl+h", "rub_out", show=False),
    Binding("ctrl+u", "clear", show=False),
    Binding("question_mark,f1", "help", show=False),
    Binding("ctrl+c,ctrl+q", "app.quit", show=False, priority=True),
]


_WRITING_KEYS = (
    ("Esc", "leave it"),
    ("Backspace", "rub the last letter out"),
    ("Ctrl+U", "rub all of it out"),
    ("Ctrl+Q", "leave the tutor (q is a letter here)"),
)


def keys_page(doing: str, arrows: str, enter: str, *, ascii: bool) -> Reader:
    """The keys of a screen with a line to write on; ``arrows`` says what those do, if anything, and ``enter``."""
    rows = (("Enter", enter), *_WRITING_KEYS, *((("↑ ↓", arrows),) if arrows else ()))
    parts = keys_parts({doing.capitalize(): rows}, ascii=ascii)
    return Reader(f"Keys: {doing}", parts, ascii=ascii, is_help=True)
