"""From millimetres to dots on a screen: what of a scene's lines and areas lights, look by look."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tutor.picture.looks import Look
from tutor.picture.scene import Patch, Scene, Stroke, Window

Points = NDArray[np.complex128]
Numbers = NDArray[np.float64]
Places = NDArray[np.intp]
Mask = NDArray[np.bool_]
Cell = tuple[int, int]

THINNING_DOTS = 0.1
"""How far a line may stray each time that half of its points are given up (see _thinned)."""
SAME_DOTS = 1e-6
"""Points nearer than this many dots are the same point."""
SPARE_DOTS = 0.02
"""How far lines stay inside the right and lower edge, which would belong to the dots after them."""
CLEAR_DOTS = 2
"""How many dots about the seam line, to all sides, are kept clear of folds: in ASCII, whose dots are cells, half."""
ENDLESS = 10**15
"""More dots than any line has."""


class Style(NamedTuple):
    """How a look becomes dots: so many on, so many off, perhaps twice (empty: unbroken)."""

    dots: tuple[int, ...]
    cells: tuple[int, ...]
    """The same for ASCII, where a cell is one dot."""
    letter: str
    """Its ASCII letter, or ALONG."""


ALONG = ""
"""Whichever of - | / and \\ lies along the line."""

STYLES = {
    Look.GAP: Style((1, 3), (), "."),
    Look.OVERLAP: Style((), (), "#"),
    Look.GUIDE: Style((1, 7), (1, 3), "'"),
    Look.BEFORE: Style((6, 5), (2, 1), ":"),
    Look.ARMHOLE: Style((), (), "&"),
    Look.FOLD: Style((5, 1), (), "~"),
    Look.PIECE: Style((15, 1), (), ALONG),
    Look.AFTER: Style((), (), "*"),
    Look.SLASH: Style((9, 3, 1, 3), (3, 1), "+"),
    Look.CANDIDATE: Style((1, 2), (1, 1), "="),
}
TWO_DOTS_THICK = Look.ARMHOLE
"""In braille, where its line would be like that of AFTER otherwise."""

_PLACES = {look: place for place, look in enumerate(Look)}
_LETTERS = np.array([STYLES[look].letter for look in Look])
_NOWHERE = np.array([complex(np.nan, np.nan)])


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells laid over the plane, each `cell_mm` wide and twice as high, the first at the upper left."""

    columns: int
    rows: int
    corner: complex
    cell_mm: float

    @classmethod
    def over(cls, window: Window, columns: int, rows: int, *, ascii: bool, columns_free: int = 0) -> "Grid":
        """The smallest cells that show all of the window, whose centre is in their middle.

        With ``columns_free`` it is that many columns to the left of there, or as many as there is room for.

        A cell has 2 x 4 dots in braille and a single one in ASCII. The window lies between the centres of
        the outermost dots, (2 columns - 1) x (4 rows - 1) dots apart, so that nothing on its edge is lost.
        ValueError unless both counts are above 0.
        """
        if columns < 1 or rows < 1:
            raise ValueError(f"a picture has at least one column and one row, not {columns} x {rows}")
        dots = 1 if ascii else 2
        # A single dot has no neighbour's centre to reach to: the window then fills half of it.
        across = max(dots * columns - 1, 0.5)
        down = max(2 * dots * rows - (2 if ascii else 1), 1)
        cell_mm = dots * max(window.width_mm / across, window.height_mm / down)
        spare = max(across * cell_mm / dots - window.width_mm, 0.0)
        aside = min(columns_free * cell_mm, spare / 2)
        return cls(columns, rows, window.centre + complex(-columns / 2, rows) * cell_mm + aside, cell_mm)

    def to_cell(self, point: complex) -> Cell | None:
        """Column and row of the cell holding a point (mm), or None where it lies outside."""
        away = (point - self.corner) / self.cell_mm
        column, row = int(away.real // 1), int(-away.imag // 2)
        return (column, row) if 0 <= column < self.columns and 0 <= row < self.rows else None

    def to_point(self, column: int, row: int) -> complex:
        """The centre of a cell, in mm; cells outside the canvas have one too."""
        return self.corner + complex(column + 0.5, -2 * row - 1) * self.cell_mm


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
        """Dots in the width of the grid."""
        return self.grid.columns * self.across

    @property
    def height(self) -> int:
        """Dots in the height of the grid."""
        return self.grid.rows * self.down

    def at(self, points: Points) -> Points:
        """Points in mm as dots right + 1j * dots down; the centre of the first dot is 0.5 + 0.5j."""
        away = (points - self.grid.corner) / self.grid.cell_mm
        return away.real * self.across - 0.5j * away.imag * self.down


class Vertices(NamedTuple):
    """What to plot: points in dots, whether each is joined to the one before, and its letter in ASCII.

    All of shape (n,).
    """

    points: Points
    joined: Mask
    letter: NDArray[np.str_]


def rasterised(scene: Scene, raster: Raster) -> list[tuple[Look, Vertices]]:
    """What of a scene lights on the raster, in the order of drawing; looks that don't appear are left out."""
    visible = _folds_off_the_seam(_clipped(_stroked(scene.strokes, raster), raster, 0.0), raster)
    if hatching := _hatched(scene.patches, raster):
        # Hatching ends in the centres of dots, since a slanting line from corner to corner is ragged.
        visible = _joined([visible, _clipped(_joined(hatching), raster, 0.5)])
    ordered = _picked(visible, np.argsort(visible.look, kind="stable"))
    return _vertices(_lit(ordered, raster.ascii), raster.ascii)


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


def _picked(segments: Segments, which: Mask | Places) -> Segments:
    start, end, begins, ends, look = segments
    return Segments(start[which], end[which], begins[which], ends[which], look[which])


def _stroked(strokes: Sequence[Stroke], raster: Raster) -> Segments:
    """The segments of all strokes. They are worked on in one array, with NaN between them, for speed."""
    parts = [_NOWHERE]
    for stroke in strokes:
        alone = stroke.points.size == 1  # then it is a line without length
        parts += [stroke.points, stroke.points, _NOWHERE] if alone else [stroke.points, _NOWHERE]
    sizes = [max(stroke.points.size, 2) + 1 for stroke in strokes]
    looks = np.repeat(np.array([_PLACES[stroke.look] for stroke in strokes], dtype=np.intp), sizes)
    segments = _segments(*_thinned(raster.at(np.concatenate(parts)), np.append(np.intp(0), looks)))
    if raster.ascii:
        return segments
    thick = _picked(segments, segments.look == _PLACES[TWO_DOTS_THICK])
    beside = [thick._replace(start=thick.start + shift, end=thick.end + shift) for shift in (1, 1j)]
    return _joined([segments, *beside])


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
        if keep.all():
            break
        points, looks = points[keep], looks[keep]
    return points, looks


def _segments(points: Points, looks: Places) -> Segments:
    """The pieces between neighbouring points, none to or from a NaN; distances start anew after one."""
    start, end = points[:-1], points[1:]
    step = end - start
    dots = np.maximum(np.abs(step.real), np.abs(step.imag))
    real = ~np.isnan(dots)
    ends = np.cumsum(np.where(real, dots, 0.0))
    ends -= np.maximum.accumulate(np.where(real, 0.0, ends))
    return _picked(Segments(start, end, ends - dots, ends, looks[:-1]), real)


def _clipped(segments: Segments, raster: Raster, inset: float) -> Segments:
    """What of the pieces is at least `inset` dots inside (by the parameters at which they enter and leave)."""
    start, end, begins, ends, look = segments
    step = end - start
    enter, leave = np.zeros(start.size), np.ones(start.size)
    spare = max(inset, SPARE_DOTS)
    sides = ((start.real, step.real, raster.width - spare), (start.imag, step.imag, raster.height - spare))
    for place, change, farthest in sides:
        moving = change != 0
        rate = np.where(moving, change, 1.0)
        first, last = (inset - place) / rate, (farthest - place) / rate
        outside = np.where((place < inset) | (place > farthest), 2.0, 0.0)
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


def _folds_off_the_seam(segments: Segments, raster: Raster) -> Segments:
    """The pieces without what of the folds is beside the seam line, whose shape would be lost among them."""
    folds = segments.look == _PLACES[Look.FOLD]
    if not folds.any():
        return segments
    line = _stepped(_picked(segments, segments.look == _PLACES[Look.AFTER]))
    seam = _dots(np.concatenate([line.start, line.end]))
    clear = CLEAR_DOTS // 2 if raster.ascii else CLEAR_DOTS
    taken = np.zeros((raster.height + 2 * clear, raster.width + 2 * clear), dtype=bool)
    for across in range(2 * clear + 1):
        for down in range(2 * clear + 1):
            taken[seam[0] + down, seam[1] + across] = True
    steps = _stepped(_picked(segments, folds))
    beside = np.zeros(steps.look.size, dtype=bool)
    for points in (steps.start, steps.end):
        row, column = _dots(points)
        beside |= taken[row + clear, column + clear]
    return _joined([_picked(segments, ~folds), _picked(steps, ~beside)])


def _stepped(segments: Segments) -> Segments:
    """The pieces in steps of a dot at most."""
    start, end, begins, ends, look = segments
    counts = np.maximum(np.ceil(ends - begins), 1).astype(np.intp)
    which = np.repeat(np.arange(counts.size), counts)
    nth = np.arange(which.size) - np.repeat(np.cumsum(counts) - counts, counts)
    low, high = nth / counts[which], (nth + 1) / counts[which]
    way, length = (end - start)[which], (ends - begins)[which]
    return Segments(
        start[which] + low * way,
        start[which] + high * way,
        begins[which] + low * length,
        begins[which] + high * length,
        look[which],
    )


def _dots(points: Points) -> tuple[Places, Places]:
    """The dots in which points lie: their rows and columns."""
    return np.floor(points.imag).astype(np.intp), np.floor(points.real).astype(np.intp)


def _lit(segments: Segments, ascii: bool) -> Segments:
    """The pieces of the pieces that the patterns of their looks light."""
    periods, begun, lengths = _patterns(ascii)
    period, earliest = periods[segments.look], begun[segments.look, 0]
    first = np.floor((segments.begins - earliest) / period)
    counts = (np.floor((segments.ends - earliest) / period) - first).astype(np.intp) + 1
    which = np.repeat(np.arange(counts.size), counts)
    nth = np.arange(which.size) - np.repeat(np.cumsum(counts) - counts, counts)
    start, end, begins, ends, look = (part[which][:, None] for part in segments)
    run = ((first[which] + nth) * period[which])[:, None] + begun[look[:, 0]]
    low, high = np.maximum(run, begins), np.minimum(run + lengths[look[:, 0]], ends)
    rate = (end - start) / np.where(ends > begins, ends - begins, 1.0)
    seen = low <= high
    return Segments(
        (start + (low - begins) * rate)[seen],
        (start + (high - begins) * rate)[seen],
        low[seen],
        high[seen],
        np.broadcast_to(look, seen.shape)[seen],
    )


@cache
def _patterns(ascii: bool) -> tuple[Numbers, Numbers, Numbers]:
    """For every look the period of its pattern, shape (n,), and two runs: where begun, how long, (n, 2).

    A run of n dots is n - 1 long, from the centre of its first dot to that of its last.
    """
    periods, begun, lengths = [], [], []
    for look in Look:
        pattern = STYLES[look].cells if ascii else STYLES[look].dots
        on, off, *more = pattern or (ENDLESS, 0)
        periods.append(on + off + sum(more))
        begun.append((0 if pattern else -ENDLESS // 2, on + off))
        lengths.append((on - 1, more[0] - 1 if more else -1))
    return np.array(periods, dtype=float), np.array(begun, dtype=float), np.array(lengths, dtype=float)


def _hatched(patches: Sequence[Patch], raster: Raster) -> list[Segments]:
    """The lines that fill the patches: staggered dots for a gap, crossed lines for an overlap."""
    filled = []
    for look in (Look.GAP, Look.OVERLAP):
        areas = [patch.rings for patch in patches if patch.look is look and patch.rings]
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


def _ruled(areas: list[tuple[Points, ...]], look: Look, turn: complex, step: float, raster: Raster) -> Segments:
    """Level lines `step` dots apart through what lies inside an odd number of an area's rings (mm), turned by `turn`.

    They go through the centres of dots; their distances are counted from the axis.
    """
    rings = [ring for area in areas for ring in area]
    start = raster.at(np.concatenate(rings)) * turn
    firsts = np.cumsum([0, *(ring.size for ring in rings[:-1])])
    end = np.append(start[1:], start[0])
    end[firsts - 1] = start[np.roll(firsts, 1)]
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
    if turn != 1:  # from centre to centre, which are where this coordinate is odd
        begins, ends = 2 * np.ceil((begins - 1) / 2) + 1, 2 * np.floor((ends - 1) / 2) + 1
    places = np.full(begins.size, _PLACES[look], dtype=np.intp)
    lines = Segments((begins + rows) / turn, (ends + rows) / turn, begins, ends, places)
    return _picked(lines, begins <= ends)


def _vertices(segments: Segments, ascii: bool) -> list[tuple[Look, Vertices]]:
    """The ends of the segments, by look: two that meet are taken for one, and those of a dot too."""
    fresh = np.ones(segments.start.size, dtype=bool)
    fresh[1:] = np.abs(segments.start[1:] - segments.end[:-1]) > SAME_DOTS
    fresh[1:] |= segments.look[1:] != segments.look[:-1]
    long = np.abs(segments.end - segments.start) > SAME_DOTS
    keep = np.column_stack((fresh, long)).ravel()
    points = np.column_stack((segments.start, segments.end)).ravel()[keep]
    joined = np.column_stack((np.zeros_like(long), long)).ravel()[keep]
    letter = np.zeros(points.size, dtype=_LETTERS.dtype)
    if ascii:
        letters = _letters(segments)
        # A line is drawn in the letter of the vertex it comes from.
        onward = np.where(np.append(fresh[1:], True), letters, np.roll(letters, -1))
        letter = np.column_stack((letters, onward)).ravel()[keep]
    ends = np.searchsorted(np.repeat(segments.look, 2)[keep], np.arange(len(Look)), side="right").tolist()
    parts = [(look, slice(first, last)) for look, first, last in zip(Look, [0, *ends], ends, strict=False)]
    return [(look, Vertices(points[s], joined[s], letter[s])) for look, s in parts if s.start < s.stop]


def _letters(segments: Segments) -> NDArray[np.str_]:
    """The ASCII letters of the segments (a cell is twice as high as wide)."""
    step = segments.end - segments.start
    right, down = step.real, 2 * step.imag
    slanting = np.where(right * down > 0, "\\", "/")
    upright = np.where(np.abs(right) < 0.4 * np.abs(down), "|", slanting)
    along = np.where(np.abs(down) < 0.4 * np.abs(right), "-", upright)
    letters = _LETTERS[segments.look]
    return np.where(letters == ALONG, along, letters)
