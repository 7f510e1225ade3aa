"""One learner's way through a quiz: which question is at hand, what has been answered, and the time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.marking.marked import Marked
from tutor.quiz.asked import Asked, Given
from tutor.quiz.asking import ask
from tutor.quiz.clock import Clock, Times
from tutor.quiz.question import Question
from tutor.quiz.quiz import Quiz
from tutor.units import Unit

Standing = Literal["open", "answered", "marked"]


@dataclass(frozen=True, slots=True)
class Result:
    """A question with its mark; ``given`` is the answer as it was given, and ``right`` the right one in words."""

    number: int
    question: Question
    title: str
    marked: Marked
    given: Given | None
    answer: str | None
    right: str


class Sitting:
    """A quiz under way. ``lessons`` are those it is about, by name; ``learner`` is a name, or nothing.

    Nothing is changed any more once it is handed in, or its time is up. Raises Fault when the quiz does not fit the
    lessons; with ``any_version`` they may have changed since it was drawn.
    """

    def __init__(
        self,
        quiz: Quiz,
        lessons: Mapping[str, Lesson],
        unit: Unit,
        learner: str = "",
        *,
        times: Times | None = None,
        any_version: bool = False,
    ) -> None:
        self.quiz = quiz
        self.lessons = lessons
        self.learner = learner
        self._unit = unit
        self._asked: dict[int, Asked] = {}
        self._kept: dict[int, Any] = {}
        self._settled: dict[int, Marked] = {}
        self._number = 1
        self._handed_in = False
        self._ended_by_time = False
        self.clock = Clock.started(quiz.spec.minutes, quiz.spec.pauses, times)
        for name in {question.lesson for question in quiz.questions}:
            if name not in lessons:
                raise Fault("lessons", f'"{name[:40]}" is no lesson here', "the quiz is of another release, or class")
        for number in () if any_version else self.numbers:
            self._check(number)

    def _check(self, number: int) -> None:
        question = self.quiz.questions[number - 1]
        lesson = self.lessons[question.lesson]
        if question.version != lesson.version:
            what = f"has changed since this quiz was drawn (version {question.version} then, {lesson.version} now)"
            raise Fault(f"lesson {lesson.number}", what, "draw the quiz again")

    # The questions.

    @property
    def numbers(self) -> range:
        """The numbers of the questions, from 1."""
        return range(1, len(self.quiz.questions) + 1)

    @property
    def number(self) -> int:
        """The number of the question at hand."""
        return self._number

    @property
    def asked(self) -> Asked:
        """The question at hand."""
        return self.question(self._number)

    def question(self, number: int) -> Asked:
        """A question by its number, from 1. Raises Fault for one that can't be set any more."""
        if number not in self._asked:
            question = self.quiz.questions[number - 1]
            asked = ask(question, self.lessons[question.lesson], self._unit)
            if number in self._kept:
                asked.restore(self._kept.pop(number))
            self._asked[number] = asked
        return self._asked[number]

    def go_to(self, number: int) -> None:
        """Goes to a question by its number. Raises Fault when there is none."""
        if number not in self.numbers:
            raise Fault("question", f"there is no question {number}", f"write 1 to {len(self.quiz.questions)}")
        self._number = number

    def step(self, way: int) -> bool:
        """Goes to the next question (1) or the one before (-1). False where there is none."""
        if self._number + way not in self.numbers:
            return False
        self._number += way
        return True

    def next_open(self) -> int | None:
        """The next question without an answer, after the one at hand and round to it again; None when all have one."""
        count = len(self.quiz.questions)
        round_trip = [(self._number - 1 + k) % count + 1 for k in range(1, count + 1)]
        return next((number for number in round_trip if self.standing(number) == "open"), None)

    def standing(self, number: int) -> Standing:
        """How a question stands: no answer yet, answered, or answered and marked already."""
        if number in self._settled:
            return "marked"
        seen = number in self._asked or number in self._kept
        return "answered" if seen and self.question(number).answer is not None else "open"

    @property
    def unit(self) -> Unit:
        return self._unit

    @unit.setter
    def unit(self, unit: Unit) -> None:
        self._unit = unit
        for asked in self._asked.values():
            asked.session.unit = unit

    # Answers.

    @property
    def is_over(self) -> bool:
        """Whether it is handed in; where its time is up, it is."""
        if not self._handed_in:
            self.clock.look()
            if self.clock.is_up:
                self._handed_in = self._ended_by_time = True
        return self._handed_in

    @property
    def ended_by_time(self) -> bool:
        """Whether the time was up before it was handed in."""
        return self._ended_by_time

    def check_open(self, number: int | None = None) -> None:
        """Raises Fault where a question, this one if none is named, takes no answer any more."""
        if self.is_over:
            what = "the time is up" if self._ended_by_time else "the quiz is handed in"
            raise Fault("quiz", what, "results shows the marks")
        if self.standing(number or self._number) == "marked":
            raise Fault("question", "is marked, and settled by that", "go on to another")

    def give(self, text: str) -> None:
        """Answers the question at hand in words. Raises Fault, at no cost, for what can't be read."""
        self.check_open()
        self.asked.give(text)

    def mark_now(self) -> Marked:
        """Marks the question at hand before the end, which settles it. Raises Fault where that may not be."""
        if self.quiz.spec.marks == "end":
            raise Fault("mark", "this quiz is marked at its end", "hand in when you are done")
        self.check_open()
        if self.asked.answer is None:
            raise Fault("mark", "there is no answer yet", "answer it first")
        marked = self.asked.mark()
        self._settled[self._number] = marked
        return marked

    def settled(self, number: int) -> Marked | None:
        """The mark of a question that was marked before the end."""
        return self._settled.get(number)

    def hand_in(self) -> None:
        """Ends the quiz."""
        self.clock.look()
        self._handed_in = True

    def results(self) -> tuple[Result, ...]:
        """Every question with its mark, once the quiz is over. Raises Fault before that."""
        if not self.is_over:
            raise Fault("quiz", "is not handed in yet", "hand in when you are done")
        return tuple(map(self._result, self.numbers))

    def _result(self, number: int) -> Result:
        asked = self.question(number)
        if number not in self._settled:
            self._settled[number] = asked.mark()
        marked = self._settled[number]
        return Result(number, asked.question, asked.title, marked, asked.given(), asked.answer, asked.right_answer())

    # What is kept.

    def head(self) -> dict[str, Any]:
        """What is to be kept besides quiz and answers, as a plain table."""
        return {
            "number": self._number,
            "unit": self._unit.value,
            "clock": self.clock.stored(),
            "handed-in": self._handed_in,
            "ended-by-time": self._ended_by_time,
            "settled": sorted(self._settled),
        }

    def kept(self) -> dict[int, dict[str, Any]]:
        """The answers of all questions that were looked at, as plain tables by their numbers."""
        return {number: asked.stored() for number, asked in self._asked.items()}

    def resume(self, head: Mapping[str, Any], kept: Mapping[int, Any]) -> None:
        """Goes on from what ``head`` and ``kept`` gave. Raises Fault for anything else."""
        try:
            self._kept, self._asked = dict(kept), {}
            self._unit = Unit(head["unit"])
            self.go_to(int(head["number"]))
            self.clock.resume(head["clock"])
            for number in kept:
                self.question(number)
            self._settled = {int(number): self.question(int(number)).mark() for number in head["settled"]}
            self._handed_in, self._ended_by_time = bool(head["handed-in"]), bool(head["ended-by-time"])
        except (KeyError, IndexError, TypeError, ValueError, AttributeError, OverflowError):
            raise Fault("stored quiz", "can't be read", "take the quiz again") from None
