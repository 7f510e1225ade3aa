"""The picture on the screen: a scene drawn as large as the widget allows, and what is clicked on it."""

from __future__ import annotations

from collections.abc import Sequence

from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.message import Message

from tutor.picture.chart import Chart, draw
from tutor.picture.looks import Role
from tutor.picture.scene import Bounds, Scene, Window
from tutor.tui.rows import Row, Rows
from tutor.tui.themes import painted

MARGIN = 6.0
"""mm between what is shown and the edge of the picture."""
LABELS_FREE = 1
"""Columns at the right, before the panel, that no label reaches into: it would read as one of the panel's words."""


class Picture(Rows[Role | None]):
    """Shows a scene inside its bounds. Posts ``Pointed`` and ``Wheeled`` for what the mouse does on it."""

    class Pointed(Message):
        """A place of the picture, in mm: ``how`` is "down", "drag" or "up"; ``reach`` is a cell's width in mm."""

        def __init__(self, place: complex, reach: float, how: str) -> None:
            super().__init__()
            self.place = place
            self.reach = reach
            self.how = how

    class Wheeled(Message):
        """The wheel was turned over it: ``way`` is 1 for up, -1 for down."""

        def __init__(self, way: int) -> None:
            super().__init__()
            self.way = way

    def __init__(self, *, ascii: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ascii = ascii
        self._scene: Scene | None = None
        self._bounds: Bounds | None = None
        self._chart: Chart | None = None
        self._foreseen: tuple[tuple[object, ...], Chart] | None = None
        self._dragging = False

    @property
    def chart(self) -> Chart | None:
        """What is drawn now."""
        return self._chart

    def show(self, scene: Scene, bounds: Bounds) -> None:
        """Draws another scene, or another part of it; lines that come out the same are not sent again."""
        self._scene, self._bounds = scene, bounds
        self.renew()

    def foresee(self, scene: Scene, bounds: Bounds) -> None:
        """Draws ahead what is to be shown before long."""
        if self.size:
            self._foreseen = (scene, bounds, self.size, self._ascii), self._drawn(scene, bounds, self.size)

    def style(self, look: Role | None) -> Style:
        return painted(self.app.theme, look)

    def on_mouse_down(self, event: events.MouseDown) -> None:
        if event.button == 1:
            self.capture_mouse()
            self._dragging = True
            self._point(event.x, event.y, "down")

    def on_mouse_move(self, event: events.MouseMove) -> None:
        if self._dragging:
            self._point(event.x, event.y, "drag")

    def on_mouse_up(self, event: events.MouseUp) -> None:
        if self._dragging:
            self._dragging = False
            self.release_mouse()
            self._point(event.x, event.y, "up")

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self.post_message(self.Wheeled(1))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self.post_message(self.Wheeled(-1))

    def _point(self, column: float, row: float, how: str) -> None:
        if self._chart is not None:
            grid = self._chart.grid
            self.post_message(self.Pointed(grid.to_point(int(column), int(row)), grid.cell_mm, how))

    def laid_out(self, width: int, height: int) -> Sequence[Row[Role | None]]:
        if self._scene is None or self._bounds is None:
            return ()
        wanted, size = (self._scene, self._bounds), Size(width, height)
        if self._foreseen is not None and self._foreseen[0] == (*wanted, size, self._ascii):
            self._chart = self._foreseen[1]
        else:
            self._chart = self._drawn(*wanted, size)
        return self._chart.rows

    def _drawn(self, scene: Scene, bounds: Bounds, size: Size) -> Chart:
        return draw(scene, Window.fit(bounds, MARGIN), *size, ascii=self._ascii, columns_free=LABELS_FREE)
