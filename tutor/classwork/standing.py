"""How one learner stands in a homework: answers as given, automatic marks, and the teacher's own, side by side."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner
from tutor.classwork.overrides import Override, Overrides
from tutor.classwork.owners import Owners
from tutor.classwork.result import Result
from tutor.classwork.store import Answer, Store
from tutor.classwork.trouble import Trouble, owned
from tutor.marking.points import out_of_100

Unread = Mapping[str, Mapping[str, Trouble]]
"""By what learners' files are called, what could not be read of theirs, by its key."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A learner's answers, automatic marks and overrides, each by the number of the question.

    ``unread`` is what could not be read of theirs, by its key, and may answer a task that seems left out.
    """

    learner: Learner
    homework: Homework
    answers: Mapping[int, Answer]
    results: Mapping[int, Result]
    overrides: Mapping[int, Override]
    unread: Mapping[str, Trouble] = field(default_factory=dict)

    @property
    def handed_in(self) -> bool:
        """Whether anything is known to be theirs; a table that could not be read may hold nothing of theirs."""
        return bool(self.answers) or any(not each.shared for each in self.unread.values())

    @property
    def counts(self) -> bool:
        """Whether there is anything to mark by: answers, or the teacher's own marks."""
        return self.handed_in or bool(self.overrides)

    def mark(self, number: int) -> float | None:
        """The mark that counts, 0 to 1: 0 for a task left out, None where an answer could not be read or marked."""
        if number in self.overrides:
            return self.overrides[number].mark
        if number in self.results:
            return self.results[number].total
        return None if number in self.answers or self.is_unread(number) else 0.0

    def shown(self, number: int) -> str:
        """The mark that counts as it is shown: the teacher's own as given, any other in whole points."""
        if number in self.overrides:
            return self.overrides[number].shown
        return mark_shown(self.mark(number))

    def is_unread(self, number: int, *, own: bool = False) -> bool:
        """Whether a task without an answer may have one in what could not be read; ``own``: in what is theirs alone."""
        return any(each.task in (0, number) and not (own and each.shared) for each in self.unread.values())

    def passed(self, number: int) -> bool:
        """Whether a task is passed; by an override, where its mark reaches the pass mark."""
        if number in self.overrides:
            question = self.homework.question(number)
            assert question is not None
            given = question.asked.pass_mark
            needed = question.task.pass_mark if given is None else given
            return self.overrides[number].mark >= needed - 1e-9
        return number in self.results and self.results[number].passed

    @property
    def total(self) -> float | None:
        """The mark for the whole, 0 to 1, by points; None while nothing is handed in, or an answer can't be marked."""
        marks = [(question.points, self.mark(question.number)) for question in self.homework.questions]
        known = [(points, mark) for points, mark in marks if mark is not None]
        if not self.counts or len(known) < len(marks):
            return None
        return sum(points * mark for points, mark in known) / sum(points for points, _ in known)

    @property
    def on(self) -> datetime.date | None:
        """The last day on which anything was handed in, where that is known."""
        return max((answer.on for answer in self.answers.values() if answer.on is not None), default=None)

    @property
    def late(self) -> bool:
        due = self.homework.text.due
        return due is not None and self.on is not None and self.on > due


def standing_of(learner: Learner, homework: Homework, store: Store, overrides: Overrides, unread: Unread) -> Standing:
    """How a learner stands by what is kept."""
    numbers = [question.number for question in homework.questions]
    own = {number: overrides[learner.file, number] for number in numbers if (learner.file, number) in overrides}
    answers = {number: each for number, each in store.answers(learner).items() if number in numbers}
    results = {
        number: result
        for number, (digest, result) in store.results(learner).items()
        if number in answers and digest == answers[number].digest
    }
    # What is said of an answer stands with that answer; a task that isn't one of these may be any.
    # What may hold an answer of theirs says nothing where every task has one.
    whole = answers.keys() >= set(numbers)
    those = {
        key: each if each.task in numbers else replace(each, task=0)
        for key, each in unread.get(learner.file, {}).items()
        if each.task not in answers and not (each.shared and whole)
    }
    return Standing(learner, homework, answers, results, own, those)


def unread_of(troubles: Iterable[Trouble], owners: Owners) -> Unread:
    """Which of the things that could not be read are whose, by what they say or by what they are called."""
    found: dict[str, dict[str, Trouble]] = {}
    for each in troubles:
        theirs = owned(each, owners)
        if theirs is not None:
            found.setdefault(theirs.learner, {})[theirs.key] = theirs
        for learner in each.among:
            found.setdefault(learner, {})[each.key] = each
    return found


def mark_shown(mark: float | None) -> str:
    """A mark as it is shown: whole points, nothing where there is none."""
    return "" if mark is None else str(out_of_100(mark))
