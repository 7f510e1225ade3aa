"""Whether a lesson fits among the others: a number that is free, and lessons to build on that there are."""

from __future__ import annotations

import itertools
from pathlib import Path

from tutor.faults import Fault
from tutor.lesson.listing import whole_listing
from tutor.lesson.number_spans import spans
from tutor.lesson.reading import read_lesson
from tutor.lesson.strict import Reader
from tutor.settings import lessons_of_ones_own
from tutor.toml_lines import key_lines
from tutor.toml_reading import read_toml


def elsewhere(path: Path) -> list[Fault]:
    """What is wrong with a right lesson file beside the lessons that come along and a person's own.

    One that has the file name of another takes its place. Of lessons that lie beside the file, in no list yet, nothing
    is known but their being there: where there are any, what is built on is not looked for.
    """
    lesson, listed = read_lesson(path), whole_listing()[0]
    reader = Reader(path.name, lesson.unit, key_lines(read_toml(path).text))
    others = [each for each in listed if each.name != lesson.name]
    taken = next((each for each in others if each.path is None and each.number == lesson.number), None)
    # A copy that still has its title is one that is about to be changed.
    if taken is not None and taken.title != lesson.title:
        free = next(number for number in itertools.count(101) if all(each.number != number for each in listed))
        reader.fault(
            ("number",), f"{lesson.number} is the lesson {taken.title}", f"take one that is free, such as {free}"
        )
    folder = lessons_of_ones_own()
    is_listed = folder is not None and path.resolve().parent == folder.resolve()
    beside = not is_listed and any(each.name != path.name for each in path.parent.glob("*.toml"))
    for place, number in enumerate(lesson.after):
        if not beside and all(each.number != number for each in others):
            there = spans(each.number for each in others)
            reader.fault(("after", place), f"{number} is no lesson that there is", f"there are {there}")
    return reader.faults
