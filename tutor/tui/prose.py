"""Text of a page, in lines as wide as there is room."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tutor.tui.wrapping import line_starts


class Prose(Widget):
    """Shows a text in its styles. Where a line is too long it goes on in the next, but no figure leaves its unit."""

    DEFAULT_CSS = "Prose { height: auto; }"
    can_focus = False

    def __init__(self, text: Content) -> None:
        super().__init__()
        self._paragraphs = text.split("\n", allow_blank=True)

    def lines(self, width: int) -> list[Content]:
        """The text in lines of so many columns."""
        return [
            part.rstrip() for each in self._paragraphs for part in each.divide(line_starts(each.plain, max(width, 1)))
        ]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.lines(width))

    def render(self) -> Content:
        return Content("\n").join(self.lines(self.size.width))
