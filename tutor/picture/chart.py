"""A scene drawn in character cells by plotext, in true proportion (the only module that knows plotext)."""

import re
import threading
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np
import plotext as _untyped_plotext

from tutor.picture.lettering import Row, Run, lettered
from tutor.picture.looks import Look, Role
from tutor.picture.raster import Cell, Grid, Raster, Vertices, rasterised
from tutor.picture.scene import Scene, Window

plotext: Any = _untyped_plotext
plotext.terminal.limit(False, False)

NUDGE_DOTS = 0.01 + 0.01j
"""plotext keeps a little off the edges of its canvas, which draws everything inward by at most 0.008 dots.

Nudged by more than that, a point on the border of two dots lights the right or lower one, wherever it is.
"""

LINES = 512
"""How many lines of plotext's canvas stay read: between two pictures most are the same."""


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawn picture: its rows from the top down, and where its cells lie in the plane."""

    rows: tuple[Row, ...]
    grid: Grid

    def lines(self) -> list[str]:
        """The picture as plain text: one string a row, as long as the picture has columns."""
        return ["".join(run.text for run in row) for row in self.rows]

    def role(self, column: int, row: int) -> Role | None:
        """What a cell of the canvas shows; IndexError outside it."""
        if not (0 <= column < self.grid.columns and 0 <= row < self.grid.rows):
            raise IndexError(f"no cell in column {column} of row {row}")
        roles = [run.role for run in self.rows[row] for _ in run.text]
        return roles[column]

    def to_cell(self, point: complex) -> Cell | None:
        """Column and row of the cell holding a point (mm), or None where it lies outside."""
        return self.grid.to_cell(point)

    def to_point(self, column: int, row: int) -> complex:
        """The centre of a cell, in mm."""
        return self.grid.to_point(column, row)


def draw(scene: Scene, window: Window, columns: int, rows: int, *, ascii: bool = False, columns_free: int = 0) -> Chart:
    """Draw what the window shows of a scene: in braille and symbols, or in nothing but ASCII.

    Looks and signs lie over each other in the order of their enumerations. A mark's label goes beside it
    where it covers least, and is left out where it would leave the canvas or cover a sign, a label or a seam of the
    pattern as it is. The last ``columns_free`` columns are kept free of labels, and as far as there is room of lines.
    ValueError unless columns and rows are above 0.
    """
    raster = Raster(Grid.over(window, columns, rows, ascii=ascii, columns_free=columns_free), ascii)
    return Chart(lettered(_plotted(scene, raster), scene.marks, raster, columns_free=columns_free), raster.grid)


def _plotted(scene: Scene, raster: Raster) -> list[Row]:
    """Have plotext draw look over look, and read its canvas back."""
    figure = _DESK.cleared(raster.grid.columns, raster.grid.rows)
    for look, vertices in rasterised(scene, raster):
        figure.draw(_DESK.signal(look, vertices, raster))
    text: str = figure.build().string()
    return [_row(line) for line in text.split("\n")[: raster.grid.rows]]


class _Desk(threading.local):
    """What plotext draws on: for each thread a figure, and the signal each look had last.

    Between two pictures most looks stay as they are, and making a signal costs more than drawing it.
    """

    def __init__(self) -> None:
        self.figure = type(plotext.figure)(plotext.terminal)
        self.figure.axes(False)
        self.figure.canvas("default")
        self.figure.ruler("both", "both").frequency(0).alignment(lim="edge")
        self.signals: dict[Look, tuple[object, Any]] = {}

    def cleared(self, columns: int, rows: int) -> Any:
        """The figure as an empty canvas of this size, whose coordinates count cells from the lower left."""
        self.figure.clear.data()
        self.figure.plot_size(columns, rows)
        self.figure.ruler("x", "lower").lim(0, columns)
        self.figure.ruler("y", "left").lim(0, rows)
        return self.figure

    def signal(self, look: Look, vertices: Vertices, raster: Raster) -> Any:
        """The vertices of one look as a signal, the one from last time where it was the same."""
        same = (raster, *(part.tobytes() for part in vertices))
        if look not in self.signals or self.signals[look][0] != same:
            self.signals[look] = same, _signal(self.figure, look, vertices, raster)
        return self.signals[look][1]


_DESK = _Desk()


def _signal(figure: Any, look: Look, vertices: Vertices, raster: Raster) -> Any:
    points = vertices.points + NUDGE_DOTS
    right, up = points.real / raster.across, raster.grid.rows - points.imag / raster.down
    # plotext makes a long list of markers out of a short one, but slowly out of a single one.
    markers = [_marker(look, "braille")] * 8
    if raster.ascii:
        markers = [_marker(look, letter) for letter in vertices.letter.tolist()]
    signal = figure.signal(right.tolist(), up.tolist(), marker=markers)
    for index in np.flatnonzero(vertices.joined).tolist():
        signal.line(index)
    # draw() asks each signal for its colours, to keep its own choices off them, and looks at every point
    # to answer; nothing here leaves a colour to it, and that answer would cost more than the drawing.
    signal._get_unique_pixels = list
    return signal


_COLOURS = {look: place for place, look in enumerate(Look, 1)}
_BY_COLOUR = {"": None} | {str(red): look for look, red in _COLOURS.items()}
_PAINTED = re.compile("\x1b\\[(?:0|38;2;([0-9]+);0;0)m([^\x1b]+)")


@cache
def _marker(look: Look, letter: str) -> Any:
    """A plotext marker in the colour that stands for the look, never seen on a screen.

    plotext copies a marker for every point before its kernel copies it once more; this one is shared.
    """
    shared: Any = type("SharedMarker", (plotext.marker,), {"__copy__": lambda marker: marker})
    return shared(letter, pixel=plotext.pixel((_COLOURS[look], 0, 0)))


@lru_cache(maxsize=LINES)
def _row(line: str) -> Row:
    """One row of plotext's canvas: text after the colour that stands for its look, or after a reset."""
    return tuple([Run(text, _BY_COLOUR[colour]) for colour, text in _PAINTED.findall(line)])
