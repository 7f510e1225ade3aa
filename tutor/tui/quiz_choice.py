"""A quiz begun from the list of lessons: the one under way, or one over lessons that are chosen."""

from __future__ import annotations

import secrets

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import every_lesson
from tutor.quiz.quiz import Quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import COUNT, QuizSpec
from tutor.tui.choice import Choice
from tutor.tui.drawing import Drawing
from tutor.tui.face import Face
from tutor.tui.quiz_screen import QuizScreen

NEW_SEEDS = 1_000_000


def take_quiz(face: Face, chosen: str | None) -> None:
    """Opens the quiz under way; where there is none, asks what one is to be about, and draws it."""
    lessons = every_lesson()
    record = face.desk.record
    under_way = None if record is None else record.resume_quiz(lessons)
    if under_way is not None:
        _open(face, under_way)
        return

    def take(name: str | None) -> None:
        if name is not None:
            _draw(face, about[name], lessons)

    about = _about(face, chosen, lessons)
    names = [(name, f"{COUNT} questions from {name}") for name in about]
    face.app.push_screen(Choice("A quiz about what?", names, enter="draw it", ascii=face.desk.ascii), take)


def _about(face: Face, chosen: str | None, lessons: dict[str, Lesson]) -> dict[str, tuple[str, ...]]:
    """What a quiz can be about, in words, and which lessons that is."""
    standings = {name: words[0] for name, words in face.desk.standings().items()}
    begun = tuple(name for name in lessons if standings.get(name, "not begun") != "not begun")
    found: dict[str, tuple[str, ...]] = {}
    if begun:
        found["the lessons that you have begun"] = begun
    if chosen in lessons:
        lesson = lessons[chosen]
        found[f"lesson {lesson.number}, {lesson.title}"] = (chosen,)
    found["all lessons"] = tuple(lessons)
    return found


def _draw(face: Face, names: tuple[str, ...], lessons: dict[str, Lesson]) -> None:
    spec = QuizSpec(names, COUNT, seed=secrets.randbelow(NEW_SEEDS))

    def drawn(quiz: Quiz | Fault | None) -> None:
        if isinstance(quiz, Quiz):
            _open(face, Sitting(quiz, lessons, face.desk.unit))
        elif quiz is not None:
            face.said = f"No such quiz can be drawn: {quiz}."
            face.show()

    face.app.push_screen(Drawing(spec, lessons), drawn)


def _open(face: Face, sitting: Sitting) -> None:
    face.app.push_screen(QuizScreen(face.desk, sitting, face.app.pop_screen))
