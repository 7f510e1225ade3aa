"""The teacher's own marks: a CSV file with learner, task, mark (0 to 100) and reason, read and never changed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tutor.classwork.csv_table import Row, Table, read_rows, written_table
from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner, key_of
from tutor.classwork.register import Register
from tutor.classwork.safe_files import read_plain
from tutor.classwork.writing import content_of, write_whole
from tutor.faults import Fault

NAME = "overrides.csv"
HEADINGS = ("learner", "task", "mark", "reason")
LARGEST = 1_000_000
LONGEST_REASON = 400
NO_ANSWER = "no answer that could be marked"
"""What a mark was given to where nothing had been handed in that could be marked."""


@dataclass(frozen=True, slots=True)
class Override:
    """A mark, 0 to 1, that goes before the automatic one, why, and the place of its row.

    ``given_to`` is the answer that it was given to, in words, where that is another than the one that is kept now.
    """

    mark: float
    reason: str
    place: str = NAME
    given_to: str = ""

    @property
    def shown(self) -> str:
        """The mark out of 100 as it was given, to the last figure."""
        return f"{100 * self.mark:.12g}"


Overrides = Mapping[tuple[str, int], Override]
"""By the learner's file name, and the number of the question."""


def begin_overrides(folder: Path) -> None:
    """Lays out an empty file for the teacher's marks where there is none."""
    if content_of(folder / NAME) is None and not (folder / NAME).exists():
        write_whole(folder / NAME, written_table([HEADINGS]).encode())


def read_overrides(folder: Path, homework: Homework, register: Register) -> tuple[Overrides, list[Fault]]:
    """The teacher's marks, and a fault for each row that can't be used. Raises Fault for a file that is no table."""
    path = folder / NAME
    if not path.exists():
        return {}, []
    learners = register.by_key()
    content = read_plain(path, LARGEST, NAME)
    table = read_rows(content, NAME, lambda cells: any(key_of(cell) in learners for cell in cells))
    missing = [name for name in HEADINGS if name not in table.headings]
    if missing:
        raise Fault(NAME, f"has no column called {missing[0]}", f"write the headings {', '.join(HEADINGS)}")
    found: dict[tuple[str, int], Override] = {}
    faults: list[Fault] = []
    for row in table.rows:
        try:
            key, override = _override(row, table, homework, learners)
            if key in found:
                raise Fault(table.place(row), "gives a second mark for the same answer", "leave one of them out")
            found[key] = override
        except Fault as fault:
            faults.append(fault)
    return found, faults


def _override(
    row: Row, table: Table, homework: Homework, learners: Mapping[str, Learner]
) -> tuple[tuple[str, int], Override]:
    if row.fault is not None:
        raise row.fault
    learner = learners.get(key_of(row.cells["learner"]))
    if learner is None:
        what = f'"{row.cells["learner"][:40]}" is not in the class'
        raise Fault(table.place(row), what, "write the name as it stands on the class list")
    text = row.cells["task"]
    question = homework.question(int(text)) if text.isdecimal() and len(text) < 4 else None
    if question is None:
        what = f'"{text[:20]}" is no task of this homework'
        raise Fault(table.place(row), what, f"write 1 to {len(homework.questions)}")
    reason = " ".join(row.cells["reason"].split())
    if not reason:
        raise Fault(table.place(row), "gives no reason", "say why the mark is another")
    override = Override(_mark(row, table), reason[:LONGEST_REASON], table.place(row))
    return (learner.file, question.number), override


def _mark(row: Row, table: Table) -> float:
    text = row.cells["mark"].removesuffix("%").strip().replace(",", ".")
    try:
        mark = float(text)
    except ValueError:
        mark = math.nan
    if not 0 <= mark <= 100:
        raise Fault(table.place(row), f'"{text[:20]}" is no mark', "write 0 to 100")
    return mark / 100
