"""How far somebody has come with each lesson."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from tutor.record.database import Database
from tutor.record.sound import Tasks, sound, time_of

_LESSONS = "SELECT name, number, title, tasks, time FROM lesson ORDER BY number, name"
_TRIES = """SELECT lesson, task, count(*), max(CASE WHEN shown THEN 0.0 ELSE mark END)
    FROM attempt WHERE quiz IS NULL AND typeof(mark) = 'real' AND mark BETWEEN 0 AND 1 GROUP BY lesson, task"""
_BEGUN = (
    "SELECT lesson FROM sitting UNION SELECT lesson FROM attempt WHERE quiz IS NULL UNION SELECT lesson FROM standing"
)
"""Lessons that were worked at; a quiz that asked of one has not begun it."""
_Row = tuple[str, int, str, Tasks, str]

LessonStanding = Literal["not begun", "begun", "shown", "passed"]


@dataclass(frozen=True, slots=True)
class LessonProgress:
    """One lesson. ``passed`` of its ``tasks`` are passed, at whatever sitting.

    A lesson is passed when all its tasks are, and shown when the others were given up for their worked solutions.
    ``best_mark`` is the mean over all its tasks of the best mark of each, 0 to 1, from attempts made before the
    solution was shown; None before the first attempt. ``last`` is when it was last worked at.
    """

    lesson: str
    number: int
    title: str
    standing: LessonStanding
    passed: int
    tasks: int
    best_mark: float | None
    tries: int
    last: datetime | None


class Titled(Protocol):
    """A lesson as it is listed, or the whole of it."""

    @property
    def name(self) -> str: ...
    @property
    def number(self) -> int: ...
    @property
    def title(self) -> str: ...
    @property
    def task_count(self) -> int: ...


@dataclass(frozen=True, slots=True)
class _Known:
    """A lesson as its row or its file has it."""

    name: str
    number: int
    title: str
    tasks: int


def read_progress(database: Database, lessons: Sequence[Titled]) -> tuple[LessonProgress, ...]:
    """The progress in each of the lessons, in their order, then in every other lesson that was begun.

    Raises Trouble.
    """
    rows = sound(database.rows(_LESSONS), _Row)
    times = {row[0]: time for row in rows if (time := _time(row[-1])) is not None}
    given = [_Known(lesson.name, lesson.number, lesson.title, lesson.task_count) for lesson in lessons]
    names = {lesson.name for lesson in given}
    others = [_Known(*row[:4]) for row in rows if row[0] not in names and row[0] in times]
    standings = database.rows("SELECT lesson, task, passed, shown FROM standing")
    passed = {(lesson, task) for lesson, task, passed, _ in standings if passed}
    shown = {(lesson, task) for lesson, task, _, shown in standings if shown}
    begun = {lesson for (lesson,) in database.rows(_BEGUN)}
    tries = {(lesson, task): (count, best) for lesson, task, count, best in database.rows(_TRIES)}

    def progress(known: _Known) -> LessonProgress:
        tasks = [(known.name, task) for task in range(1, known.tasks + 1)]
        done = sum(task in passed for task in tasks)
        tried = [tries[task] for task in tasks if task in tries]
        return LessonProgress(
            known.name,
            known.number,
            known.title,
            _standing(len(tasks), done, sum(task in shown - passed for task in tasks), known.name in begun),
            done,
            len(tasks),
            sum(best for _, best in tried) / len(tasks) if tried else None,
            sum(count for count, _ in tried),
            times.get(known.name),
        )

    return tuple(map(progress, (*given, *others)))


def _time(text: str) -> datetime | None:
    try:
        return time_of(text)
    except ValueError:
        return None


def _standing(tasks: int, passed: int, shown: int, begun: bool) -> LessonStanding:
    if tasks and passed == tasks:
        return "passed"
    if shown and passed + shown == tasks:
        return "shown"
    return "begun" if begun else "not begun"
