"""Answers that are kept, marked anew: whose marks change after a lesson or a tolerance was corrected."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner
from tutor.classwork.marker import Marker
from tutor.classwork.register import Register
from tutor.classwork.result import Result
from tutor.classwork.store import Store


@dataclass(frozen=True, slots=True)
class Change:
    """One answer whose mark comes out otherwise."""

    learner: Learner
    question: Question
    before: Result
    after: Result

    @property
    def in_marks(self) -> bool:
        """Whether the mark itself is another, and not only what is said of it."""
        return (self.before.total, self.before.passed) != (self.after.total, self.after.passed)

    @property
    def in_words_alone(self) -> bool:
        """Whether mark and mistake stay, and only what is said to the learner is another."""
        said = [(each.mistake, bool(each.trouble)) for each in (self.before, self.after)]
        return not self.in_marks and said[0] == said[1]


def marked_again(
    homework: Homework,
    register: Register,
    store: Store,
    *,
    write: bool = False,
    went_on: Callable[[str], None] = lambda name: None,
) -> Iterator[Change]:
    """Every change of a mark, of what is said, or of a mistake named; kept only when they are to be written."""
    marker = Marker(homework)
    for learner in register.learners:
        with store.locked(learner.file):
            answers, results = store.answers(learner), store.results(learner)
            fresh = dict(results)
            for number, answer in answers.items():
                question = homework.question(number)
                if question is None or answer.given is None or number not in results:
                    continue
                result = marker.mark(question, learner.deal, register.deal_of(learner), answer.unit, answer.given)
                before = results[number][1]
                fresh[number] = answer.digest, result
                if _differs(before, result):
                    yield Change(learner, question, before, result)
            if write and fresh != results:
                store.keep(learner, answers, fresh)
        went_on(learner.name)


def _differs(before: Result, after: Result) -> bool:
    return (before.total, before.passed, before.mistake, before.trouble, before.feedback) != (
        after.total,
        after.passed,
        after.mistake,
        after.trouble,
        after.feedback,
    )
