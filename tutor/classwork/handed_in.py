"""Everything that was handed in: forms, tables of a class, and drawings or plans that lie beside them by themselves.

A drawing, plan or list of points that no form names is the answer of the learner and to the task that its own name
says: ``anouk-2.svg``. The pattern that was handed out for it, ``anouk-2-pattern.svg``, is one where it was altered.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tutor.classwork.answer_form import LARGEST as LARGEST_FORM
from tutor.classwork.answer_form import FormReader, UnitOf, is_form
from tutor.classwork.answer_table import TableReader
from tutor.classwork.attachment import read_attachment
from tutor.classwork.class_list import NAMES
from tutor.classwork.class_table import ENDINGS as TABLES
from tutor.classwork.class_table import Told, may_hold_answers_of
from tutor.classwork.csv_table import LARGEST as LARGEST_TABLE
from tutor.classwork.csv_table import Table, read_rows
from tutor.classwork.given import Submission
from tutor.classwork.learner import key_of
from tutor.classwork.owners import Owner, Owners
from tutor.classwork.safe_files import Found, place_of, plain_files, read_plain
from tutor.classwork.trouble import Trouble
from tutor.faults import Fault
from tutor.toml_reading import read_toml

_SHEET = re.compile(r"(?P<file>.+)-sheet(-\d+)?\.(svg|pdf)", re.IGNORECASE)
_PATTERN = re.compile(r".+-pattern\.svg", re.IGNORECASE)
POINTS = {"seam", "x", "y"}
NOBODY = Owner("")


@dataclass(frozen=True, slots=True)
class _Unread:
    """A file that can't be read, why, and what is known of it: the learner it names, its rows if it is a table."""

    found: Found
    fault: Fault
    learner: str = ""
    table: Table | None = None


