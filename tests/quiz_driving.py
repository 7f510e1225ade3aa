"""Quizzes for the tests: of the small lesson, drawn once, with clocks that tests turn."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from lessons_for_tests import small_lesson

from tutor.lesson.lesson import Lesson
from tutor.quiz.clock import Times
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.quiz import Quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.units import Unit


@dataclass
class Hands:
    """A clock's hands: the date, an even clock that sleeps through nothing, one that does, and the computer's start."""

    date: float = 1_800_000_000.0
    even: float = 500.0
    awake: float = 400.0
    start: str = "one"
    times: Times = field(init=False)

    def __post_init__(self) -> None:
        self.times = Times(lambda: self.date, lambda: self.even, lambda: self.awake, lambda: self.start)

    def go(self, seconds: float) -> None:
        """Time goes by, and everything runs."""
        self.sleep(seconds)
        self.awake += seconds

    def sleep(self, seconds: float) -> None:
        """The computer sleeps."""
        self.date += seconds
        self.even += seconds


_DRAWN: dict[QuizSpec, tuple[Quiz, dict[str, Lesson]]] = {}


SMALL = QuizSpec(("small",), count=4, seed=1)


def small_quiz(folder: Path, spec: QuizSpec = SMALL) -> tuple[Quiz, dict[str, Lesson]]:
    """A quiz of the small lesson, and the lesson by its name."""
    if spec not in _DRAWN:
        lessons = {"small": small_lesson(folder)}
        _DRAWN[spec] = draw_quiz(spec, lessons), lessons
    return _DRAWN[spec]


def small_sitting(folder: Path, spec: QuizSpec = SMALL, hands: Hands | None = None) -> Sitting:
    """A sitting at such a quiz, just begun."""
    quiz, lessons = small_quiz(folder, spec)
    return Sitting(quiz, lessons, Unit.CM, times=None if hands is None else hands.times)
