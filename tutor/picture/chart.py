"""A scene drawn in character cells by plotext, in true proportion (the only module that knows plotext)."""

import re
import threading
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple

import numpy as np
import plotext as _untyped_plotext
from numpy.typing import NDArray

from tutor.picture.scene import Look, Mark, Patch, Role, Scene, Sign, Stroke, Window

plotext: Any = _untyped_plotext
plotext.terminal.limit(False, False)

Points = NDArray[np.complex128]
Numbers = NDArray[np.float64]
Places = NDArray[np.intp]
Cell = tuple[int, int]

THINNING_DOTS = 0.1
"""How far a line may stray each time that half of its points are given up (see _thinned)."""
SAME_DOTS = 1e-6
"""Points nearer than this many dots are the same point."""


class Style(NamedTuple):
    """How a look becomes dots: so many on, so many off, and so on (empty: unbroken)."""

    dots: tuple[int, ...]
    cells: tuple[int, ...]
    """The same for ASCII, where a cell is one dot."""
    letter: str
    """Its ASCII letter, or ALONG."""
    bold: bool = False
    """Whether the line is two dots thick in braille."""


ALONG = ""
"""Whichever of - | / and \\ lies along the line."""

STYLES = {
    Look.GAP: Style((1, 3), (), "."),
    Look.OVERLAP: Style((), (), "#"),
    Look.GUIDE: Style((1, 7), (1, 3), "'"),
    Look.BEFORE: Style((6, 5), (2, 1), ":"),
    Look.ARMHOLE: Style((), (), "&", bold=True),
    Look.PIECE: Style((15, 1), (), ALONG),
    Look.AFTER: Style((), (), "*"),
    Look.SLASH: Style((9, 3, 1, 3), (3, 1), "+"),
    Look.CANDIDATE: Style((1, 2), (1, 1), "="),
}

_PLACES = {look: place for place, look in enumerate(Look)}
UNBROKEN = 10**15
_SIGN_PLACES = {sign: place for place, sign in enumerate(Sign)}


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells laid over the plane, each `cell_mm` wide and twice as high, the first at the upper left."""

    columns: int
    rows: int
    corner: complex
    cell_mm: float

    @classmethod
    def over(cls, window: Window, columns: int, rows: int, *, ascii: bool) -> "Grid":
        """The smallest cells that show all of the window, whose centre is in their middle.

        A cell has 2 x 4 dots in braille and a single one in ASCII. The window lies between the centres of
        the outermost dots, (2 columns - 1) x (4 rows - 1) dots apart, so that nothing on its edge is lost.
        ValueError unless both counts are above 0.
        """
        if columns < 1 or rows < 1:
            raise ValueError(f"a picture has at least one column and one row, not {columns} x {rows}")
        dots = 1 if ascii else 2
        across = max(dots * columns - 1, 1)
        down = max(2 * dots * rows - (2 if ascii else 1), 1)
        cell_mm = dots * max(window.width_mm / across, window.height_mm / down)
        return cls(columns, rows, window.centre + complex(-columns / 2, rows) * cell_mm, cell_mm)

    def to_cell(self, point: complex) -> Cell | None:
        """Column and row of the cell holding a point (mm), or None where it lies outside."""
        away = (point - self.corner) / self.cell_mm
        column, row = int(away.real // 1), int(-away.imag // 2)
        return (column, row) if 0 <= column < self.columns and 0 <= row < self.rows else None

    def to_point(self, column: int, row: int) -> complex:
        """The centre of a cell, in mm; cells outside the canvas have one too."""
        return self.corner + complex(column + 0.5, -2 * row - 1) * self.cell_mm


class Run(NamedTuple):
    """Neighbouring cells of one row that have the same meaning; each letter of the text fills one cell."""

    text: str
    role: Role | None


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawn picture: its rows from the top down, and where its cells lie in the plane."""

    rows: tuple[tuple[Run, ...], ...]
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


