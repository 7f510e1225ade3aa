"""Answers taken in and marked, learner by learner: what was marked before is left alone unless that is asked for."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path, PurePosixPath

from tutor.classwork.given import Given, GivenDrawing, Submission
from tutor.classwork.given_pattern import is_as_dealt
from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner, key_of
from tutor.classwork.marker import Marker
from tutor.classwork.owners import Owner, Owners
from tutor.classwork.read_now import ReadNow
from tutor.classwork.register import Register
from tutor.classwork.result import Result, unmarked
from tutor.classwork.store import Answer, Store
from tutor.classwork.trouble import Trouble, file_of
from tutor.classwork.writing import content_of
from tutor.faults import Fault
from tutor.units import Unit

DAY = datetime.timedelta(days=1)
"""A day written down elsewhere on earth may be ahead of ours by one."""


@dataclass(slots=True)
class Taken:
    """What came of a run: how many answers were marked now, were marked before, and the lines of those that weren't.

    ``gone`` are tables that could not be read before, and lie there no more.
    """

    marked: int = 0
    before: int = 0
    stale: int = 0
    lines: list[str] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)


class MarkingRun:
    """Takes answers in and marks them. ``replace`` lets a new answer take the place of another that was marked."""

    def __init__(
        self, homework: Homework, register: Register, store: Store, today: datetime.date, *, replace: bool = False
    ) -> None:
        self.homework = homework
        self.register = register
        self.store = store
        self.marker = Marker(homework)
        self.taken = Taken()
        self._today = today
        self._replace = replace
        self._learners = register.by_key()
        self._owners = Owners(register.learners)
        self._troubles: dict[str, Trouble] = {}
        self._place = ""
        self._read = ReadNow(self._owners)

    def take(self, items: Iterable[Submission | Trouble], went_on: Callable[[str], None] = lambda name: None) -> None:
        """Takes everything in, and keeps what can't be read as lines. ``went_on`` is told after each file or row."""
        for item in items:
            for file, place in _files_of(item):
                self._read.read(file, place)
            self._place = item.path
            if isinstance(item, Trouble):
                self._trouble(item)
            else:
                try:
                    self._submission(item)
                except Fault as fault:
                    owner = self._owner(item)
                    self._trouble(Trouble(item.source, str(fault), owner.learner, owner.task))
            went_on(item.source)
        with self.store.locked():
            tasks = [question.number for question in self.homework.questions]
            before = self.store.troubles()
            kept = {name: left for name, each in before.items() if (left := self._read.left(each, tasks)) is not None}
            self.store.write_troubles(kept | self._troubles)
        gone = {each.file for name, each in before.items() if name not in kept and self._read.is_gone(each)}
        self.taken.gone += sorted(gone - {each.file for each in self._troubles.values()})

    def _trouble(self, trouble: Trouble) -> None:
        """Keeps what could not be read of the file that is being taken in."""
        trouble = replace(trouble, path=self._place)
        self._troubles[trouble.key] = trouble
        self.taken.lines.append(trouble.line)

    def _owner(self, given: Submission) -> Owner:
        """Whose a form or row is that can't be taken: the learner's it names, or those it is called as."""
        file = self._owners.file_of(given.learner)
        called = self._owners.of_lying(Path(given.path))
        if file and (given.source != file_of(given.source) or not called):
            return Owner(file)
        return replace(called[0], task=0) if called else Owner("")

    def _submission(self, given: Submission) -> None:
        learner = self._learner(given)
        self._check(given, learner)
        unit = given.unit or learner.unit
        fresh: dict[int, tuple[Question, Answer, Fault | None]] = {}
        for number, each in given.answers:
            question = self.homework.question(number)
            if question is None:
                self._no_question(number, each, given.source, learner)
                continue
            if given.dealt and self._is_as_dealt(learner, question, each):
                continue
            if number in fresh:
                what = f"answers task {number} twice"
                each = Fault(given.source, what, "give one answer to each task")
            fault = each if isinstance(each, Fault) else None
            answer = Answer(None if isinstance(each, Fault) else each, unit, given.source, given.on)
            fresh[number] = question, answer, fault
        with self.store.locked(learner.file):
            self._keep(learner, given, fresh)

    def _learner(self, given: Submission) -> Learner:
        learner = self._learners.get(key_of(given.learner))
        if learner is None:
            what = f"is from {given.learner}, who is not in the class"
            raise Fault(given.source, what, "write the name as it stands on the class list")
        return learner

    def _check(self, given: Submission, learner: Learner) -> None:
        """Raises Fault for answers to another homework, to somebody else's variant, or from a day yet to come."""
        if given.homework is not None and key_of(given.homework) != key_of(self.homework.title):
            what = f'answers "{given.homework[:80]}"'
            raise Fault(given.source, what, f'this homework is "{self.homework.title}"')
        code = None if given.variant is None else given.variant.strip().upper()
        if code is not None and code != learner.deal:
            whose = "somebody else's variant" if code in self.register.deals else "a variant that nobody was dealt"
            what = f"gives {whose}, {code[:12]}"
            raise Fault(given.source, what, f"{learner.name} was dealt {learner.deal}")
        if given.on is not None and given.on > self._today + DAY:
            raise Fault(given.source, f"was handed in on {given.on}, which is still to come", "put the date right")

    def _is_as_dealt(self, learner: Learner, question: Question, given: Given | Fault) -> bool:
        """Whether a drawing is the pattern that was handed out, as it was."""
        if not isinstance(given, GivenDrawing):
            return False
        name = f"{learner.file}-{question.number}-pattern.svg"
        if given.svg == content_of(self.store.folder / "learners" / learner.file / name):
            return True
        try:
            session = self.marker.session(question, learner.deal, self.register.deal_of(learner), learner.unit)
        except Fault:
            return False
        return is_as_dealt(given.svg, session.pattern)

    def _no_question(self, number: int, given: Given | Fault, source: str, learner: Learner) -> None:
        """Notes an answer that belongs to no task of the homework; one that can't be read either says so itself."""
        what = f"answers task {number}" if number else "gives an answer to no task"
        fault = Fault(source, what, f"this homework has tasks 1 to {len(self.homework.questions)}")
        line = str(given if isinstance(given, Fault) else fault)
        self._trouble(Trouble(f"{source}, task {number}" if number else source, line, learner.file))

    def _keep(
        self, learner: Learner, given: Submission, fresh: dict[int, tuple[Question, Answer, Fault | None]]
    ) -> None:
        answers, results = self.store.answers(learner), self.store.results(learner)
        before = self.taken.marked
        for number in [number for number, each in answers.items() if _is_gone(each, given) and number not in fresh]:
            del answers[number]
            results.pop(number, None)
        for number, (question, answer, fault) in fresh.items():
            old = answers.get(number)
            if self._stands(learner, question, old, answer, results, fault):
                continue
            result = self._marked(learner, question, answer, fault)
            if result.trouble:
                line = self._line(learner, question, answer, result)
                self._trouble(Trouble(f"{answer.source}, task {number}", line, learner.file, number))
            else:
                self.taken.marked += 1
            answers[number], results[number] = answer, (answer.digest, result)
        self.store.keep(learner, answers, results)
        marked = {number for number in answers if number in results and not results[number][1].trouble}
        whole = marked >= {question.number for question in self.homework.questions}
        newly = not given.alone and self.taken.marked > before
        row = given.source != file_of(given.source)
        self._read.marked(learner, marked & set(fresh), whole=whole, form=newly and not row, row=newly and row)

    def _stands(
        self,
        learner: Learner,
        question: Question,
        old: Answer | None,
        new: Answer,
        results: dict[int, tuple[str, Result]],
        fault: Fault | None,
    ) -> bool:
        """Whether what is kept of a question stays as it is.

        An answer beside it that can't be marked is told as that, and not as another: so it is in every run.
        """
        number = question.number
        if old is None or old.given is None or number not in results or results[number][1].trouble:
            return False
        digest, result = results[number]
        if digest != old.digest:
            return False
        if old.digest == new.digest:
            self.taken.before += 1
            self.taken.stale += result.by != self.marker.fingerprint(question)
            return True
        if self._replace and new.given is not None:
            return False
        other = self._marked(learner, question, new, fault)
        what = f"is another answer of {learner.name} to task {number} than that of {old.source}, which is marked"
        right = "take one away, or give --replace to have the new one marked instead"
        if old.source == new.source:
            what = f"has another answer of {learner.name} to task {number} than when it was marked"
            right = "give --replace to have it marked anew"
        twice = Fault(new.source, what, right)
        line = self._line(learner, question, new, other) if other.trouble else str(twice)
        self._trouble(Trouble(f"{new.source}, task {number}", line, learner.file, number))
        return True

    def _marked(self, learner: Learner, question: Question, answer: Answer, fault: Fault | None) -> Result:
        if fault is not None:
            return unmarked(self.marker.fingerprint(question), fault)
        assert answer.given is not None
        return self._mark(learner, question, answer.unit, answer.given)

    def _mark(self, learner: Learner, question: Question, unit: Unit, given: Given) -> Result:
        return self.marker.mark(question, learner.deal, self.register.deal_of(learner), unit, given)

    def _line(self, learner: Learner, question: Question, answer: Answer, result: Result) -> str:
        if result.trouble.startswith(file_of(answer.source)):
            return result.trouble
        return f"{answer.source}: {learner.name}, task {question.number}: {result.trouble}"


def _files_of(item: Submission | Trouble) -> list[tuple[str, str]]:
    """A file and those beside it that it names: what each is called, and where it lies."""
    file = file_of(item.source)
    found = [(file, item.path)]
    if isinstance(item, Submission):
        called, lies = PurePosixPath(file).parent, Path(item.path).parent
        found += [(str(called / name), str(lies / name)) for name in item.attached]
    return found


def _is_gone(answer: Answer, given: Submission) -> bool:
    """Whether an answer that could not be read was in the form, file or row that is read now."""
    return answer.given is None and answer.source == given.source
