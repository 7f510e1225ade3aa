"""An answer that is a file of its own: a plan, a drawn pattern, or traced points."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tutor.alteration.plan_file import plan_of
from tutor.classwork.csv_table import read_table
from tutor.classwork.given import Given, GivenDrawing, GivenPlan, GivenPoints
from tutor.classwork.safe_files import read_plain
from tutor.faults import Fault
from tutor.pattern.svg_ids import is_known
from tutor.toml_reading import Document, read_toml
from tutor.units import LONGEST_TEXT, Unit, parse_length

LARGEST_PLAN = 64 * 1024
LARGEST_DRAWING = 2_000_000
LARGEST_POINTS = 1_000_000
MOST_POINTS = 3000
MOST_LINES = 40
MOST_SLASHES = 24
"""Of a plan that is handed in: more than any sleeve is slashed by, and few enough to be marked in a moment."""
FARTHEST = 10_000.0
"""mm; no point is believed to be farther from where its numbers count from."""
ENDINGS = (".toml", ".svg", ".csv")
_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]*)?")


def read_attachment(path: Path, where: str, unit: Unit) -> Given:
    """The answer in a file, by the file's ending; bare lengths in it are in ``unit``. Raises Fault."""
    ending = path.suffix.casefold()
    if ending == ".svg":
        return GivenDrawing(read_plain(path, LARGEST_DRAWING, where))
    if ending == ".csv":
        return points_of_table(read_plain(path, LARGEST_POINTS, where), where, unit)
    return given_plan(dict(read_toml(read_plain(path, LARGEST_PLAN, where), where).tables), where, unit)


def given_plan(table: Mapping[str, Any], where: str, unit: Unit) -> GivenPlan:
    """A plan's table, once it reads as a plan. Raises Fault, with every fault that it has."""
    whole = {"units": unit.value, **table}
    for key in ("slash", "opening"):
        count = len(table[key]) if isinstance(table.get(key), list) else 0
        if count > MOST_SLASHES:
            raise Fault(f"{where}: {key}", f"there are {count} of them", f"{MOST_SLASHES} are enough")
    file = plan_of(Document(whole, "", where))
    if file.aims:
        raise Fault(
            f"{where}: opening", "says what it is for, and not by how much", "give its amount: that is the answer"
        )
    return GivenPlan(whole)


def given_points(table: Mapping[str, Any], where: str, unit: Unit) -> GivenPoints:
    """Traced points as a table of lists of [x, y]. Raises Fault for anything else."""
    if len(table) > MOST_LINES:
        raise Fault(where, f"has {len(table)} lines", f"a pattern has at most {MOST_LINES}")
    lines = {}
    for name, points in table.items():
        at = f"{where}, {name[:40]}"
        _check_line(name, at)
        if not isinstance(points, list) or len(points) > MOST_POINTS:
            raise Fault(at, "is no list of points", f"write [[x, y], [x, y]], at most {MOST_POINTS}")
        lines[name] = [_point(point, at, unit) for point in points]
    return GivenPoints(lines)


def _check_line(name: str, where: str) -> None:
    if not is_known(name):
        raise Fault(where, "is no line of a pattern", "write cap-back, cap-front, underarm-back, hem and so on")


def _coordinate(text: str, where: str, unit: Unit) -> float:
    """A number of a table, with a decimal point or comma however many figures follow it; or a length."""
    if len(text) < LONGEST_TEXT and _NUMBER.fullmatch(text):
        return float(text.replace(",", ".")) * float(unit.mm)
    return parse_length(text, unit, where)


def _point(point: Any, where: str, unit: Unit) -> tuple[float, float]:
    pair = isinstance(point, list) and len(point) == 2
    if not pair or any(isinstance(number, bool) or not isinstance(number, int | float) for number in point):
        raise Fault(where, "has a point that is no pair of numbers", "write [x, y]")
    # The least and the greatest first, as whole numbers may be too large to become floats.
    x, y = (float(min(max(number, -1e300), 1e300)) * float(unit.mm) for number in point)
    return _near(x, y, where)


def _near(x: float, y: float, where: str) -> tuple[float, float]:
    if not (abs(x) <= FARTHEST and abs(y) <= FARTHEST):
        raise Fault(where, "has a point beyond 10 m", "look at the unit")
    return x, y


def points_of_table(content: bytes, where: str, unit: Unit) -> GivenPoints:
    """Traced points from a CSV file with the columns seam, x and y, each line's points in order. Raises Fault."""
    table = read_table(content, where)
    missing = [name for name in ("seam", "x", "y") if name not in table.headings]
    if missing:
        raise Fault(where, f"has no column called {missing[0]}", "write seam, x and y as headings")
    lines: dict[str, list[tuple[float, float]]] = {}
    for row in table.rows:
        name, at = row.cells["seam"].casefold(), table.place(row)
        _check_line(name, at)
        points = lines.setdefault(name, [])
        x, y = (_coordinate(row.cells[key], table.place(row, key), unit) for key in ("x", "y"))
        points.append(_near(x, y, at))
        if len(points) > MOST_POINTS:
            raise Fault(at, f"is beyond the {MOST_POINTS}th point of {name}", "trace fewer points")
        if len(lines) > MOST_LINES:
            raise Fault(where, f"has more than {MOST_LINES} lines", "a pattern has fewer")
    return GivenPoints(lines)
