"""What was done week by week: by lesson, and by kind of mistake."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from tutor.record.attempts import KeptAttempt

WEEK = timedelta(days=7)


@dataclass(slots=True)
class Count:
    """Attempts of one week: how many, how many of them right, and the sum of their marks (each 0 to 1)."""

    tries: int = 0
    right: int = 0
    marks: float = 0.0

    def add(self, attempt: KeptAttempt) -> None:
        self.tries += 1
        self.right += attempt.passed
        self.marks += attempt.mark

    @property
    def mean(self) -> float | None:
        """The mean mark, 0 to 1; None without attempts."""
        return self.marks / self.tries if self.tries else None


@dataclass(frozen=True, slots=True)
class Week:
    """One week from its Monday on, where the learner is: everything, each lesson, and each mistake that was named."""

    start: date
    all: Count = field(default_factory=Count)
    lessons: dict[str, Count] = field(default_factory=dict)
    mistakes: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class MistakeProgress:
    """One kind of mistake: how often it was named, in how many of the attempts, and when first and last."""

    name: str
    times: int
    first: datetime
    last: datetime
    lessons: tuple[str, ...]


def weeks(attempts: Iterable[KeptAttempt], now: datetime, most: int) -> tuple[Week, ...]:
    """The last ``most`` weeks up to now, oldest first, from the first in which anything was done.

    What is dated later than now, by a clock that was wrong, counts as done now.
    """
    last = monday(now)
    found = {last - k * WEEK: Week(last - k * WEEK) for k in range(most)}
    first = last
    for attempt in attempts:
        week = found.get(monday(min(attempt.time, now)))
        if week is None:
            continue
        first = min(first, week.start)
        week.all.add(attempt)
        week.lessons.setdefault(attempt.lesson, Count()).add(attempt)
        if attempt.mistake is not None:
            week.mistakes[attempt.mistake] = week.mistakes.get(attempt.mistake, 0) + 1
    return tuple(week for start, week in sorted(found.items()) if start >= first)


def monday(time: datetime) -> date:
    """The Monday of a time's week, where the learner is."""
    day = time.astimezone().date()
    return day - timedelta(days=day.weekday())


def mistakes_made(attempts: Sequence[KeptAttempt]) -> tuple[MistakeProgress, ...]:
    """Every kind of mistake that was named, the one named most often first."""
    found: dict[str, list[KeptAttempt]] = {}
    for attempt in attempts:
        if attempt.mistake is not None:
            found.setdefault(attempt.mistake, []).append(attempt)
    rows = [_progress(name, made) for name, made in found.items()]
    return tuple(sorted(rows, key=lambda each: (-each.times, each.name)))


def _progress(name: str, made: Sequence[KeptAttempt]) -> MistakeProgress:
    lessons = tuple(sorted({attempt.lesson for attempt in made}))
    times = [attempt.time for attempt in made]
    return MistakeProgress(name, len(made), min(times), max(times), lessons)
