"""The line at the top of the screen: which lesson and which task this is."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widget import Widget

from tutor.tui.spelling import spelled_out


class Head(Widget):
    """Shows the first of some texts that fits; where none does, the last of them, cut off at a mark."""

    can_focus = False

    def __init__(self, *texts: str, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._texts = texts
        self._ascii = ascii

    def show(self, texts: Sequence[str]) -> None:
        """Shows other texts, from the longest to the shortest."""
        if tuple(texts) != self._texts:
            self._texts = tuple(texts)
            self.refresh()

    def render(self) -> Content:
        width = self.size.width
        spelled = [spelled_out(text, ascii=self._ascii) for text in self._texts]
        fitting = next((text for text in spelled if len(text) <= width), None)
        if fitting is None and spelled and width > 0:
            fitting = spelled[-1][: width - 1].rstrip() + ("~" if self._ascii else "…")
        return Content(fitting or "")