def draw(scene: Scene, window: Window, columns: int, rows: int, *, ascii: bool = False) -> Chart:
    """Draw what the window shows of a scene: in braille and symbols, or in nothing but ASCII.

    Looks and signs lie over each other in the order of their enumerations. A mark's label goes beside it
    where it covers least, and is left out where it would leave the canvas or cover a sign or a label.
    ValueError unless columns and rows are above 0.
    """
    raster = Raster(Grid.over(window, columns, rows, ascii=ascii), ascii)
    lines = _joined([_stroked(scene.strokes, raster), *_hatched(scene.patches, raster)])
    visible = _clipped(_picked(lines, np.argsort(lines.look, kind="stable")), raster.width, raster.height)
    canvas = _plotted(_vertices(_lit(visible, raster)), raster)
    return Chart(_marked(canvas, scene.marks, raster), raster.grid)


@dataclass(frozen=True, slots=True)
class Raster:
    """The dots of a grid, counted to the right and down from its corner."""

    grid: Grid
    ascii: bool

    @property
    def across(self) -> int:
        """Dots in the width of a cell."""
        return 1 if self.ascii else 2

    @property
    def down(self) -> int:
        """Dots in the height of a cell."""
        return 1 if self.ascii else 4

    @property
    def width(self) -> int:
        return self.grid.columns * self.across

    @property
    def height(self) -> int:
        return self.grid.rows * self.down

    def at(self, points: Points) -> Points:
        """Points in mm as dots right + 1j * dots down; the centre of the first dot is 0.5 + 0.5j."""
        away = (points - self.grid.corner) / self.grid.cell_mm
        return away.real * self.across - 0.5j * away.imag * self.down


class Segments(NamedTuple):
    """Straight pieces in dots: from, to, how far along its line each begins and ends, and its look.

    All of shape (n,). Distances count dots lit: a slanting step of one right and one down is 1. Looks are
    places in the enumeration.
    """

    start: Points
    end: Points
    begins: Numbers
    ends: Numbers
    look: Places


def _joined(parts: Sequence[Segments]) -> Segments:
    return Segments(*map(np.concatenate, zip(*parts, strict=True)))


def _picked(segments: Segments, which: NDArray[np.bool_] | Places) -> Segments:
    return Segments(*(part[which] for part in segments))


def _stroked(strokes: Sequence[Stroke], raster: Raster) -> Segments:
    """The segments of all strokes. They are worked on in one array, with NaN after each, for speed."""
    parts = []
    for stroke in strokes:
        # A single point is a line without length.
        parts += [stroke.points, stroke.points, _NOWHERE] if stroke.points.size == 1 else [stroke.points, _NOWHERE]
    sizes = [max(stroke.points.size, 2) + 1 for stroke in strokes]
    looks = np.repeat(np.array([_PLACES[stroke.look] for stroke in strokes], dtype=np.intp), sizes)
    segments = _segments(*_thinned(raster.at(np.concatenate([_NOWHERE[:0], *parts])), looks))
    if raster.ascii:
        return segments
    bold = _picked(segments, segments.look == _PLACES[Look.ARMHOLE])
    beside = [bold._replace(start=bold.start + shift, end=bold.end + shift) for shift in (1, 1j)]
    return _joined([segments, *beside])


_NOWHERE = np.array([complex(np.nan, np.nan)])


def _thinned(points: Points, looks: Places) -> tuple[Points, Places]:
    """Lines without the points that the dots can't show.

    Every other point goes if the straight line between its neighbours passes within THINNING_DOTS, and
    again on what is left: each round halves a smooth line, and six stray by 6 THINNING_DOTS at most.
    Points beside a NaN stay.
    """
    for _ in range(6):
        chord = points[2::2] - points[:-2:2]
        away = points[1:-1:2] - points[:-2:2]
        length = np.abs(chord)
        side = np.abs(chord.real * away.imag - chord.imag * away.real)
        along = chord.real * away.real + chord.imag * away.imag
        keep = np.ones(points.size, dtype=bool)
        keep[1:-1:2] = ~((side <= THINNING_DOTS * length) & (along >= 0) & (along <= length * length))
        points, looks = points[keep], looks[keep]
    return points, looks


def _segments(points: Points, looks: Places) -> Segments:
    """The pieces between neighbouring points, none to or from a NaN; distances start anew after one."""
    start, end = points[:-1], points[1:]
    step = end - start
    dots = np.maximum(np.abs(step.real), np.abs(step.imag))
    real = ~np.isnan(dots)
    ends = np.cumsum(np.where(real, dots, 0.0))
    before = np.maximum.accumulate(np.where(real, 0.0, ends))
    ends -= before
    return _picked(Segments(start, end, ends - dots, ends, looks[:-1]), real)


