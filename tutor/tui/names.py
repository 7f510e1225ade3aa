"""A list of names to choose from; the chosen one has a sign as well as a colour of its own."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from tutor.tui.lesson_list import CHOSEN, OTHER


class Names(OptionList):
    """Names, each with a key that tells it apart. It never has the focus: keys come by way of the screen."""

    # Here and not in the style sheet, since the first screen of all has none.
    DEFAULT_CSS = """
    Names {
        background: $page;
        color: $text;
    }

    Names > .option-list--option-highlighted {
        background: $chosen;
        color: $page;
        text-style: bold;
    }

    Names > .option-list--option-hover { background: $bar; }

    App.-plain Names > .option-list--option-highlighted { text-style: reverse; }
    """
    SCOPED_CSS = False

    can_focus = False

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words: list[str] = []
        self._marked: int | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The names as they are to be read."""
        return tuple(self._words)

    def put(self, names: Sequence[tuple[str, str]], chosen: int = 0) -> None:
        """Puts other names in place, each (key, words), and chooses one of them."""
        self._words, self._marked = [], None
        self.clear_options()
        self._words = [words for _, words in names]
        self.add_options([Option(Content(f"{OTHER}{words}"), id=key) for key, words in names])
        self.highlighted = min(chosen, len(names) - 1) if names else None

    def watch_highlighted(self, highlighted: int | None) -> None:
        super().watch_highlighted(highlighted)
        for at, sign in ((self._marked, OTHER), (highlighted, CHOSEN)):
            if at is not None and at < len(self._words):
                self.replace_option_prompt_at_index(at, Content(f"{sign}{self._words[at]}"))
        self._marked = highlighted

    def step(self, lines: int) -> None:
        """Chooses the name so many lines further down, as far as there are names."""
        if self.option_count:
            self.highlighted = min(max((self.highlighted or 0) + lines, 0), self.option_count - 1)
