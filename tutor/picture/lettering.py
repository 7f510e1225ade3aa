"""Signs and labels written over a drawn canvas, where they hide least."""

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from tutor.picture.letters import spelled
from tutor.picture.looks import Look, Role, Sign
from tutor.picture.raster import Cell, Raster
from tutor.picture.scene import Mark


class Run(NamedTuple):
    """Neighbouring cells of one row that have the same meaning; each letter of the text fills one cell."""

    text: str
    role: Role | None


Row = tuple[Run, ...]

SEAMS = frozenset({Look.AFTER, Look.ARMHOLE, Look.PIECE})
"""Lines that no label covers: the pattern as it is."""
FARTHEST = 5
"""Cells between a sign and its label at most."""
LEVEL = frozenset({Sign.UNDERARM})
"""Signs whose labels stand in one row where they can: those of back and front."""
IN_THE_WAY = 4
"""Cells more that two labels may cover, or be farther away, to stand in one row."""

_ORDER = {sign: place for place, sign in enumerate(Sign)}


class _Line:
    """One row of the canvas: its text, its seams (a cross for each cell), and from and up to where it is written on."""

    def __init__(self, row: Row, columns_free: int) -> None:
        self.columns_free = columns_free
        self.text = "".join([run.text for run in row])
        self.seams = "".join([("x" if run.role in SEAMS else " ") * len(run.text) for run in row])
        self.taken: list[tuple[int, int]] = []

    def is_free(self, first: int, last: int) -> bool:
        """Whether a label has room from the first column to before the last."""
        if first < 0 or last > len(self.text) - self.columns_free or "x" in self.seams[max(first - 1, 0) : last + 1]:
            return False
        return not any(first <= end and begin <= last for begin, end in self.taken)


def lettered(canvas: Sequence[Row], marks: Sequence[Mark], raster: Raster, *, columns_free: int = 0) -> tuple[Row, ...]:
    """The canvas with the signs of all marks inside it, and their labels where there is room.

    Later signs lie over earlier ones; their labels choose their places first. No label reaches into the last
    ``columns_free`` columns, beside which other text may stand.
    """
    rows = list(canvas)
    lines: dict[int, _Line] = {}

    def line(row: int) -> _Line | None:
        if row not in lines and 0 <= row < len(canvas):
            lines[row] = _Line(canvas[row], columns_free)
        return lines.get(row)

    def write(cell: Cell, run: Run) -> None:
        column, row = cell
        on = line(row)
        assert on is not None
        on.taken.append((column, column + len(run.text)))
        rows[row] = overwritten(rows[row], column, run)

    shown = [(cell, mark) for mark in marks if (cell := raster.grid.to_cell(mark.at))]
    shown.sort(key=lambda pair: _ORDER[pair[1].sign])
    for cell, mark in shown:
        write(cell, Run(mark.sign.glyph(ascii=raster.ascii), mark.sign))
    labelled = [
        (cell, mark.sign, label) for cell, mark in reversed(shown) if (label := spelled(mark.label, ascii=raster.ascii))
    ]
    for sign, group in groupby(labelled, lambda each: each[1]):
        alike = [(cell, label) for cell, _, label in group]
        level = _level(alike, line) if sign in LEVEL else None
        for k, (cell, label) in enumerate(alike):
            place = _beside(cell, len(label), line) if level is None else level[k]
            if place:
                write(place, Run(label, sign))
    return tuple(rows)


def _beside(cell: Cell, length: int, line: Callable[[int], _Line | None]) -> Cell | None:
    """Where a label of this length goes: near its cell, on the canvas, clear of letters and seams, covering least."""
    return min(_by_row(cell, length, line).values(), default=(0, 0, None))[-1]


def _level(alike: Sequence[tuple[Cell, str]], line: Callable[[int], _Line | None]) -> list[Cell] | None:
    """Where two labels go in one row, covering least; None where one of them has no such place or covers much by it."""
    if len(alike) != 2:
        return None
    first, second = (_by_row(cell, len(label), line) for cell, label in alike)
    rows = [row for row in first if row in second and not _touch(first[row][-1], second[row][-1], alike)]
    if not rows:
        return None
    row = min(rows, key=lambda row: first[row][0] + second[row][0])
    freely = min(first.values())[0] + min(second.values())[0]
    if first[row][0] + second[row][0] > freely + IN_THE_WAY:
        return None
    return [first[row][-1], second[row][-1]]


def _touch(place: Cell, other: Cell, alike: Sequence[tuple[Cell, str]]) -> bool:
    """Whether two labels that begin there in one row have no cell between them."""
    (_, label), (_, beside) = alike
    return place[0] <= other[0] + len(beside) and other[0] <= place[0] + len(label)


def _by_row(cell: Cell, length: int, line: Callable[[int], _Line | None]) -> dict[int, tuple[int, int, Cell]]:
    """The best place for a label of this length in each row that has one: its cost, its turn among all, and where.

    It costs what it covers, and how far it is.
    """
    found: dict[int, tuple[int, int, Cell]] = {}
    for turn, (away, first, row) in enumerate(_places(cell, length)):
        last = first + length
        on = line(row)
        if on is None or not on.is_free(first, last):
            continue
        near = on.text[max(first - 1, 0) : last + 1]
        cost = away + len(near) - near.count(" ")
        if row not in found or cost < found[row][0]:
            found[row] = cost, turn, (first, row)
    return found


def _places(cell: Cell, length: int) -> Iterator[tuple[int, int, int]]:
    """Where a label may begin: how far it then is from the nearest places, column and row; the better ones first."""
    column, row = cell
    right, left, middle = column + 1, column - length, column - length // 2
    for away in range(FARTHEST):
        yield away, right + 1 + away, row
        yield away, left - 1 - away, row
        for first in (right + away, left - away):
            yield away, first, row - 1
            yield away, first, row + 1
    yield 0, middle, row - 1
    yield 0, middle, row + 1


def overwritten(row: Row, column: int, fresh: Run) -> Row:
    """A row with the fresh run written over it from this column."""
    before, after = [], []
    start, last = 0, column + len(fresh.text)
    for run in row:
        end = start + len(run.text)
        if start < column:
            before.append(run if end <= column else Run(run.text[: column - start], run.role))
        if end > last:
            after.append(run if start >= last else Run(run.text[last - start :], run.role))
        start = end
    return (*before, fresh, *after)
