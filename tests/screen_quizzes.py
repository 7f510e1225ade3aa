"""States of quizzes, and of what is due, for the kept screens."""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from unittest.mock import patch

from lessons_for_tests import small_lesson
from quiz_driving import SMALL, Hands, small_sitting
from screen_sittings import shown
from test_quiz_screens import open_question, opened, quizzing, right_letter
from test_quiz_sitting import forms
from tutor_driving import Driven

from tutor.practice.session import Session
from tutor.record.record import Record, open_record
from tutor.tui import due_screen, quiz_choice
from tutor.tui.app import Opening
from tutor.tui.due_screen import DueScreen
from tutor.units import Unit


async def quiz_states(folder: Path) -> AsyncIterator[tuple[str, str]]:
    """Each state's name and screen."""
    async for state in _a_quiz(folder):
        yield state
    async for state in _before_a_quiz(folder):
        yield state
    async for state in _due(folder):
        yield state


async def _after(tutor: Driven, keys: str) -> str:
    await tutor.press(keys)
    return shown(tutor)


async def _a_quiz(folder: Path) -> AsyncIterator[tuple[str, str]]:
    """A quiz taken, with as much time as an hour has, and handed in."""
    hands = Hands()
    sitting = small_sitting(folder, replace(SMALL, minutes=60, marks="asked"), hands)
    found = forms(sitting)
    async with quizzing(sitting) as tutor:
        yield "quiz", shown(tutor)
        yield "quiz-help", await _after(tutor, "question_mark")
        await tutor.press("escape")
        for form in ("choice", "spot", "number", "plan"):
            await open_question(tutor, found[form])
            yield f"quiz-{form}", shown(tutor)
            await tutor.press("escape")
        await _reopen(tutor, found["choice"])
        yield "quiz-no-hints", await _after(tutor, "h")
        yield "quiz-answered", await _after(tutor, right_letter(sitting, found["choice"]))
        yield "quiz-mark-asked", await _after(tutor, "c")
        yield "quiz-marked", await _after(tutor, "y")
        yield "quiz-settled", await _after(tutor, "enter B")
        await tutor.press("escape")
        await _reopen(tutor, found["number"])
        yield "quiz-answering", await _after(tutor, "enter")
        await tutor.write("12")
        yield "quiz-number-answered", await _after(tutor, "enter")
        yield "quiz-marks-later", await _after(tutor, "escape m")
        yield "quiz-under-way", await _after(tutor, "up")
        yield "quiz-handing-in", await _after(tutor, "F")
        yield "quiz-handed-in", await _after(tutor, "y")
        yield "quiz-question-marked", await _after(tutor, "enter")
        yield "quiz-marks", await _after(tutor, "enter m")


async def _reopen(tutor: Driven, number: int) -> None:
    """From the list to a question that was opened before, whose page is not shown again."""
    await tutor.press("up " * 10 + "down " * (number - 1) + "enter")


async def _before_a_quiz(folder: Path) -> AsyncIterator[tuple[str, str]]:
    lesson = small_lesson(folder)
    with patch.object(quiz_choice, "every_lesson", lambda: {lesson.name: lesson}):
        async with opened(lesson, None) as tutor:
            yield "quiz-about-what", await _after(tutor, "t")


async def _due(folder: Path) -> AsyncIterator[tuple[str, str]]:
    """What is due on the day on which something went wrong, and on the next."""
    lesson = small_lesson(folder)
    with open_record(folder / "due") as record, patch.object(due_screen, "every_lesson", lambda: {lesson.name: lesson}):
        record.keep_setting("toured", True)
        opening: Opening = lambda app: DueScreen(app.desk, app.show_lessons)  # noqa: E731
        async with opened(lesson, opening, record) as tutor:
            yield "due-nothing-yet", shown(tutor)
        _go_wrong(record, folder)
        async with opened(lesson, opening, record) as tutor:
            yield "due-tomorrow", shown(tutor)
        made = record.attempts()[-1].time
        with patch.object(due_screen, "datetime") as clock:
            clock.now.return_value = made + timedelta(days=1)
            async with opened(lesson, opening, record) as tutor:
                yield "due", shown(tutor)
                yield "due-opened", await _after(tutor, "enter")


def _go_wrong(record: Record, folder: Path) -> None:
    session = Session(small_lesson(folder), Unit.CM)
    session.go_to_task(2)
    session.answer("99 cm")
    record.save(session)
