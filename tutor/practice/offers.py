"""What a learner is offered to practise: the tasks that are due, each with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from tutor.lesson.lesson import Lesson
from tutor.practice.due import Scheduled, Tried, due, scheduled
from tutor.practice.due_words import due_reason, when_words

VARIANTS = 10_000


@dataclass(frozen=True, slots=True)
class Offer:
    """A task, counted from 1, that is due; ``seed`` numbers a variant of it that was not met yet."""

    lesson: Lesson
    task: int
    reason: str
    seed: int

    @property
    def title(self) -> str:
        """The lesson and the task by their titles."""
        return f"Lesson {self.lesson.number}, {self.lesson.title}: {self.lesson.tasks[self.task - 1].title}"


def offers(tries: Sequence[Tried], lessons: Mapping[str, Lesson], now: datetime) -> tuple[Offer, ...]:
    """What is due of the lessons that are there, the most needful first."""
    return tuple(
        Offer(lessons[each.lesson], each.task, due_reason(each, now), each.goes % VARIANTS + 1)
        for each in due(tries, now)
        if _is_there(each, lessons)
    )


def nothing_due(tries: Iterable[Tried], lessons: Mapping[str, Lesson], now: datetime) -> str:
    """What is said while nothing is due: when something will be."""
    coming = [each for each in scheduled(tries, now) if _is_there(each, lessons)]
    if not coming:
        return "Nothing is due: nothing was practised yet."
    lesson = lessons[coming[0].lesson]
    return f"Nothing is due. Lesson {lesson.number}, {lesson.title}, comes back {when_words(coming[0].due, now)}."


def _is_there(each: Scheduled, lessons: Mapping[str, Lesson]) -> bool:
    return each.lesson in lessons and 1 <= each.task <= len(lessons[each.lesson].tasks)
