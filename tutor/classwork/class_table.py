"""Whose answers a table of the class may hold that can't be read, as a whole or in a row.

A table that lies there has somebody's answers in it. Where nobody can tell whose, each of those it may be keeps what
they seem to have left out open, in place of a nought.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from tutor.classwork.answer_table import DATES
from tutor.classwork.class_list import NAMES, UNITS
from tutor.classwork.csv_table import Row, Table
from tutor.classwork.owners import Owners
from tutor.faults import Fault

ENDINGS = (".csv", ".tsv", ".ods", ".xls", ".xlsx")
"""What tables end in as spreadsheets save them, also those that are not read here."""
NO_ANSWERS = {"", "homework", "variant", *NAMES, *UNITS, *DATES}
"""Headings of columns without answers."""


def may_hold_answers_of(table: Table | None, owners: Owners) -> tuple[str, ...]:
    """By their files, the learners whose answers a table may hold that is not to be used as one.

    None is a table that can't be read at all. Where rows tell names it is those; a mere list of names holds nobody's.
    """
    if table is None:
        return owners.everybody
    column = next((name for name in NAMES if name in table.headings), None)
    if column is None:
        return owners.everybody
    if NO_ANSWERS.issuperset(table.headings) and not any(row.fault for row in table.rows):
        return ()
    told = Told(owners)
    unknown = [row for row in table.rows if not told.row(row, row.cells[column])]
    if any(told.is_anybodys(row, row.cells[column]) for row in unknown):
        return owners.everybody
    return tuple(file for file in owners.everybody if file in told.files)


@dataclass(slots=True)
class Told:
    """The learners whom the rows of a table tell; ``left`` are the faults of rows that tell none of them."""

    owners: Owners
    files: set[str] = field(default_factory=set)
    left: list[Fault] = field(default_factory=list)

    def row(self, row: Row, name: str) -> str:
        """The file of the learner whose row it is, "" where it is nobody's; of a broken row any cell may tell."""
        names = [name, *row.cells.values()] if row.fault is not None else [name]
        file = next(filter(None, map(self.owners.file_of, names)), "")
        if file:
            self.files.add(file)
        return file

    def is_anybodys(self, row: Row, name: str) -> bool:
        """Whether a row that tells no learner of the class may be one's all the same: it is broken, or has no name."""
        return row.fault is not None or not name

    def rest(self) -> tuple[str, ...]:
        """Those of whom no row was told."""
        return tuple(file for file in self.owners.everybody if file not in self.files)
