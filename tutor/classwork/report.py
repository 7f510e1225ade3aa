"""Everything that is written for people after marking: feedback, marks as tables, the class page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tutor.classwork.class_figures import ClassFigures
from tutor.classwork.class_page import class_page
from tutor.classwork.csv_table import written_table
from tutor.classwork.feedback import feedback_page, feedback_text
from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner
from tutor.classwork.marks_tables import Cells, answer_head, answer_rows, class_head, class_row, trouble_rows
from tutor.classwork.overridden import moved_lines, overridden
from tutor.classwork.overrides import begin_overrides, read_overrides
from tutor.classwork.owners import Owners
from tutor.classwork.register import Register
from tutor.classwork.standing import Standing, Unread, standing_of, unread_of
from tutor.classwork.store import Store
from tutor.classwork.trouble import Trouble
from tutor.classwork.writing import Ledger, make_folder, write_whole

CLASS = "class"
OF_CLASS = ("marks.csv", "marks-by-answer.csv", "class.html")


@dataclass(frozen=True, slots=True)
class Reported:
    """What a report came to: the class's figures, and lines about the teacher's own marks: not usable, or in doubt."""

    figures: ClassFigures
    lines: tuple[str, ...]


@dataclass(slots=True)
class Report:
    """Writes the report of a homework into its folder. ``force`` writes over what somebody else has changed there."""

    homework: Homework
    register: Register
    store: Store
    sign: str = ","
    force: bool = False

    def write(self, went_on: Callable[[str], None] = lambda name: None) -> Reported:
        """Writes all of it, whatever another run is doing. Raises Fault, before it has written over anything."""
        with self.store.locked():
            overrides, faults = read_overrides(self.store.folder, self.homework, self.register)
            overrides = overridden(overrides, self.register, self.store)
            lines = list(map(str, faults))
            begin_overrides(self.store.folder)
            make_folder(self.store.folder / "feedback", self.store.folder)
            make_folder(self.store.own / "written", self.store.folder)
            figures = ClassFigures(self.homework)
            rows: list[Cells] = []
            answers: list[Cells] = []
            troubles = self.store.troubles()
            unread = self._unread()
            for learner in self.register.learners:
                standing = standing_of(learner, self.homework, self.store, overrides, unread)
                figures.add(standing)
                lines += moved_lines(standing)
                rows.append(class_row(standing))
                answers += answer_rows(standing)
                if standing.counts:
                    self._write(learner.file, list(self._feedback(standing)))
                went_on(learner.name)
            figures.finish()
            self._write(CLASS, list(self._class(figures, rows, answers, troubles, lines)))
        return Reported(figures, tuple(lines))

    def check(self) -> None:
        """Raises Fault, before anything is kept or written, for whatever ``write`` would refuse to write over."""
        overrides, _ = read_overrides(self.store.folder, self.homework, self.register)
        unread = self._unread()
        if self.force:
            return
        for learner in self.register.learners:
            standing = standing_of(learner, self.homework, self.store, overrides, unread)
            if standing.counts:
                self._ledger(learner.file).refuse_changed((path, None) for path in self._feedback_paths(learner))
        self._ledger(CLASS).refuse_changed((self.store.folder / name, None) for name in OF_CLASS)

    def _unread(self) -> Unread:
        return unread_of(self.store.troubles().values(), Owners(self.register.learners))

    def _feedback_paths(self, learner: Learner) -> tuple[Path, Path]:
        folder = self.store.folder / "feedback"
        return folder / f"{learner.file}.txt", folder / f"{learner.file}.html"

    def _feedback(self, standing: Standing) -> Iterator[tuple[Path, bytes]]:
        plain, page = self._feedback_paths(standing.learner)
        yield plain, feedback_text(standing).encode()
        yield page, feedback_page(standing).encode()

    def _class(
        self,
        figures: ClassFigures,
        rows: list[Cells],
        answers: list[Cells],
        troubles: Mapping[str, Trouble],
        lines: list[str],
    ) -> Iterator[tuple[Path, bytes]]:
        table = [class_head(self.homework), *rows, *trouble_rows(self.homework, troubles)]
        marks = written_table(table, self.sign).encode()
        by_answer = written_table([answer_head(), *answers], self.sign).encode()
        page = class_page(self.homework, figures, [*(each.told for each in troubles.values()), *lines]).encode()
        for name, content in zip(OF_CLASS, (marks, by_answer, page), strict=True):
            yield self.store.folder / name, content

    def _write(self, name: str, files: list[tuple[Path, bytes]]) -> None:
        ledger = self._ledger(name)
        ledger.check(files, force=self.force)
        for path, content in files:
            write_whole(path, content)
        ledger.settle(files)

    def _ledger(self, name: str) -> Ledger:
        return Ledger(self.store.folder, self.store.own / "written" / f"{name}.json")