def _clipped(segments: Segments, width: float, height: float) -> Segments:
    """What of the pieces lies in 0..width, 0..height (by the parameters at which they enter and leave)."""
    start, end, begins, ends, look = segments
    step = end - start
    enter, leave = np.zeros(start.size), np.ones(start.size)
    for place, change, size in ((start.real, step.real, width), (start.imag, step.imag, height)):
        moving = change != 0
        rate = np.where(moving, change, 1.0)
        first, last = -place / rate, (size - place) / rate
        outside = np.where((place < 0) | (place > size), 2.0, 0.0)
        enter = np.maximum(enter, np.where(moving, np.minimum(first, last), outside))
        leave = np.minimum(leave, np.where(moving, np.maximum(first, last), 1.0))
    cut = Segments(
        start + enter * step,
        end - (1 - leave) * step,
        begins + enter * (ends - begins),
        ends - (1 - leave) * (ends - begins),
        look,
    )
    return _picked(cut, enter <= leave)


def _lit(segments: Segments, raster: Raster) -> Segments:
    """The pieces of the pieces that the patterns of their looks light."""
    periods, begun, lengths = _patterns(raster.ascii)
    period = periods[segments.look]
    first = np.floor(segments.begins / period)
    counts = (np.floor(segments.ends / period) - first).astype(np.intp) + 1
    which = np.repeat(np.arange(counts.size), counts)
    nth = np.arange(which.size) - np.repeat(np.cumsum(counts) - counts, counts)
    start, end, begins, ends, look = (part[:, None] for part in _picked(segments, which))
    run = ((first[which] + nth) * period[which])[:, None] + begun[look[:, 0]]
    low, high = np.maximum(run, begins), np.minimum(run + lengths[look[:, 0]], ends)
    rate = (end - start) / np.where(ends > begins, ends - begins, 1.0)
    pieces = (start + (low - begins) * rate, start + (high - begins) * rate, low, high)
    seen = low <= high
    return Segments(*(piece[seen] for piece in pieces), np.broadcast_to(look, seen.shape)[seen])


@cache
def _patterns(ascii: bool) -> tuple[Numbers, Numbers, Numbers]:
    """For every look the period of its pattern, shape (n,), and two runs: where begun, how long, (n, 2).

    A run of n dots is n - 1 long, from the centre of its first dot to that of its last.
    """
    periods, begun, lengths = [], [], []
    for look in Look:
        pattern = (STYLES[look].cells if ascii else STYLES[look].dots) or (UNBROKEN, 0)
        on, off, *more = pattern
        second, _ = more or (0, 0)
        periods.append(sum(pattern))
        begun.append((0, on + off))
        lengths.append((on - 1, second - 1))
    return np.array(periods, dtype=float), np.array(begun, dtype=float), np.array(lengths, dtype=float)


def _hatched(patches: Sequence[Patch], raster: Raster) -> list[Segments]:
    """The lines that fill the patches: staggered dots for a gap, crossed lines for an overlap."""
    filled = []
    for look in (Look.GAP, Look.OVERLAP):
        areas = [[raster.at(ring) for ring in patch.rings] for patch in patches if patch.look is look]
        if not areas:
            continue
        if raster.ascii:
            filled.append(_ruled(areas, look, 1, 1.0, raster))
        elif look is Look.OVERLAP:
            filled += [_ruled(areas, look, turn, 4.0, raster) for turn in (1 + 1j, 1 - 1j)]
        else:
            lines = _ruled(areas, look, 1, 2.0, raster)
            shift = np.where(lines.start.imag % 4 < 2, 0.5, 2.5)
            filled.append(lines._replace(begins=lines.begins - shift, ends=lines.ends - shift))
    return filled


