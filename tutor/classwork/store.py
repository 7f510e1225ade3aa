"""What is kept of a homework in its folder: the register, answers as given, automatic marks, and what can't be read.

    register.json      who is in the class, and which variant each was dealt
    kept/given/        answers as they were given, a file for each learner
    kept/marked/       automatic marks, a file for each learner
    kept/troubles.json what could not be read
    kept/overridden.json  to which answers the teacher's own marks were given
    overrides.csv      the teacher's own marks, with a reason each

Each file is written whole or not at all, one learner's under that learner's lock: two runs at once lose nothing.
"""

from __future__ import annotations

import contextlib
import datetime
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from tutor.classwork.given import Given, digest_of, given_from, stored_given
from tutor.classwork.learner import Learner
from tutor.classwork.register import NAME as REGISTER
from tutor.classwork.register import Register, register_from
from tutor.classwork.result import Result, result_from
from tutor.classwork.trouble import Trouble, trouble_from
from tutor.classwork.writing import content_of, make_folder, write_whole
from tutor.faults import Fault
from tutor.locks import Locks
from tutor.units import Unit

T = TypeVar("T")

LONGEST_WAIT = 120.0
"""Seconds that another run's writing is waited for."""
WHOLE = "the whole folder"
NOTE = {"mark", "reason", "answer", "words"}
"""What is noted of each of the teacher's own marks: as it was given, and the answer's digest and words."""


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer as it was given: None when it could not be read, in which unit, from which file, on which day."""

    given: Given | None
    unit: Unit
    source: str
    on: datetime.date | None = None

    @property
    def digest(self) -> str:
        """Two answers share it only when they are the same, in the same unit."""
        return "" if self.given is None else f"{digest_of(self.given)}-{self.unit.value}"


class Store:
    """One homework's folder; it is made when it is first locked. Raises Fault when it can't be made or written to."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.own = folder / "kept"
        self._locks: Locks | None = None

    def close(self) -> None:
        if self._locks is not None:
            self._locks.close()

    @contextlib.contextmanager
    def locked(self, name: str = WHOLE) -> Iterator[None]:
        """Keeps other runs from one learner's files, or from those of the whole class. Raises Fault if they keep us."""
        if self._locks is None:
            for each in (self.own, self.own / "given", self.own / "marked"):
                make_folder(each, self.folder)
            self._locks = Locks(self.own / ".lock")
        with self._locks.holding(name, LONGEST_WAIT) as held:
            if not held:
                raise Fault(str(self.folder), "is in use by another run", "wait until that is done")
            yield

    def register(self) -> Register | None:
        """The register, if the homework has been dealt out. Raises Fault for one that can't be read."""
        content = content_of(self.folder / REGISTER)
        if content is None:
            return None
        return register_from(content.decode("utf-8", "replace"), str(self.folder / REGISTER))

    def write_register(self, register: Register) -> None:
        write_whole(self.folder / REGISTER, register.text().encode("utf-8", "replace"), lasting=True)

    def answers(self, learner: Learner) -> dict[int, Answer]:
        """A learner's answers as they were given, by the numbers of their questions."""
        return self._read(self.own / "given" / f"{learner.file}.json", _answer)

    def results(self, learner: Learner) -> dict[int, tuple[str, Result]]:
        """A learner's automatic marks, each with the digest of the answer that it is the mark of."""
        return self._read(self.own / "marked" / f"{learner.file}.json", _result)

    def keep(self, learner: Learner, answers: Mapping[int, Answer], results: Mapping[int, tuple[str, Result]]) -> None:
        """Keeps a learner's answers, and then their marks."""
        self._write(self.own / "given" / f"{learner.file}.json", {n: _stored(each) for n, each in answers.items()})
        table = {number: {"answer": digest, **result.stored()} for number, (digest, result) in results.items()}
        self._write(self.own / "marked" / f"{learner.file}.json", table)

    def troubles(self) -> dict[str, Trouble]:
        """What could not be read, by the keys of the troubles."""
        path = self.own / "troubles.json"
        try:
            troubles = [trouble_from(key, each) for key, each in self._table(path).items()]
            return {each.key: each for each in troubles}
        except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
            raise _unreadable(path) from None

    def write_troubles(self, troubles: Mapping[str, Trouble]) -> None:
        self._write(self.own / "troubles.json", {name: each.stored() for name, each in troubles.items()})

    def overridden(self) -> dict[str, dict[str, Any]]:
        """To which answer each of the teacher's own marks was given, by learner and task."""
        path = self.own / "overridden.json"
        table = self._table(path)
        if any(not isinstance(each, dict) or each.keys() != NOTE for each in table.values()):
            raise Fault(str(path), "can't be read any more", "take it away, and look through overrides.csv")
        return table

    def write_overridden(self, notes: Mapping[str, Mapping[str, Any]]) -> None:
        self._write(self.own / "overridden.json", notes)

    def _read(self, path: Path, kept: Callable[[Any], T]) -> dict[int, T]:
        """What a file keeps of each question."""
        table = self._table(path)
        try:
            return {int(number): kept(each) for number, each in table.items()}
        except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
            raise _unreadable(path) from None

    def _table(self, path: Path) -> dict[str, Any]:
        # A machine that stops at the wrong moment can leave a new file empty: then it is as if it had not been written.
        content = content_of(path)
        if not content:
            return {}
        try:
            table = json.loads(content)
            return {str(key): value for key, value in table.items()}
        except (ValueError, AttributeError, RecursionError):
            raise _unreadable(path) from None

    def _write(self, path: Path, table: Mapping[Any, Any]) -> None:
        ordered = {str(key): table[key] for key in sorted(table)}
        text = json.dumps(ordered, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        write_whole(path, text.encode("utf-8", "replace") + b"\n")


def _unreadable(path: Path) -> Fault:
    return Fault(str(path), "can't be read any more", "take it away, and have those answers marked anew")


def _result(stored: Any) -> tuple[str, Result]:
    return str(stored["answer"]), result_from(stored)


def _stored(answer: Answer) -> dict[str, Any]:
    return {
        "given": None if answer.given is None else stored_given(answer.given),
        "unit": answer.unit.value,
        "from": answer.source,
        "on": None if answer.on is None else answer.on.isoformat(),
    }


def _answer(stored: Any) -> Answer:
    return Answer(
        None if stored["given"] is None else given_from(stored["given"]),
        Unit(stored["unit"]),
        str(stored["from"]),
        None if stored["on"] is None else datetime.date.fromisoformat(stored["on"]),
    )
