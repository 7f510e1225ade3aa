"""Answers of a class as a CSV file: a row for each learner, and a column for each task.

The headings are ``learner`` (or ``name``), the numbers of the tasks, and if wanted ``variant``, ``homework``, ``units``
and ``handed-in``. A cell holds a figure, other words, or the name of a file beside the table: a plan, a drawn pattern,
or traced points.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from tutor.classwork.answer_form import CheckOwn, UnitOf, given_text
from tutor.classwork.attachment import ENDINGS, read_attachment
from tutor.classwork.class_list import NAMES, UNITS, column_of
from tutor.classwork.csv_table import Row, Table
from tutor.classwork.given import Given, Submission
from tutor.classwork.learner import read_name
from tutor.classwork.safe_files import Found, file_beside
from tutor.faults import Fault
from tutor.units import Unit

DATES = ("handed-in", "handed in")
_TASK = re.compile(r"(\d{1,3})[.:)]?|(?:task|question) (\d{1,3})(?:[.:)]?|[.:)]? [^\d].*)", re.ASCII | re.DOTALL)
_YEAR_FIRST = re.compile(r"(\d{4})([-./])(\d{1,2})\2(\d{1,2})", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})([-./])(\d{1,2})\2(\d{4})", re.ASCII)


class TableReader:
    """Reads the rows of one table; ``attached`` are the files beside it that cells name."""

    def __init__(self, found: Found, table: Table, unit_of: UnitOf, check_own: CheckOwn) -> None:
        self.found = found
        self.attached: list[str] = []
        self._table = table
        self._unit_of = unit_of
        self._check_own = check_own
        self._names = column_of(table, NAMES)
        self._tasks = {
            heading: number
            for heading in table.headings
            if (match := _TASK.fullmatch(heading)) and (number := int(match[1] or match[2]))
        }
        if not self._tasks:
            raise Fault(table.where, "has no column for a task", "write the numbers of the tasks as headings")

    def rows(self) -> Iterator[tuple[Row, str, Submission | Fault]]:
        """Each row, the name in it, and what it hands in or why it can't be read."""
        for row in self._table.rows:
            name = row.cells[self._names]
            try:
                if row.fault is not None:
                    raise row.fault
                yield row, name, self._row(row)
            except Fault as fault:
                yield row, name, fault

    def _row(self, row: Row) -> Submission:
        name = read_name(row.cells[self._names], self._table.place(row, self._names))
        unit = self._unit(row)
        before = len(self.attached)
        answers: list[tuple[int, Given | Fault]] = []
        for heading, number in self._tasks.items():
            if row.cells[heading]:
                answers.append((number, self._answer(row, heading, name, unit or self._unit_of(name))))
        return Submission(
            source=self._table.place(row),
            learner=name,
            answers=tuple(answers),
            homework=self._cell(row, ("homework",)) or None,
            variant=self._cell(row, ("variant",)) or None,
            unit=unit,
            on=self._date(row),
            attached=tuple(self.attached[before:]),
            path=self.found.place,
        )

    def _cell(self, row: Row, headings: tuple[str, ...]) -> str:
        return next((row.cells[heading] for heading in headings if heading in row.cells), "")

    def _unit(self, row: Row) -> Unit | None:
        text = self._cell(row, UNITS).casefold()
        try:
            return Unit(text) if text else None
        except ValueError:
            raise Fault(self._table.place(row, "units"), f'"{text[:20]}" is no unit', "write cm, mm or in") from None

    def _date(self, row: Row) -> datetime.date | None:
        text = self._cell(row, DATES)
        return day_of(text, self._table.place(row, DATES[0])) if text else None

    def _answer(self, row: Row, heading: str, learner: str, unit: Unit) -> Given | Fault:
        text, where = row.cells[heading], self._table.place(row, heading[:40])
        try:
            if not text.casefold().endswith(ENDINGS):
                return given_text(text, where)
            path = file_beside(self.found.path, text, ENDINGS, where)
            self._check_own(path, learner, where)
            self.attached.append(text)
            return read_attachment(path, f"{self._table.place(row)}: {text}", unit)
        except Fault as fault:
            return fault


def day_of(text: str, where: str) -> datetime.date:
    """A day as it is written, or as spreadsheets rewrite it: 2026-11-18, 18-11-2026, 18.11.2026 or 18/11/2026.

    Raises Fault for what is none, and where day and month may each be the other.
    """
    fault = Fault(where, f'"{text[:20]}" is no date', "write it as 2026-11-18")
    if match := _YEAR_FIRST.fullmatch(text):
        year, month, day = int(match[1]), int(match[3]), int(match[4])
    elif match := _YEAR_LAST.fullmatch(text):
        day, month, year = int(match[1]), int(match[3]), int(match[4])
        if month > 12:
            day, month = month, day
        elif day <= 12 and day != month:
            what = f'"{text}" can mean two days, {year}-{month:02}-{day:02} and {year}-{day:02}-{month:02}'
            raise Fault(where, what, "write year, month and day, as in 2026-11-18")
    else:
        raise fault
    try:
        return datetime.date(year, month, day)
    except ValueError:
        raise fault from None
