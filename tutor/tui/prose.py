"""Text of a page, in lines as wide as there is room."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tutor.tui.wrapping import hang_of, line_starts


class Prose(Widget):
    """Shows a text in its styles. Where a line is too long it goes on in the next, but no figure leaves its unit; the
    words of a row of a list go on below themselves.

    A text that is itself made for so many columns, such as a table, is given as what makes it.
    """

    DEFAULT_CSS = "Prose { height: auto; }"
    can_focus = False

    def __init__(self, text: Content | Callable[[int], Content]) -> None:
        super().__init__()
        self._text = text

    def lines(self, width: int) -> list[Content]:
        """The text in lines of so many columns."""
        width = max(width, 1)
        text = self._text(width) if callable(self._text) else self._text
        return [line for each in text.split("\n", allow_blank=True) for line in _lines(each, width)]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.lines(width))

    def render(self) -> Content:
        return Content("\n").join(self.lines(self.size.width))


def _lines(text: Content, width: int) -> Iterator[Content]:
    hang = hang_of(text.plain, width)
    first, *more = text.divide(line_starts(text.plain, width, hang))
    yield first.rstrip()
    for part in more:
        yield part.rstrip().pad_left(hang)
