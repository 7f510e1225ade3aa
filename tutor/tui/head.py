"""The line at the top of the screen: which lesson and which task this is."""

from __future__ import annotations

from collections.abc import Sequence

from rich.style import Style

from tutor.tui.rows import Row, Rows
from tutor.tui.spelling import spelled_out
from tutor.tui.themes import PLAIN, written

LOOK = "bold $text on $bar"


class Head(Rows[str]):
    """Shows the first of some texts that fits; where none does, the last of them, cut off at a mark."""

    def __init__(self, *texts: str, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._texts = texts
        self._ascii = ascii

    def show(self, texts: Sequence[str]) -> None:
        """Shows other texts, from the longest to the shortest."""
        if tuple(texts) != self._texts:
            self._texts = tuple(texts)
            self.renew()

    def style(self, look: str | None) -> Style:
        return Style(reverse=True) if self.app.theme == PLAIN else written(self.app.theme, LOOK)

    def laid_out(self, width: int, height: int) -> list[Row[str]]:
        # A column stays free on either side.
        width = max(width - 2, 0)
        spelled = [spelled_out(text, ascii=self._ascii) for text in self._texts]
        fitting = next((text for text in spelled if len(text) <= width), None)
        if fitting is None and spelled and width > 0:
            fitting = spelled[-1][: width - 1].rstrip() + ("~" if self._ascii else "…")
        return [((f" {(fitting or '').ljust(width)} ", LOOK),)]
