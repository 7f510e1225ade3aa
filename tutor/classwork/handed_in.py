"""Everything that was handed in: forms, tables of a class, and drawings or plans that lie beside them by themselves.

A drawing, plan or list of points that no form names is the answer of the learner and to the task that its own name
says: ``anouk-2.svg``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tutor.classwork.answer_form import LARGEST as LARGEST_FORM
from tutor.classwork.answer_form import FormReader, UnitOf, is_form
from tutor.classwork.answer_table import TableReader
from tutor.classwork.attachment import read_attachment
from tutor.classwork.csv_table import LARGEST as LARGEST_TABLE
from tutor.classwork.csv_table import read_rows
from tutor.classwork.given import Submission
from tutor.classwork.safe_files import Found, plain_files, read_plain
from tutor.faults import Fault
from tutor.toml_reading import read_toml

_OWN_NAME = re.compile(r"(?P<file>.+?)-(?P<task>\d{1,3})\.[a-z]+", re.IGNORECASE)
_SHEET = re.compile(r"(?P<file>.+)-sheet(-\d+)?\.(svg|pdf)", re.IGNORECASE)
_PATTERN = re.compile(r"(?P<file>.+)-(?P<task>\d{1,3})-pattern\.svg", re.IGNORECASE)
POINTS = {"seam", "x", "y"}


@dataclass(frozen=True, slots=True)
class Trouble:
    """A file, or a row of one, that could not be read at all: where, and the whole line that says why."""

    source: str
    line: str


def trouble(source: str, fault: Fault) -> Trouble:
    return Trouble(source, str(fault))


@dataclass(slots=True)
class HandedIn:
    """Reads all that some paths hold, one at a time. ``name_of`` gives the learner that a file's name belongs to."""

    paths: Iterable[Path]
    unit_of: UnitOf
    name_of: Callable[[str], str | None]
    _used: set[Path] = field(default_factory=set)
    _alone: list[Found] = field(default_factory=list)
    _unread: list[tuple[Found, Fault]] = field(default_factory=list)

    def read(self) -> Iterator[Submission | Trouble]:
        """What was handed in, form by form and row by row, and a line for each thing that can't be read."""
        for path in self.paths:
            for found in plain_files(path):
                if isinstance(found, Fault):
                    yield trouble(found.where, found)
                elif not self._is_sheet(found):
                    yield from self._file(found)
        # What is wrong with a file that a form names is told with the form.
        for found, fault in self._unread:
            if found.path not in self._used:
                yield trouble(found.name, fault)
        for found in self._alone:
            if found.path not in self._used:
                yield self._by_itself(found)

    def _file(self, found: Found) -> Iterator[Submission | Trouble]:
        try:
            match found.path.suffix.casefold():
                case ".toml":
                    yield from self._toml(found)
                case ".csv":
                    yield from self._csv(found)
                case ".svg":
                    self._alone.append(found)
                case _:
                    raise Fault(found.name, "is no answer known here", "give TOML, CSV or SVG files")
        except Fault as fault:
            self._unread.append((found, fault))

    def _toml(self, found: Found) -> Iterator[Submission]:
        document = read_toml(read_plain(found.path, LARGEST_FORM, found.name), found.name)
        if not is_form(document):
            self._alone.append(found)
            return
        reader = FormReader(found, document, self.unit_of)
        yield reader.read()
        self._use(found, reader.attached)

    def _csv(self, found: Found) -> Iterator[Submission | Trouble]:
        table = read_rows(read_plain(found.path, LARGEST_TABLE, found.name), found.name)
        if set(table.headings) >= POINTS:
            self._alone.append(found)
            return
        reader = TableReader(found, table, self.unit_of)
        for row in reader.rows():
            yield trouble(row.where, row) if isinstance(row, Fault) else row
        self._use(found, reader.attached)

    def _use(self, found: Found, names: Iterable[str]) -> None:
        self._used.update(found.path.parent / name for name in names)

    def _is_sheet(self, found: Found) -> bool:
        """Whether a file is part of the sheet that was handed out, handed back with the rest."""
        match = _SHEET.fullmatch(found.path.name)
        return match is not None and self.name_of(match["file"].casefold()) is not None

    def _by_itself(self, found: Found) -> Submission | Trouble:
        handed_out = _PATTERN.fullmatch(found.path.name)
        if handed_out is not None:
            right = f"save an answer as {handed_out['file']}-{handed_out['task']}.svg, or name it in the form"
            return trouble(found.name, Fault(found.name, "is called as the pattern that was handed out", right))
        match = _OWN_NAME.fullmatch(found.path.name)
        learner = self.name_of(match["file"].casefold()) if match else None
        if match is None or learner is None:
            right = "name it in a form, or call it by learner and task, such as anouk-2.svg"
            return trouble(found.name, Fault(found.name, "belongs to no learner of the class", right))
        try:
            given = read_attachment(found.path, found.name, self.unit_of(learner))
        except Fault as fault:
            return Submission(found.name, learner, ((int(match["task"]), fault),))
        return Submission(found.name, learner, ((int(match["task"]), given),))
