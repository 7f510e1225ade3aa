"""The class: a CSV file with a row for each learner.

One column, ``name`` or ``learner``, has the names; ``units`` may say cm, mm or in for each. Other columns are passed
over, so that a list kept for other ends serves as it is.
"""

from __future__ import annotations

from tutor.classwork.csv_table import Row, Table, read_table
from tutor.classwork.learner import Learner, file_names, key_of, read_name
from tutor.faults import Fault
from tutor.units import Unit

NAMES = ("name", "learner", "first name")
UNITS = ("units", "unit")


class ClassFaults(Fault):
    """Everything that is wrong with a class list; as a Fault it is the first of ``faults``."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = faults


def read_class(content: bytes, where: str, unit: Unit) -> tuple[Learner, ...]:
    """The learners of a class list in its order; those who name no unit work in ``unit``.

    Raises ClassFaults, a Fault, with every row that is wrong: no name, one that can't be shown, one that comes twice.
    """
    table = read_table(content, where)
    column = column_of(table, NAMES)
    units = next((name for name in UNITS if name in table.headings), "")
    faults: list[Fault] = []
    found: list[tuple[str, Unit]] = []
    lines: dict[str, int] = {}
    for row in table.rows:
        try:
            name = read_name(row.cells[column], table.place(row, column))
            _refuse_double(name, row, table, lines)
            found.append((name, _unit(row, table, units, unit)))
        except Fault as fault:
            faults.append(fault)
    if not found and not faults:
        faults.append(Fault(where, "names no learner", "write a row for each learner below the headings"))
    if faults:
        raise ClassFaults(tuple(faults))
    files = file_names(name for name, _ in found)
    return tuple(Learner(name, each, file) for (name, each), file in zip(found, files, strict=True))


def column_of(table: Table, names: tuple[str, ...]) -> str:
    """The first of these headings that a table has. Raises Fault when it has none of them."""
    for name in names:
        if name in table.headings:
            return name
    there = ", ".join(heading[:20] for heading in table.headings[:8])
    raise Fault(table.where, f"has no column called {names[0]}", f"write that heading; there are {there or 'none'}")


def _refuse_double(name: str, row: Row, table: Table, lines: dict[str, int]) -> None:
    key = key_of(name)
    if key in lines:
        what = f"{name} is on the list already, in line {lines[key]}"
        raise Fault(table.place(row), what, "tell the two apart, as by a letter after the name")
    lines[key] = row.line


def _unit(row: Row, table: Table, column: str, usual: Unit) -> Unit:
    text = row.cells[column].casefold() if column else ""
    if not text:
        return usual
    try:
        return Unit(text)
    except ValueError:
        raise Fault(table.place(row, column), f'"{text[:20]}" is no unit known here', "write cm, mm or in") from None
