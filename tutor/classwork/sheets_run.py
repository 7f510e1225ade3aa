"""Sheets, forms and patterns written for a whole class, and the teacher's key apart from them.

    register.json              who was dealt which variant
    answers.csv                a form for the whole class
    learners/anouk/            all that Anouk is handed:
        anouk.toml                 the answer form
        anouk-sheet-1.svg, ...     the sheet, page by page
        anouk-sheet.pdf            the sheet as one file, where PDF is asked for
        anouk-2-pattern.svg        the pattern that task 2 starts from, to be altered in an editor of drawings
    key/key.html, key/key.txt  the teacher's key

A learner's file that is there already, and differs, is a fault unless it is forced: sheets may have been handed out.
The key and the class's form are written anew with whoever is added, unless somebody has changed them: the key is then
a fault, and a form that was filled in keeps its rows and gains those of the new learners.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from tutor.classwork.canvas import Page
from tutor.classwork.forms import form, form_table, form_table_with
from tutor.classwork.homework import Homework
from tutor.classwork.key import key_lines, key_page, key_text
from tutor.classwork.learner import Learner
from tutor.classwork.marker import Marker
from tutor.classwork.page_pdf import letters_lacking, pages_pdf
from tutor.classwork.page_svg import page_svg
from tutor.classwork.register import Register
from tutor.classwork.sheet import Look, sheet_pages
from tutor.classwork.store import Store
from tutor.classwork.writing import Ledger, content_of, make_folder, refuse_links, write_whole
from tutor.faults import Fault
from tutor.lesson.task import PlanTask
from tutor.pattern.svg_write import write_svg
from tutor.practice.session import Session

LEDGER = "sheets.json"
LOOK = "look.json"
"""How the sheets were printed that are there."""
LONGEST_WORD = 20
LOOK_WORDS = {"scale": "in {} size", "paper": "on {}", "cut": "{}"}
CUT, UNCUT = "with a cut line", "without a cut line"


@dataclass(slots=True)
class SheetsRun:
    """Writes everything for a class, the register too. ``force`` writes over files that differ; ``sign`` is for CSV.

    ``lacking`` are the letters that PDF has no shapes for.
    """

    homework: Homework
    register: Register
    store: Store
    look: Look
    pdf: bool = False
    force: bool = False
    sign: str = ","
    written: int = 0
    pages: int = 0
    lacking: frozenset[str] = frozenset()

    def write(self, went_on: Callable[[str], None] = lambda name: None) -> None:
        """Writes all of it; ``went_on`` is told after each learner.

        Raises Fault for what would be written over before a learner is added, be it to the register.
        """
        marker = Marker(self.homework)
        ledger = Ledger(self.folder, self.store.own / "written" / LEDGER)
        refuse_links(self.folder / "key", self.folder)
        own = list(self._key(marker))
        if not self.force:
            ledger.refuse_changed(own, self.folder / "key")
        answers, empty = self._answers(ledger)
        own += [answers] if empty else []
        learners = self.register.learners
        there = [learner for learner in learners if (self.folder / "learners" / learner.file).is_dir()]
        for learner in there:
            self._learner(marker, learner)
            went_on(learner.name)
        self.store.write_register(self.register)
        for learner in learners:
            if learner not in there:
                self._learner(marker, learner)
                went_on(learner.name)
        for folder in (self.folder / "key", self.store.own / "written"):
            make_folder(folder, self.folder)
        ledger.check(own, force=True)
        for path, content in dict([*own, answers]).items():
            self.written += write_whole(path, content)
        ledger.settle(own)
        write_whole(self._look_file, self._looked())

    @property
    def folder(self) -> Path:
        return self.store.folder

    def _learner(self, marker: Marker, learner: Learner) -> None:
        folder = self.folder / "learners" / learner.file
        make_folder(folder, self.folder)
        for name, content in self._files(learner, self._sessions(marker, learner)):
            self._put(folder / name, content)

    def _answers(self, ledger: Ledger) -> tuple[tuple[Path, bytes], bool]:
        """The form of the whole class, and whether it is an empty one. Raises Fault for one that can't be added to."""
        path = self.folder / "answers.csv"
        empty = form_table(self.homework, self.register, self.sign).encode()
        there = content_of(path)
        if there is None or there == empty or ledger.is_own(path):
            return (path, empty), True
        try:
            return (path, form_table_with(there, self.homework, self.register, str(path))), False
        except Fault:
            if self.force:
                return (path, empty), True
            raise

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
            yield f"{learner.file}-sheet.pdf", self._pdf(learner, sessions, pages, title)
        for question in self.homework.questions:
            if isinstance(question.task, PlanTask):
                drawing = write_svg(sessions[question.number].pattern)
                yield f"{learner.file}-{question.number}-pattern.svg", drawing.encode()

    def _pdf(self, learner: Learner, sessions: dict[int, Session], pages: list[Page], title: str) -> bytes:
        """The sheet as PDF, where a name that can't be written has the learner's number in the class beside it."""
        self.lacking |= letters_lacking(" ".join([title, *(page.words for page in pages)]))
        lacking = letters_lacking(learner.name)
        if not lacking:
            return pages_pdf(pages, title)
        number = f"learner {self.register.learners.index(learner) + 1}"
        is_told = any(letter.isalnum() and letter not in lacking for letter in learner.name)
        name = f"{learner.name} ({number})" if is_told else number
        pages = sheet_pages(self.homework, replace(learner, name=name), sessions, self.look)
        return pages_pdf(pages, f"{self.homework.title}, {name}")

    def _key(self, marker: Marker) -> Iterator[tuple[Path, bytes]]:
        keys = {}
        for learner in self.register.learners:
            if learner.deal not in keys:
                sessions = self._sessions(marker, learner)
                keys[learner.deal] = {q.number: key_lines(q, sessions[q.number]) for q in self.homework.questions}
        learners = self.register.learners
        yield self.folder / "key" / "key.txt", key_text(self.homework, keys, learners).encode()
        yield self.folder / "key" / "key.html", key_page(self.homework, keys, learners).encode()

    def _otherwise(self) -> tuple[str, str]:
        """What is said of a sheet that is there and comes out otherwise: how it was printed then, if otherwise."""
        before, now = _printed(content_of(self._look_file)), _printed(self._looked())
        told = [key for key in now if before.get(key, now[key]) != now[key]]
        right = "give another folder, or --force to write over it"
        if not told:
            return "is there already, and would come out otherwise", right
        then, this = (", ".join(LOOK_WORDS[key].format(each[key]) for key in told) for each in (before, now))
        again = " and ".join(_asked_for({key: before[key] for key in told}))
        return f"is there already, {then}, and would come out {this}", f"{again} as before, {right}"

    @property
    def _look_file(self) -> Path:
        return self.store.own / "written" / LOOK

    def _looked(self) -> bytes:
        cut = CUT if self.look.cut_line else UNCUT
        return json.dumps({"scale": self.look.scale, "paper": self.look.paper.name, "cut": cut}).encode()

    def _put(self, path: Path, content: bytes) -> None:
        there = content_of(path)
        if there is not None and there != content and not self.force:
            raise Fault(str(path), *self._otherwise())
        self.written += write_whole(path, content)


def _asked_for(look: dict[str, str]) -> Iterator[str]:
    """The options by which sheets are printed so, as what is to be done with them."""
    options = [f"--{key} {look[key].casefold()}" for key in ("scale", "paper") if key in look]
    options += ["--seams-only"] if look.get("cut") == UNCUT else []
    if options:
        yield f"give {' '.join(options)}"
    if look.get("cut") == CUT:
        yield "leave out --seams-only"


def _printed(content: bytes | None) -> dict[str, str]:
    """How sheets were printed, by what was kept of it; nothing where that is not known."""
    try:
        kept = json.loads(content or b"{}")
        return {key: str(kept[key])[:LONGEST_WORD] for key in LOOK_WORDS if key in kept}
    except (ValueError, TypeError, RecursionError):
        return {}
