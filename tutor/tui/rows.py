"""Widgets made of rows: a row is painted once, and what of it stays the same is not sent to the terminal again."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import Generic, TypeAlias, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.containers import Horizontal, Vertical
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Look = TypeVar("Look")
"""What tells how a run of letters is painted."""
Row: TypeAlias = Sequence[tuple[str, Look]]


class Rows(Widget, Generic[Look]):
    """Shows rows from the top left, each of runs of letters that look alike, one cell a letter.

    Textual's own way lets every row of every widget pass through borders, paddings and filters at each repaint.
    """

    can_focus = False

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._rows: tuple[Row[Look], ...] = ()
        self._rows_for = Size(0, 0)
        self._strips: dict[int, Strip] = {}
        self._paints: dict[Look | None, Style] = {}
        self._painted_for: object = None

    def style(self, look: Look | None) -> Style:
        """How a run with this look is painted; None is for what lies beside and below the rows."""
        raise NotImplementedError

    def laid_out(self, width: int, height: int) -> Sequence[Row[Look]]:
        """The rows for a widget of this size, above nothing, each of the same width."""
        raise NotImplementedError

    def renew(self) -> None:
        """Brings the rows up to date. Only cells that come out otherwise are painted again."""
        if not self.size:
            # Hidden, where the window is too small: what is shown next is made anew, be it of the size it had before.
            self._rows_for = Size()
            return
        old = self._rows
        self._make_rows()
        if len(old) != len(self._rows):
            self.repaint()
            self._tell_screen()
            return
        changed = [y for y, (before, now) in enumerate(zip(old, self._rows, strict=True)) if before != now]
        for y in changed:
            self._strips.pop(y, None)
        spans = [(y, *differing(old[y], self._rows[y])) for y in changed]
        if regions := [Region(first, y, last - first, 1) for y, first, last in spans if first < last]:
            self.refresh(*regions)
            self._tell_screen()

    def _tell_screen(self) -> None:
        """Has the screen know at once: each widget by itself, when it is idle, might come one frame after another."""
        self._check_refresh()

    def _make_rows(self) -> None:
        self._rows_for = self.size
        self._rows = tuple(self.laid_out(*self.size))

    def repaint(self) -> None:
        """Paints all of it anew."""
        self._strips.clear()
        self.refresh()

    def render_lines(self, crop: Region) -> list[Strip]:
        width = self.size.width
        if self._rows_for != self.size:
            # In time for the first frame of this size, and not for the one after it.
            self._make_rows()
            self._strips.clear()
        painted_for = (self.app.theme, width)
        if painted_for != self._painted_for:
            self._painted_for = painted_for
            self._strips.clear()
            self._paints.clear()
        strips = [self._strips.get(y) or self._painted(y, width) for y in crop.line_range]
        if crop.column_span != (0, width):
            return [strip.crop(*crop.column_span) for strip in strips]
        return strips

    def _painted(self, y: int, width: int) -> Strip:
        segments = [Segment(text, self._paint(look)) for text, look in self._rows[y]] if y < len(self._rows) else []
        used = sum(len(segment.text) for segment in segments)
        if used < width:
            segments.append(Segment(" " * (width - used), self._paint(None)))
        strip = Strip(segments, max(used, width))
        self._strips[y] = strip = strip.crop(0, width) if used > width else strip
        return strip

    def _paint(self, look: Look | None) -> Style:
        """The style of a look after the terminal's filters, which would else go over every row at every repaint."""
        style = self._paints.get(look)
        if style is None:
            segments = [Segment(" ", self.style(look))]
            for each in self.get_line_filters():
                segments = each.apply(segments, self.background_colors[1])
            self._paints[look] = style = segments[0].style or Style()
        return style


class Page(Vertical):
    """A column of widgets that cover all of it, so that it has nothing to paint itself."""

    BLANK = True


class Beside(Horizontal):
    """A row of widgets that cover all of it."""

    BLANK = True


def differing(before: Row[Look], now: Row[Look]) -> tuple[int, int]:
    """From which column to before which two rows of one width differ; of other widths, all of the wider."""
    wide, other = (sum([len(text) for text, _ in row]) for row in (before, now))
    if wide != other:
        return 0, max(wide, other)
    return _alike(before, now, 1), wide - _alike(before[::-1], now[::-1], -1)


def _alike(before: Row[Look], now: Row[Look], way: int) -> int:
    """How many cells are the same from the start; ``way`` is -1 where the letters of each run count from its end."""
    count = 0
    for (text, look), (other, other_look) in zip(before, now, strict=False):
        if look != other_look:
            break
        if text != other:
            pairs = zip(text[::way], other[::way], strict=False)
            return count + sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
        count += len(text)
    return count