@dataclass(slots=True)
class HandedIn:
    """Reads all that some paths hold, one at a time, for the learners whom ``owners`` knows."""

    paths: Iterable[Path]
    unit_of: UnitOf
    owners: Owners
    _used: set[Path] = field(default_factory=set)
    _alone: list[Found] = field(default_factory=list)
    _unread: list[_Unread] = field(default_factory=list)

    def read(self) -> Iterator[Submission | Trouble]:
        """What was handed in, form by form and row by row, and a line for each thing that can't be read."""
        for path in self.paths:
            for found in plain_files(path):
                if isinstance(found, Fault):
                    yield self._no_file(path, found)
                elif not self._is_sheet(found):
                    yield from self._file(found)
        # What is wrong with a file that a form names is told with the form.
        for each in self._unread:
            if each.found.path not in self._used:
                yield self._unread_file(each)
        # What was called as an answer goes before what is still called as it was handed out.
        for found in sorted(self._alone, key=_is_called_as_dealt):
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
            self._unread.append(_Unread(found, fault))

    def _toml(self, found: Found) -> Iterator[Submission | Trouble]:
        document = read_toml(read_plain(found.path, LARGEST_FORM, found.name), found.name)
        if not is_form(document):
            self._alone.append(found)
            return
        reader = FormReader(found, document, self.unit_of, self._check_own)
        try:
            form = reader.read()
        except Fault as fault:
            self._unread.append(_Unread(found, fault, str(document.tables.get("learner", ""))))
            return
        if others := self._others(found, self.owners.file_of(form.learner)):
            yield self._either(form.source, None, found, self.owners.file_of(form.learner), others)
            return
        yield form
        self._use(found, reader.attached)

    def _csv(self, found: Found) -> Iterator[Submission | Trouble]:
        table = read_rows(read_plain(found.path, LARGEST_TABLE, found.name), found.name, self.owners.has_any)
        if self._is_points(found, table):
            self._alone.append(found)
            return
        try:
            reader = TableReader(found, table, self.unit_of, self._check_own)
        except Fault as fault:
            self._unread.append(_Unread(found, fault, table=table))
            return
        told = Told(self.owners)
        for row, name, item in reader.rows():
            whose = told.row(row, name)
            if others := self._others(found, whose):
                own = item if isinstance(item, Fault) else None
                yield self._either(table.place(row), own, found, whose, others)
            elif not isinstance(item, Fault):
                yield item
            elif whose or (owners := self._owners(found)) or not told.is_anybodys(row, name):
                yield _trouble(item.where, item, (Owner(whose),) if whose else owners, found.place)
            else:
                told.left.append(item)
        for left in told.left:
            yield _trouble(left.where, left, (), found.place, told.rest())
        self._use(found, reader.attached)

    def _is_points(self, found: Found, table: Table) -> bool:
        """Whether a table has traced points, or is called as such and has nobody's name."""
        if set(table.headings) >= POINTS:
            return True
        return self._own_task(found).task > 0 and not set(table.headings) & set(NAMES)

    def _use(self, found: Found, names: Iterable[str]) -> None:
        self._used.update(found.path.parent / name for name in names)

    def _is_sheet(self, found: Found) -> bool:
        """Whether a file is part of the sheet that was handed out, handed back with the rest."""
        match = _SHEET.fullmatch(found.path.name)
        return match is not None and self.owners.name_of(match["file"]) is not None

    def _no_file(self, folder: Path, fault: Fault) -> Trouble:
        """What is wrong with something in a folder that is no plain file, which tells no more than its name."""
        path = folder / fault.where
        is_table = fault.where.casefold().endswith(TABLES)
        among = self.owners.everybody if is_table else ()
        place = place_of(path) if os.path.lexists(path) else ""
        return _trouble(fault.where, fault, self.owners.of_lying(path), place, among)

    def _unread_file(self, unread: _Unread) -> Trouble:
        """What is wrong with a file, and whose it is, or may be."""
        found, fault = unread.found, unread.fault
        file = self.owners.file_of(unread.learner)
        if others := self._others(found, file):
            return self._either(found.name, fault, found, file, others)
        owners = self._owners(found, unread.learner)
        is_table = found.path.name.casefold().endswith(TABLES) and os.path.lexists(found.path)
        among = may_hold_answers_of(unread.table, self.owners) if is_table else ()
        return _trouble(found.name, fault, owners, found.place, among)

    def _owners(self, found: Found, name: str = "") -> tuple[Owner, ...]:
        """Those whose a file may be: the learner of this name, if one of the class, or as it is called, or lies."""
        file = self.owners.file_of(name)
        return (Owner(file),) if file else self.owners.of_file(found.path) or self.owners.of_lying(found.path)

    def _others(self, found: Found, file: str) -> tuple[Owner, ...]:
        """Those others as whose a file is called, or in whose folder it lies, that is from a learner of the class."""
        called = self._owners(found) if file else ()
        return () if any(owner.learner == file for owner in called) else called

    def _either(self, source: str, fault: Fault | None, found: Found, file: str, others: tuple[Owner, ...]) -> Trouble:
        """What one learner is to have handed in by another's file: it may be either's, also where it has a fault."""
        called = found.path.name if self.owners.of_file(found.path) else f"{found.path.parent.name}/"
        whose = self.owners.name_of(others[0].learner)
        what = f"is from {self.owners.name_of(file)}, but {called[:60]} is called as {whose}'s"
        fault = fault or Fault(source, what, "put right the name in it, or what it is called")
        either = {file, *(owner.learner for owner in others)}
        among = tuple(each for each in self.owners.everybody if each in either)
        return Trouble(source, str(fault), among=among, path=found.place)

    def _check_own(self, path: Path, learner: str, where: str) -> None:
        """Raises Fault where a file that a learner gives is called as another's, which it is taken for."""
        names = [self.owners.name_of(owner.learner) or "" for owner in self.owners.of_file(path)]
        if names and key_of(learner) not in map(key_of, names):
            what = f'"{path.name[:60]}" is called as a file of {names[0]}\'s'
            raise Fault(where, what, f"give one of {learner}'s own, called by learner and task")

    def _own_task(self, found: Found) -> Owner:
        """The learner and the task that a file's own name says."""
        if found.path.name.count(".") > 1:
            return NOBODY
        return next((owner for owner in self.owners.of_file(found.path) if owner.task), NOBODY)

    def _by_itself(self, found: Found) -> Submission | Trouble:
        owner = self._own_task(found)
        learner = self.owners.name_of(owner.learner)
        if learner is None:
            right = "name it in a form, or call it by learner and task, such as anouk-2.svg"
            fault = Fault(found.name, "belongs to no learner of the class", right)
            return _trouble(found.name, fault, self._owners(found), found.place)
        dealt = _is_called_as_dealt(found)
        try:
            given = read_attachment(found.path, found.name, self.unit_of(learner))
        except Fault as fault:
            return Submission(found.name, learner, ((owner.task, fault),), alone=True, path=found.place)
        answers = ((owner.task, given),)
        return Submission(found.name, learner, answers, alone=True, dealt=dealt, path=found.place)


def _is_called_as_dealt(found: Found) -> bool:
    return _PATTERN.fullmatch(found.path.name) is not None


def _trouble(source: str, fault: Fault, owners: tuple[Owner, ...], place: str, among: tuple[str, ...] = ()) -> Trouble:
    """What can't be read of a file that lies at ``place``: the first owner's, or of a class table one's ``among``."""
    if among and not owners:
        return Trouble(source, str(fault), among=among, path=place)
    owner = owners[0] if owners else NOBODY
    return Trouble(source, str(fault), owner.learner, owner.task, path=place)
