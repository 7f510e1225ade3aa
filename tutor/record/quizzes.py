"""Quizzes as they are on disk: the quiz as drawn, how far somebody is, and each answer in a row of its own."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from tutor.quiz.canonical import canonical
from tutor.record.database import Database
from tutor.record.writing import UPSERT_LESSON, name_of

if TYPE_CHECKING:
    from tutor.quiz.sitting import Sitting

UNDER_WAY, HANDED_IN, GIVEN_UP = "", "handed in", "given up"

_QUIZ = """INSERT INTO quiz (digest, drawn, learner, turn, head, ended, time)
    SELECT ?, ?, ?, coalesce(max(turn), 0) + 1, ?, ?, ? FROM quiz"""
_AGAIN = "UPDATE quiz SET head = ?, ended = ?, time = ? WHERE id = ?"
_TURN = "UPDATE quiz SET turn = (SELECT max(turn) + 1 FROM quiz) WHERE id = ? AND turn < (SELECT max(turn) FROM quiz)"
_WORK = """INSERT INTO quiz_work (quiz, question, state)
    VALUES (?, ?, ?) ON CONFLICT (quiz, question) DO UPDATE SET state = excluded.state"""
_ATTEMPT = """INSERT INTO attempt
    (lesson, seed, version, task, given, unit, mark, passed, mistake, hints, shown, time, form, quiz)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 0, 0, ?, ?, ?)"""
_LAST = """SELECT id, digest, drawn, learner, head FROM quiz
    WHERE ended = ?3 AND (?1 IS NULL OR digest = ?1) AND (?2 IS NULL OR learner = ?2) ORDER BY turn DESC LIMIT 1"""
ANY_UNDER_WAY = "SELECT id FROM quiz WHERE ended = '' LIMIT 1"
_WORKS = "SELECT question, state FROM quiz_work WHERE quiz = ?"
_GIVE_UP = "UPDATE quiz SET ended = ? WHERE id = ? AND ended = ''"


@dataclass(slots=True)
class QuizImage:
    """What of a sitting is on disk: ``row`` is 0 before there is one."""

    row: int = 0
    head: str = ""
    ended: str = UNDER_WAY
    works: dict[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class KeptQuiz:
    """A quiz under way, read back."""

    row: int
    digest: str
    drawn: Any
    learner: str
    head: Any
    works: dict[int, Any]
    ended: str


def write_quiz(database: Database, sitting: Sitting, image: QuizImage) -> None:
    """Writes what of a sitting is not in its image; once it is over, its answers as attempts as well. Raises Trouble.

    All of it in one transaction, and the image brought up to date after it.
    """
    ended = HANDED_IN if sitting.is_over else UNDER_WAY
    if image.ended == HANDED_IN:
        return
    works = {number: canonical(state) for number, state in sitting.kept().items()}
    fresh = {number: text for number, text in works.items() if image.works.get(number) != text}
    results = sitting.results() if ended else ()
    head = canonical(sitting.head())
    time = datetime.now(UTC).isoformat(timespec="seconds")
    row = image.row
    with database.transaction():
        if not row or database.run(_AGAIN, head, ended, time, row) != 1:
            row = database.insert(_QUIZ, sitting.quiz.digest, sitting.quiz.text, sitting.learner, head, ended, time)
            fresh = works
        database.run(_TURN, row)
        database.run_each(_WORK, [(row, number, text) for number, text in fresh.items()])
        if results:
            database.run_each(UPSERT_LESSON, list(_lessons(sitting, time)))
            database.run_each(_ATTEMPT, list(_attempts(sitting, row, time)))
    image.row, image.head, image.ended = row, head, ended
    image.works |= fresh


def _lessons(sitting: Sitting, time: str) -> Iterator[tuple[object, ...]]:
    for name in sorted({question.lesson for question in sitting.quiz.questions}):
        lesson = sitting.lessons[name]
        yield name_of(lesson), lesson.number, lesson.title, len(lesson.tasks), time


def _attempts(sitting: Sitting, row: int, time: str) -> Iterator[tuple[object, ...]]:
    """The questions that were answered; what was left open says nothing of what somebody can do."""
    for each in sitting.results():
        if each.given is None:
            continue
        question, marked = each.question, each.marked
        lesson = name_of(sitting.lessons[question.lesson])
        yield (
            *(lesson, str(question.body), question.version, question.task),
            json.dumps(each.given),
            sitting.unit.value,
            *(marked.total, marked.passed, marked.mistake, time),
            *(question.form, row),
        )


def read_quiz(database: Database, digest: str | None, learner: str | None, ended: str = UNDER_WAY) -> KeptQuiz | None:
    """The quiz under way, or ended so, that was last worked at; of this digest or learner where one is named.

    None when there is none. Raises Trouble, and ValueError for one that can't be read.
    """
    with database.transaction():
        found = database.rows(_LAST, digest, learner, ended)
        if not found:
            return None
        row, kept, drawn, name, head = found[0]
        works = {number: json.loads(state) for number, state in database.rows(_WORKS, row)}
    return KeptQuiz(row, kept, json.loads(drawn), name, json.loads(head), works, ended)


def give_up(database: Database, row: int) -> None:
    """Leaves a quiz under way for good. Raises Trouble."""
    database.run(_GIVE_UP, GIVEN_UP, row)
