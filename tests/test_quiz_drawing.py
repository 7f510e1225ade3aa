"""Quizzes drawn: balanced, without a question twice, and the same bytes wherever they are drawn."""

import hashlib
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
import quizzes_drawn
from lessons_for_tests import own_lessons
from quiz_driving import SMALL, small_quiz

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.quiz.drawing import BAND, draw_quiz
from tutor.quiz.lesson_names import lessons_named
from tutor.quiz.quiz import quiz_from
from tutor.quiz.shares import Shares
from tutor.quiz.spec import QuizSpec, spec_faults

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def lessons() -> dict[str, Lesson]:
    """The lessons of one part of the course, by name."""
    return {lesson.name: lesson for lesson in own_lessons() if 4 <= lesson.number <= 7}


def test_shares_are_those_of_sha_256() -> None:
    # SHA-256 as FIPS 180-4 has it, by the standard library.
    first = hashlib.sha256(b"a/7/name").digest()[:8]
    assert Shares("a", 7).number("name") == int.from_bytes(first, "big")


def test_orders_are_orders_of_all_there_is_and_equally_likely() -> None:
    # 6 orders of 3, each 1/6 of 3000: 500, give or take 4.5 standard deviations of a binomial (20.4).
    orders = Counter(tuple(Shares("t").ordered(k, "abc")) for k in range(3000))
    assert len(orders) == 6
    assert all(abs(count - 500) < 92 for count in orders.values())


def test_quizzes_drawn_in_small(lessons: dict[str, Lesson]) -> None:
    # The script draws ten thousand.
    tally = quizzes_drawn.draw(2, 8, lessons)
    assert (tally.twice, tally.uneven_lessons, tally.uneven_levels, tally.beyond) == (0, 0, 0, 0)
    assert {question: found for question, found in tally.questions.items() if found} == {}
    assert max(map(abs, tally.means)) <= BAND
    assert set(tally.forms) == {"task", "choice", "spot"}


def test_another_process_draws_the_same_bytes(lessons: dict[str, Lesson]) -> None:
    spec = QuizSpec(tuple(lessons), 2, 12)
    program = (
        "from lessons_for_tests import own_lessons\nfrom tutor.quiz.drawing import draw_quiz\n"
        "from tutor.quiz.spec import QuizSpec\n"
        f"lessons = {{each.name: each for each in own_lessons()}}\n"
        f"print(draw_quiz(QuizSpec({spec.lessons!r}, 2, 12), lessons).text)"
    )
    strange = {"PYTHONHASHSEED": "77", "LC_ALL": "C", "TZ": "Asia/Tokyo"}
    environment = {**os.environ, **strange, "PYTHONPATH": str(ROOT / "tests")}
    ran = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    assert ran.stdout.strip() == draw_quiz(spec, lessons).text


def test_each_variant_set_asks_the_same_of_other_bodies(tmp_path: Path) -> None:
    one, _ = small_quiz(tmp_path, replace(SMALL, variant_set="Anouk"))
    two, _ = small_quiz(tmp_path, replace(SMALL, variant_set="Odd"))
    asked = [[(q.lesson, q.task, q.form) for q in quiz.questions] for quiz in (one, two)]
    assert asked[0] == asked[1]
    assert [q.values for q in one.questions] != [q.values for q in two.questions]


def test_a_quiz_longer_than_its_lesson_asks_again_of_other_bodies(tmp_path: Path) -> None:
    quiz, _ = small_quiz(tmp_path, replace(SMALL, count=6))
    assert len({question.body for question in quiz.questions}) == 6


def test_a_quiz_reads_back_and_a_changed_one_does_not(tmp_path: Path) -> None:
    quiz, _ = small_quiz(tmp_path)
    stored = quiz.stored()
    assert quiz_from(stored) == quiz
    for change in ({"spec": {**stored["spec"], "seed": 2}}, {"generator": 2}, {"digest": "0" * 64}):
        with pytest.raises(Fault, match="was changed"):
            quiz_from({**stored, **change})
    nonsenses: tuple[object, ...] = (
        {},
        [],
        None,
        {**stored, "questions": [{}]},
        {**stored, "spec": {}},
        {**stored, "questions": 3},
    )
    for nonsense in nonsenses:
        with pytest.raises(Fault, match="can't be read"):
            quiz_from(nonsense)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"count": 0}, "count"),
        ({"count": 101}, "count"),
        ({"seed": -1}, "seed"),
        ({"minutes": 0}, "minutes"),
        ({"pass_mark": float("nan")}, "pass-mark"),
        ({"pass_mark": 1.01}, "pass-mark"),
        ({"title": "two\nlines"}, "title"),
        ({"lessons": ()}, "lessons"),
        ({"lessons": ("a", "a")}, "lessons"),
    ],
)
def test_what_can_be_no_quiz_is_told(change: dict[str, object], where: str) -> None:
    assert [fault.where for fault in spec_faults(replace(SMALL, **change))] == [where]  # type: ignore[arg-type]
    assert spec_faults(SMALL) == []


def test_lessons_are_named_by_number_span_name_and_all(lessons: dict[str, Lesson]) -> None:
    names = list(lessons)
    assert lessons_named("all", lessons) == tuple(names)
    assert lessons_named("7, 4-5", lessons) == (names[0], names[1], names[3])
    assert lessons_named("the armhole answers", lessons) == (names[3],)
    for text in ("", " , ", "99", "9-3", "4-"):
        with pytest.raises(Fault):
            lessons_named(text, lessons)


def test_a_lesson_that_there_is_not_is_told(tmp_path: Path) -> None:
    _, lessons = small_quiz(tmp_path)
    with pytest.raises(Fault, match="no lesson here"):
        draw_quiz(QuizSpec(("large",)), lessons)


LEANS = re.compile(
    r"^(And|Now|The same|Back to)\b|\bthan that\b|\bas [A-Z]\w+'s does\b|\bof that \w+ goes\b|\bthis time\b"
)
"""What tells that a task leans on another, which a quiz need not ask."""


def test_every_task_stands_by_itself() -> None:
    asks = [(lesson.number, k, task.ask) for lesson in own_lessons() for k, task in enumerate(lesson.tasks, 1)]
    assert len(asks) > 100
    assert [each for each in asks if LEANS.search(each[-1])] == []