def _ruled(areas: Sequence[Sequence[Points]], look: Look, turn: complex, step: float, raster: Raster) -> Segments:
    """Level lines `step` apart through what lies inside an odd number of an area's rings, turned by `turn`.

    They go through the centres of dots; their distances are counted from the left edge of the canvas.
    """
    rings = [ring for area in areas for ring in area]
    start = np.concatenate(rings) * turn
    end = np.concatenate([np.roll(ring, -1) for ring in rings]) * turn
    owner = np.repeat(np.arange(len(areas)), [sum(ring.size for ring in area) for area in areas])
    farthest = raster.width + raster.height
    low, high = np.clip((start.imag.min(), start.imag.max()), -farthest, farthest)
    first = 0.5 if turn == 1 else 0.0
    levels = first + step * np.arange(np.ceil((low - first) / step), np.floor((high - first) / step) + 1)
    level, edge = np.nonzero((start.imag <= levels[:, None]) != (end.imag <= levels[:, None]))
    height, begin, along = levels[level], start[edge], end[edge] - start[edge]
    place = begin.real + (height - begin.imag) * (along.real / along.imag)
    order = np.lexsort((place, height, owner[edge]))
    begins, ends = place[order].reshape(-1, 2).T
    rows = 1j * height[order][::2]
    places = np.full(begins.size, _PLACES[look], dtype=np.intp)
    return Segments((begins + rows) / turn, (ends + rows) / turn, begins, ends, places)


class Vertices(NamedTuple):
    """What to plot, look by look: points in dots, whether joined to the one before, looks, ASCII letters.

    All of shape (n,).
    """

    points: Points
    joined: NDArray[np.bool_]
    look: Places
    letter: NDArray[np.str_]


def _vertices(segments: Segments) -> Vertices:
    """The ends of the segments, those two that meet taken for one, and those without length too."""
    fresh = np.ones(segments.start.size, dtype=bool)
    fresh[1:] = np.abs(segments.start[1:] - segments.end[:-1]) > SAME_DOTS
    fresh[1:] |= segments.look[1:] != segments.look[:-1]
    long = np.abs(segments.end - segments.start) > SAME_DOTS
    keep = np.column_stack((fresh, long)).ravel()
    return Vertices(
        np.column_stack((segments.start, segments.end)).ravel()[keep],
        np.column_stack((np.zeros_like(long), long)).ravel()[keep],
        np.repeat(segments.look, 2)[keep],
        np.repeat(_letters(segments), 2)[keep],
    )


def _letters(segments: Segments) -> NDArray[np.str_]:
    """The ASCII letters of the segments (a cell is twice as high as wide)."""
    step = segments.end - segments.start
    right, down = step.real, 2 * step.imag
    slanting = np.where(right * down > 0, "\\", "/")
    upright = np.where(np.abs(right) < 0.4 * np.abs(down), "|", slanting)
    along = np.where(np.abs(down) < 0.4 * np.abs(right), "-", upright)
    letters = np.array([style.letter for style in STYLES.values()])[segments.look]
    return np.where(letters == ALONG, along, letters)


def _plotted(vertices: Vertices, raster: Raster) -> list[tuple[Run, ...]]:
    """Have plotext draw look over look, and read its canvas back."""
    figure = _DESK.cleared(raster.grid.columns, raster.grid.rows)
    ends = np.searchsorted(vertices.look, np.arange(len(Look)), side="right").tolist()
    for look, first, last in zip(Look, [0, *ends], ends, strict=False):
        if first < last:
            part = Vertices(*(part[first:last] for part in vertices))
            figure.draw(_DESK.signal(look, part, raster))
    text: str = figure.build().string()
    return [_runs(line) for line in text.split("\n")[: raster.grid.rows]]


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
        same = (raster, vertices.points.tobytes(), vertices.joined.tobytes())
        if look not in self.signals or self.signals[look][0] != same:
            self.signals[look] = same, _signal(self.figure, look, vertices, raster)
        return self.signals[look][1]


_DESK = _Desk()


def _signal(figure: Any, look: Look, vertices: Vertices, raster: Raster) -> Any:
    right, down = vertices.points.real / raster.across, vertices.points.imag / raster.down
    # plotext makes a long list of markers out of a short one, but slowly out of a single one.
    markers = [_marker(look, "braille")] * 8
    if raster.ascii:
        markers = [_marker(look, letter) for letter in vertices.letter.tolist()]
    signal = figure.signal(right.tolist(), (raster.grid.rows - down).tolist(), marker=markers)
    for index in np.flatnonzero(vertices.joined).tolist():
        signal.line(index)
    # draw() asks each signal for its colours, to keep its own choices off them, and looks at every point
    # to answer; nothing here leaves a colour to it, and that answer would cost more than the drawing.
    signal._get_unique_pixels = list
    return signal


