"""Sheets, forms and patterns written for a whole class, and the teacher's key apart from them.

    register.json              who was dealt which variant
    answers.csv                a form for the whole class
    learners/anouk/            all that Anouk is handed:
        anouk.toml                 the answer form
        anouk-sheet-1.svg, ...     the sheet, page by page
        anouk-sheet.pdf            the sheet as one file, where PDF is asked for
        anouk-2-pattern.svg        the pattern that task 2 starts from, to be altered in an editor of drawings
    key/key.html, key/key.txt  the teacher's key

A file that is there already, and differs, is a fault unless it is forced: sheets may have been handed out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tutor.classwork.forms import form, form_table
from tutor.classwork.homework import Homework
from tutor.classwork.key import key_lines, key_page, key_text
from tutor.classwork.learner import Learner
from tutor.classwork.marker import Marker
from tutor.classwork.page_pdf import pages_pdf
from tutor.classwork.page_svg import page_svg
from tutor.classwork.register import Register
from tutor.classwork.sheet import Look, sheet_pages
from tutor.classwork.writing import content_of, make_folder, write_whole
from tutor.faults import Fault
from tutor.lesson.task import PlanTask
from tutor.pattern.svg_write import write_svg
from tutor.practice.session import Session


@dataclass(slots=True)
class SheetsRun:
    """Writes everything for a class. ``force`` writes over files that differ; ``sign`` parts the cells of CSV."""

    homework: Homework
    register: Register
    folder: Path
    look: Look
    pdf: bool = False
    force: bool = False
    sign: str = ","
    written: int = 0
    pages: int = 0

    def write(self, went_on: Callable[[str], None] = lambda name: None) -> None:
        """Writes all of it; ``went_on`` is told after each learner. Raises Fault."""
        marker = Marker(self.homework)
        for learner in self.register.learners:
            folder = self.folder / "learners" / learner.file
            make_folder(folder, self.folder)
            sessions = self._sessions(marker, learner)
            for name, content in self._files(learner, sessions):
                self._put(folder / name, content)
            went_on(learner.name)
        self._put(self.folder / "answers.csv", form_table(self.homework, self.register, self.sign).encode())
        self._key(marker)

    def _sessions(self, marker: Marker, learner: Learner) -> dict[int, Session]:
        """A session at each question's task; those of one lesson's tasks share its patterns."""
        deal = self.register.deal_of(learner)
        return {
            question.number: marker.session(question, learner.deal, deal, learner.unit)
            for question in self.homework.questions
        }

    def _files(self, learner: Learner, sessions: dict[int, Session]) -> Iterator[tuple[str, bytes]]:
        asks = {number: session.ask for number, session in sessions.items()}
        yield f"{learner.file}.toml", form(self.homework, learner, asks).encode()
        title = f"{self.homework.title}, {learner.name}"
        pages = sheet_pages(self.homework, learner, sessions, self.look)
        self.pages += len(pages)
        for number, page in enumerate(pages, 1):
            yield f"{learner.file}-sheet-{number}.svg", page_svg(page, f"{title}, page {number}").encode()
        if self.pdf:
            yield f"{learner.file}-sheet.pdf", pages_pdf(pages, title)
        for question in self.homework.questions:
            if isinstance(question.task, PlanTask):
                drawing = write_svg(sessions[question.number].pattern)
                yield f"{learner.file}-{question.number}-pattern.svg", drawing.encode()

    def _key(self, marker: Marker) -> None:
        keys = {}
        for learner in self.register.learners:
            if learner.deal not in keys:
                sessions = self._sessions(marker, learner)
                keys[learner.deal] = {q.number: key_lines(q, sessions[q.number]) for q in self.homework.questions}
        make_folder(self.folder / "key", self.folder)
        learners = self.register.learners
        self._put(self.folder / "key" / "key.txt", key_text(self.homework, keys, learners).encode())
        self._put(self.folder / "key" / "key.html", key_page(self.homework, keys, learners).encode())

    def _put(self, path: Path, content: bytes) -> None:
        there = content_of(path)
        if there is not None and there != content and not self.force:
            what = "is there already, and would come out otherwise"
            raise Fault(str(path), what, "give another folder, or --force to write over it")
        self.written += write_whole(path, content)
