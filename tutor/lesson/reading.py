"""Lesson files read from disk."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from msgspec import structs

from tutor.faults import Fault
from tutor.file_reading import read_bytes
from tutor.lesson.checking import check
from tutor.lesson.lesson import Lesson, LessonText
from tutor.lesson.listing import Listed, whole_listing
from tutor.lesson.number_spans import spans
from tutor.lesson.pattern_checking import check_block
from tutor.lesson.recipe import Recipe
from tutor.lesson.recipe_reading import read_recipe
from tutor.lesson.salvaging import Salvager
from tutor.lesson.strict import Reader
from tutor.lesson.target import Target, read_target
from tutor.resources import lessons_folder
from tutor.toml_lines import key_lines
from tutor.toml_reading import read_toml
from tutor.units import Unit

LARGEST = 256 * 1024
"""Bytes; far more than a lesson needs."""


class LessonFaults(Fault):
    """Everything that is wrong with a lesson file; as a Fault it is the first of ``faults``."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = faults


def read_lesson(path: Path | str) -> Lesson:
    """The lesson in a file. Raises LessonFaults, which is a Fault, with everything that is wrong with it."""
    return _whole(*_read(Path(path)))


def check_lesson(path: Path | str) -> list[Fault]:
    """Every fault of a lesson file, each with its line and the path of its key; none when it is right."""
    return _read(Path(path))[1]


def every_lesson() -> dict[str, Lesson]:
    """All lessons, a person's own among them, by their names in the order of their numbers.

    Of a person's own those that can't be read are left out. Raises Fault for one that comes along and can't be.
    """
    found = {}
    for listed in whole_listing()[0]:
        try:
            found[listed.name] = listed.lesson
        except Fault:
            if listed.path is None:
                raise
    return found


def find_lesson(wanted: str) -> Lesson:
    """A lesson by its number, its name, words of its title, or the path of its file.

    Raises Fault when there is none such, or more than one.
    """
    if wanted.casefold().endswith(".toml"):
        return read_lesson(wanted)
    known = whole_listing()[0]
    words = wanted.casefold().strip()
    exact = [x for x in known if words in (str(x.number), x.name.casefold(), x.title.casefold())]
    hits = exact or [x for x in known if words and words in x.title.casefold()]
    if len(exact) > 1:
        # The number of one that comes along means that one, whatever numbers people give to their own.
        hits = [x for x in exact if x.path is None] or exact
    if len(hits) == 1:
        return hits[0].lesson
    if hits:
        names = ", ".join(lesson.name for lesson in hits)
        raise Fault("lesson", f'"{wanted}" fits more than one lesson', f"give the name of one: {names}")
    raise Fault("lesson", f'"{wanted}" is no lesson', _like(words, known))


def _like(words: str, known: Sequence[Listed]) -> str:
    """What is said to whoever names a lesson that isn't there: one with a like name, or the numbers."""
    names = {name.casefold(): listed.name for listed in known for name in (listed.title, listed.name)}
    near = difflib.get_close_matches(words, names, 1, 0.75)
    if near:
        return f"did you mean {names[near[0]]}?"
    return f"there are {spans(listed.number for listed in known)}; or give the path of a lesson file"


@cache
def own_lesson(name: str) -> Lesson:
    """A lesson that comes with the program, by its name. Raises LessonFaults when its file is wrong."""
    # Its patterns are tried out in the tests, and need not be each time it is read.
    return _whole(*_read(lessons_folder() / f"{name}.toml", tried=False))


def _whole(lesson: Lesson | None, faults: Sequence[Fault]) -> Lesson:
    if lesson is None or faults:
        raise LessonFaults(tuple(faults))
    return lesson


def _faults_besides(tables: Mapping[str, object], path: Path, salvager: Salvager) -> list[Fault]:
    """What is wrong with a lesson besides values that can't be read at all."""
    read = salvager.value(LessonText, tables, ())
    if not isinstance(read, LessonText):
        return []
    salvager.faults.clear()
    salvager.checking = True
    lesson = Lesson(**structs.asdict(read), name=path.stem)
    check(lesson, salvager, tried=False)
    if all(each[0] != "block" for each in salvager.blocked):
        check_block(lesson, salvager)
    return salvager.faults


def _read(path: Path, tried: bool = True) -> tuple[Lesson | None, list[Fault]]:
    """The lesson, if it can be made out, and its faults; ``tried`` drafts its block and cuts its slashes as well."""
    try:
        document = read_toml(read_bytes(path, LARGEST), path.name)
    except Fault as fault:
        return None, [fault]
    named = document.tables.get("units", "cm")
    unit = Unit(named) if named in ("cm", "in", "mm") else Unit.CM
    lines, hooks = key_lines(document.text), {Recipe: read_recipe, Target: read_target}
    reader = Reader(path.name, unit, lines, hooks)
    read = reader.read(LessonText, document.tables)
    if read is None:
        besides = _faults_besides(document.tables, path, Salvager(path.name, unit, lines, hooks))
        return None, [*reader.faults, *besides]
    lesson = Lesson(**structs.asdict(read), name=path.stem)
    check(lesson, reader, tried)
    return lesson, reader.faults