@cache
def _marker(look: Look, letter: str) -> Any:
    """A plotext marker in the colour that stands for the look.

    plotext copies a marker for every point before its kernel copies it once more; this one is shared.
    """
    shared = type("SharedMarker", (plotext.marker,), {"__copy__": lambda marker: marker})
    return shared(letter, pixel=plotext.pixel((_PLACES[look] + 1, 0, 0)))


_PAINTED = re.compile("\x1b\\[(?:0|38;2;([0-9]+);0;0)m([^\x1b]+)")
_BY_COLOUR = {"": None} | {str(place + 1): look for look, place in _PLACES.items()}


def _runs(line: str) -> tuple[Run, ...]:
    """One row of plotext's canvas: text after the colour that stands for its look, or after a reset."""
    return tuple([Run(text, _BY_COLOUR[colour]) for colour, text in _PAINTED.findall(line)])


Taken = dict[int, list[tuple[int, int]]]
"""For each row with letters on it, the columns where they start and end."""


def _marked(canvas: list[tuple[Run, ...]], marks: Sequence[Mark], raster: Raster) -> tuple[tuple[Run, ...], ...]:
    """The canvas with signs and labels written over it; labels of later signs choose their place first."""
    shown = [(cell, mark) for mark in marks if (cell := raster.grid.to_cell(mark.at))]
    shown.sort(key=lambda pair: _SIGN_PLACES[pair[1].sign])
    texts = ["".join(run.text for run in row) for row in canvas]
    taken: Taken = {row: [] for row in range(len(canvas))}
    for (column, row), mark in shown:
        canvas[row] = _overwritten(canvas[row], column, Run(mark.sign.glyph(ascii=raster.ascii), mark.sign))
        taken[row].append((column, column + 1))
    for cell, mark in reversed(shown):
        label = _spelled(mark.label, raster.ascii)
        place = _beside(cell, len(label), texts, taken) if label else None
        if place:
            column, row = place
            canvas[row] = _overwritten(canvas[row], column, Run(label, mark.sign))
            taken[row].append((column, column + len(label)))
    return tuple(canvas)


def _beside(cell: Cell, length: int, texts: Sequence[str], taken: Taken) -> Cell | None:
    """Where a label of this length goes: near its cell, on the canvas, clear of letters, covering least."""
    column, row = cell
    right, left, middle = column + 1, column - length, column - length // 2
    level = [(right + 1, row), (left - 1, row)]
    slanting = [(first, line) for first in (right, left) for line in (row - 1, row + 1)]
    best, fewest = None, length + 1
    for first, line in (*level, *slanting, (middle, row - 1), (middle, row + 1)):
        last = first + length
        if line not in taken or first < 0 or last > len(texts[line]):
            continue
        if any(first <= end and begin <= last for begin, end in taken[line]):
            continue
        covered = length - texts[line].count(" ", first, last)
        if covered < fewest:
            best, fewest = (first, line), covered
    return best


def _overwritten(runs: Sequence[Run], column: int, fresh: Run) -> tuple[Run, ...]:
    """A row of runs with the fresh one written over it from this column."""
    before, after = [], []
    start, last = 0, column + len(fresh.text)
    for run in runs:
        end = start + len(run.text)
        if start < column:
            before.append(run if end <= column else Run(run.text[: column - start], run.role))
        if end > last:
            after.append(run if start >= last else Run(run.text[last - start :], run.role))
        start = end
    return (*before, fresh, *after)


_ASCII_SPELLING = str.maketrans({"\u2044": "/", "\u2212": "-", "\u2013": "-", "\u00d7": "x", "\u00b0": "deg"})


def _spelled(label: str, ascii: bool) -> str:
    """A label in letters that fill one cell each; what can't be spelled so becomes a question mark."""
    if ascii:
        plain = unicodedata.normalize("NFKD", label.translate(_ASCII_SPELLING)).translate(_ASCII_SPELLING)
        bare = "".join(letter for letter in plain if not unicodedata.combining(letter))
        return bare.encode("ascii", "replace").decode("ascii")
    composed = unicodedata.normalize("NFC", label)
    return "".join(letter if _single(letter) else "?" for letter in composed)


def _single(letter: str) -> bool:
    """Whether a letter fills one cell (Unicode Standard Annex 11)."""
    wide = unicodedata.east_asian_width(letter) in "WF"
    return not wide and unicodedata.category(letter) not in ("Mn", "Me", "Cf")
