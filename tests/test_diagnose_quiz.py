"""Folds to look into as questions of a quiz: line by line, by keys, and kept with every sign looked for."""

from __future__ import annotations

import io
import json

import pytest
from lessons_for_tests import FOLDS, small_lesson
from test_quiz_screens import quizzing

from tutor.fit.causes import CAUSES
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import DiagnoseTask
from tutor.marking.finding import Finding
from tutor.practice.session import Session
from tutor.quiz.asked import Asked
from tutor.quiz.asking import ask
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.forms import askings
from tutor.quiz.making import question_of
from tutor.quiz.plain import run_quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.units import Unit


@pytest.fixture(scope="module")
def lesson(tmp_path_factory: pytest.TempPathFactory) -> Lesson:
    return small_lesson(tmp_path_factory.mktemp("folds"), text=FOLDS)


def letter(session: Session, name: str) -> str:
    return next(option.letter for option in session.options if option.name == name)


def question(lesson: Lesson, number: int, body: int = 3) -> Asked:
    asking = next(each for each in askings(lesson) if each.task == number)
    made = question_of(lesson, asking, body)
    assert made is not None
    return ask(made, lesson, Unit.CM)


def test_it_is_asked_in_a_quiz_and_kept_with_every_step(lesson: Lesson) -> None:
    asked = question(lesson, 2)
    assert asked.answer is None
    asked.session.ask_sign("lengthwise-yarn")
    asked.session.ask_sign("crosswise-yarn")
    stored = json.loads(json.dumps(asked.stored()))
    right = asked.session.right_options()[0]
    asked.give("ABCDE"[[option.name for option in asked.session.options].index(right)])
    assert asked.mark().passed
    assert CAUSES[right].words in asked.right_answer()
    given = asked.given()
    again = question(lesson, 2)
    again.restore(stored)
    assert again.session.finding == Finding(("lengthwise-yarn", "crosswise-yarn"))
    assert given is not None
    fresh = question(lesson, 2)
    fresh.take(given)
    assert fresh.mark().passed


def test_a_quiz_with_folds_is_taken_line_by_line(lesson: Lesson) -> None:
    quiz = draw_quiz(QuizSpec(lessons=(lesson.name,), count=3, seed=5), {lesson.name: lesson})
    sitting = Sitting(quiz, {lesson.name: lesson}, Unit.CM)
    lines = []
    for number in sitting.numbers:
        session = sitting.question(number).session
        right = session.right_options()[0]
        lines += [*(f"sign {row.number}" for row in session.signs), "2", letter(session, right), "next"]
    out = io.StringIO()
    run_quiz(sitting, io.StringIO("\n".join([*lines, "help sign", "finish", ""])), out)
    told = out.getvalue()
    assert "The sleeve as it is worn:" in told
    assert "Mark: 100 of 100, passed" in told
    assert "Not read" not in told


@pytest.mark.parametrize("line", ["2 and 3", "1, 2", "sign 1 2"])
def test_one_sign_is_looked_for_at_a_time_in_a_quiz(lesson: Lesson, line: str) -> None:
    quiz = draw_quiz(QuizSpec(lessons=(lesson.name,), count=1, seed=5), {lesson.name: lesson})
    sitting, out = Sitting(quiz, {lesson.name: lesson}, Unit.CM), io.StringIO()
    run_quiz(sitting, io.StringIO(f"{line}\n"), out)
    assert "one sign is looked for at a time" in " ".join(out.getvalue().split())
    assert sitting.asked.session.finding.asked == ()


async def test_a_question_with_folds_is_answered_by_keys(lesson: Lesson) -> None:
    quiz = draw_quiz(QuizSpec(lessons=(lesson.name,), count=1, seed=5), {lesson.name: lesson})
    sitting = Sitting(quiz, {lesson.name: lesson}, Unit.CM)
    async with quizzing(sitting) as tutor:
        session = sitting.asked.session
        await tutor.press("enter enter 1 2")
        assert session.finding.asked == tuple(row.name for row in session.signs[:2])
        names = [option.name for option in session.options]
        down = len(session.signs) + names.index(session.right_options()[0])
        await tutor.press(" ".join(["up"] * 3 + ["down"] * down + ["enter"]))
        assert sitting.asked.answer is not None
        assert CAUSES[session.right_options()[0]].words.split(",")[0] in " ".join(tutor.text.split())
        await tutor.press("h")
        assert "There are no hints in a quiz." in tutor.text


def test_what_is_to_be_mended_is_told_where_it_was_not_found_out() -> None:
    """The last task of lesson 25 goes on from the first, which a quiz need not ask."""
    asked = question(find_lesson("25"), 6)
    task = asked.session.tasks[0]
    assert isinstance(task, DiagnoseTask)
    told = " ".join(asked.story)
    assert f"What was found is {CAUSES[task.cause].words}, by" in told
    asked.give("ABCD"[[option.name for option in asked.session.options].index(asked.session.right_options()[0])])
    assert asked.mark().passed
