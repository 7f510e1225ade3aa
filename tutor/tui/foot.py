"""The footer: at most six keys, those that matter now, and each can be clicked."""

from __future__ import annotations

from collections.abc import Sequence

from rich.style import Style
from textual import events
from textual.message import Message

from tutor.tui.actions import MOST_IN_FOOTER, Action
from tutor.tui.rows import Row, Rows
from tutor.tui.spelling import spelled_out
from tutor.tui.themes import written


class Foot(Rows[str]):
    """Shows actions with their keys. Posts ``Chosen`` when one is clicked."""

    class Chosen(Message):
        """An action of the footer was clicked."""

        def __init__(self, action: Action) -> None:
            super().__init__()
            self.action = action

    def __init__(self, actions: Sequence[Action] = (), *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._actions = tuple(actions)

    def show(self, actions: Sequence[Action]) -> None:
        """Shows other actions."""
        if tuple(actions) != self._actions:
            self._actions = tuple(actions)
            self.renew()

    def style(self, look: str | None) -> Style:
        return written(self.app.theme, look or "$text")

    @property
    def items(self) -> list[tuple[Action, str, str, int]]:
        """Each action with its key, its words, and the column where it starts; those that don't fit are left out.

        Where not all fit with their words, the terse ones are taken.
        """
        named = [(spelled_out(each.key_words, ascii=self._ascii), each) for each in self._actions[:MOST_IN_FOOTER]]
        short = [(each, key, each.short) for key, each in named]
        if sum(_columns(key, words) for _, key, words in short) > self.size.width:
            short = [(each, key, each.terse or each.short) for key, each in named]
        found, column = [], 0
        for each, key, words in short:
            size = _columns(key, words)
            if column + size > self.size.width:
                break
            found.append((each, key, words, column))
            column += size
        return found

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        runs: list[tuple[str, str]] = []
        for _, key, words, _ in self.items:
            runs += [(f" {key}", "bold $strong"), (f" {words} ", "$text")]
        used = sum(len(text) for text, _ in runs)
        return [(*runs, (" " * max(width - used, 0), "$text"))]

    def on_click(self, event: events.Click) -> None:
        for action, key, words, column in self.items:
            if column <= event.x < column + _columns(key, words):
                self.post_message(self.Chosen(action))


def _columns(key: str, words: str) -> int:
    """Columns that a key and what it does take."""
    return len(key) + len(words) + 3
