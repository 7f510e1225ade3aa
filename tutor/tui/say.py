"""The line that says what to do next, in the room there is."""

from __future__ import annotations

from rich.style import Style

from tutor.tui.rows import Row, Rows
from tutor.tui.spelling import spelled_out
from tutor.tui.themes import written
from tutor.tui.wrapping import wrapped


class Say(Rows[str]):
    """Shows a text over all its rows. Where there are too few, it is told without its last sentences."""

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._words = ""

    @property
    def words(self) -> str:
        """The whole text, whether it fits or not."""
        return self._words

    def show(self, words: str) -> None:
        """Shows another text."""
        if words != self._words:
            self._words = words
            self.renew()

    def style(self, look: str | None) -> Style:
        return written(self.app.theme, look or "$text on $bar")

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        # A column stays free on either side.
        width = max(width - 2, 1)
        words = spelled_out(self._words, ascii=self._ascii)
        lines = list(wrapped(words, width))
        while len(lines) > height > 0 and (words := _without_last(words)):
            lines = list(wrapped(words, width))
        if len(lines) > height > 0:
            lines = lines[:height]
            lines[-1] = lines[-1][: width - 2].rstrip() + (" ~" if self._ascii else " …")
        lines += [""] * (height - len(lines))
        return [((f" {line.ljust(width)} ", "$text on $bar"),) for line in lines]


def _without_last(words: str) -> str:
    """The text without its last sentence; nothing where it has no more than one."""
    return words[: end + 1] if (end := words[:-1].rfind(". ")) >= 0 else ""
