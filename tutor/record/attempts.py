"""The log of attempts, read back."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import msgspec

from tutor.record.sound import Count, Share, time_of
from tutor.record.writing import seed_of

ATTEMPTS = """SELECT lesson, seed, version, task, given, unit, mark, passed, mistake, hints, shown, time, form, quiz
    FROM attempt WHERE ?1 IS NULL OR lesson = ?1 ORDER BY id"""
"""Takes the name of a lesson, or None for all."""

_Row = tuple[str, str, int, Count, str, str, Share, bool, str | None, Count, bool, str, str, int | None]


@dataclass(frozen=True, slots=True)
class KeptAttempt:
    """An attempt as it stands in the log: ``given`` is a plan's table (see ``stored_plan``) or a number's text.

    A bare number is in ``unit``. ``form`` is what the task was asked as, and ``quiz`` the quiz that asked it, by its
    number in the record; None for a lesson.
    """

    lesson: str
    seed: int | None
    version: int
    task: int
    given: dict[str, Any] | str
    unit: str
    mark: float
    passed: bool
    mistake: str | None
    hints: int
    shown: bool
    time: datetime
    form: str = "task"
    quiz: int | None = None


def kept_attempt(row: tuple[Any, ...]) -> KeptAttempt | None:
    """The attempt in a row of ``ATTEMPTS``; None for a row that makes no sense."""
    try:
        values = msgspec.convert(row, _Row, strict=False)
        lesson, seed, version, task, given, unit, mark, passed, mistake, hints, shown, time, form, quiz = values
        answer, made = json.loads(given), time_of(time)
        if not isinstance(answer, str | dict):
            return None
        return KeptAttempt(
            lesson,
            seed_of(seed),
            version,
            task,
            answer,
            unit,
            mark,
            passed,
            mistake,
            hints,
            shown,
            made,
            form,
            quiz,
        )
    except (msgspec.ValidationError, ValueError, RecursionError):
        return None
