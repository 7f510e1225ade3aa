"""Practice when it is due: what was got wrong, or has not been seen for long, comes back.

Scheduled by the FSRS model of spaced repetition, as the library ``fsrs`` has it; its random shifts of days are off, so
that the same attempts always give the same days. What is got wrong comes back the next day, whatever came before.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Protocol

from fsrs import Card, Rating, Scheduler

GAP = timedelta(hours=4)
"""Attempts at a task that lie nearer together are one go at it."""
RETENTION = 0.9
"""A task comes back when one in ten would have forgotten it: the library's own choice."""
NEXT_DAY = (timedelta(days=1),)
LONGEST = 120
"""Days after which everything comes back."""

_SCHEDULER = Scheduler(
    desired_retention=RETENTION,
    learning_steps=NEXT_DAY,
    relearning_steps=NEXT_DAY,
    maximum_interval=LONGEST,
    enable_fuzzing=False,
)


class Tried(Protocol):
    """An attempt at a task, counted from 1, of a lesson by its name."""

    @property
    def lesson(self) -> str: ...
    @property
    def task(self) -> int: ...
    @property
    def time(self) -> datetime: ...
    @property
    def passed(self) -> bool: ...
    @property
    def hints(self) -> int: ...
    @property
    def shown(self) -> bool: ...
    @property
    def mistake(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class Scheduled:
    """A task that was tried, and when it comes back.

    ``missed`` says that something was wrong in the last go, ``mistake`` which usual mistake it showed, and ``shown``
    that the worked solution was. ``recall`` is how likely it is that the task could still be done at the time asked
    about, 0 to 1. ``goes`` counts the sittings.
    """

    lesson: str
    task: int
    due: datetime
    last: datetime
    recall: float
    missed: bool
    shown: bool
    mistake: str | None
    goes: int


def scheduled(tries: Iterable[Tried], now: datetime) -> tuple[Scheduled, ...]:
    """Every task that was tried, the one that comes back first leading; ``tries`` in the order they were made.

    A try later than ``now`` counts as made now: some clock was wrong.
    """
    by_task: dict[tuple[str, int], list[Tried]] = {}
    for each in tries:
        by_task.setdefault((each.lesson, each.task), []).append(each)
    found = [_scheduled(found, now) for found in by_task.values()]
    return tuple(sorted(found, key=lambda each: (each.due, each.lesson, each.task)))


def due(tries: Iterable[Tried], now: datetime) -> tuple[Scheduled, ...]:
    """The tasks that are due by the learner's calendar: first those that went wrong, then those most likely forgotten.

    They are due for the whole day, so that whoever is a little earlier than yesterday finds them.
    """
    today = now.astimezone().date()
    found = [each for each in scheduled(tries, now) if each.due.astimezone().date() <= today]
    return tuple(
        sorted(found, key=lambda each: (not (each.missed or each.shown), each.recall, each.due, each.lesson, each.task))
    )


def _scheduled(tries: Sequence[Tried], now: datetime) -> Scheduled:
    card = Card(card_id=0, due=_utc(tries[0], now))
    goes = _goes(tries, now)
    for go in goes:
        card, _ = _SCHEDULER.review_card(card, rating(go), _utc(go[0], now))
    last = goes[-1]
    wrong = [each for each in last if not each.passed]
    mistake = next((each.mistake for each in reversed(wrong) if each.mistake is not None), None)
    recall = float(_SCHEDULER.get_card_retrievability(card, now))
    ended = _utc(last[-1], now)
    shown = any(each.shown for each in last)
    return Scheduled(last[0].lesson, last[0].task, card.due, ended, recall, bool(wrong), shown, mistake, len(goes))


def _goes(tries: Sequence[Tried], now: datetime) -> list[list[Tried]]:
    """The attempts at one task by sittings."""
    goes: list[list[Tried]] = []
    for each in tries:
        if goes and abs(_utc(each, now) - _utc(goes[-1][-1], now)) < GAP:
            goes[-1].append(each)
        else:
            goes.append([each])
    return goes


def rating(go: Sequence[Tried]) -> Rating:
    """What a sitting shows: forgotten where anything went wrong or was shown, hard with hints, good without."""
    if any(each.shown or not each.passed for each in go):
        return Rating.Again
    return Rating.Hard if go[0].hints else Rating.Good


def _utc(each: Tried, now: datetime) -> datetime:
    return min(each.time, now).astimezone(UTC)
