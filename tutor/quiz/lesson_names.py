"""Which lessons a quiz is to be about, as people write it: "4, 6-8", names of lessons, or all that come along."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import own_listing
from tutor.lesson.number_spans import spans

ALL = "all"
_SPAN = re.compile(r"(\d{1,4})\s*-\s*(\d{1,4})")
WHERE = "lessons"


def lessons_named(text: str, lessons: Mapping[str, Lesson]) -> tuple[str, ...]:
    """The names of the lessons that a text means, in their order and each once. Raises Fault for what means none."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        raise Fault(WHERE, "names none", f"write such as {_example(lessons)}, or {ALL}")
    found = {name for part in parts for name in _meant(part, lessons)}
    return tuple(name for name in lessons if name in found)


def _meant(part: str, lessons: Mapping[str, Lesson]) -> Iterator[str]:
    known = list(lessons.values())
    words = part.casefold()
    if words == ALL:
        come_along = {lesson.name for lesson in own_listing()}
        hits = [lesson for lesson in known if lesson.name in come_along] or known
    elif match := _SPAN.fullmatch(part):
        first, last = int(match[1]), int(match[2])
        hits = [lesson for lesson in known if first <= lesson.number <= last]
    else:
        hits = [x for x in known if words in (str(x.number), x.name.casefold(), x.title.casefold())]
    if not hits:
        raise Fault(WHERE, f'"{part[:40]}" is no lesson', f"there are {spans(each.number for each in known)}")
    return (lesson.name for lesson in hits)


def _example(lessons: Mapping[str, Lesson]) -> str:
    numbers = sorted(lesson.number for lesson in lessons.values())
    return f"{numbers[0]}-{numbers[-1]}" if len(numbers) > 1 else str(numbers[0])
