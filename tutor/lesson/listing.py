"""The lessons that come with the program, as far as a list of them needs: read at once, without the engine.

A list is the first thing on the screen, and to read a lesson whole takes the engine. Of each file only the keys before
its first table are read here, where TOML has everything that a list shows; of the chosen one what it is about as well.
The lesson itself is read when it is opened.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tutor.faults import Fault
from tutor.file_reading import file_fault
from tutor.lesson.setting import Arm
from tutor.lesson.strict import Reader
from tutor.lesson.wording import worded
from tutor.resources import lessons_folder
from tutor.settings import lessons_of_ones_own
from tutor.toml_reading import read_toml
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson

_TABLE = re.compile(r"^[ \t]*\[", re.MULTILINE)
_TASK = re.compile(r"^[ \t]*\[\[[ \t]*tasks[ \t]*\]\]", re.MULTILINE)

UNUSUAL = (Fault, KeyError, TypeError, ValueError)
"""What reading quickly raises for a file that is wrong, or right in some way that only the whole reading knows."""


@dataclass(frozen=True, slots=True)
class About:
    """What a lesson is about, in the learner's unit: its brief by paragraphs, and the titles of its tasks."""

    brief: tuple[str, ...]
    tasks: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Listed:
    """A lesson in a list: its file's name without the ending, its number, title, part and version.

    ``after`` are the numbers of the lessons it builds on. ``source`` is the text of its file, or the lesson where that
    is read already; ``path`` is its file, for a lesson that does not come with the program.
    """

    name: str
    number: int
    title: str
    part: str
    version: int
    task_count: int
    after: tuple[int, ...]
    source: str | Lesson
    path: Path | None = None

    @classmethod
    def of(cls, lesson: Lesson, path: Path | None = None) -> Listed:
        """A lesson that is read already."""
        head = (lesson.name, lesson.number, lesson.title, lesson.part, lesson.version)
        return cls(*head, lesson.task_count, lesson.after, lesson, path)

    @cached_property
    def lesson(self) -> Lesson:
        """The whole lesson. Raises LessonFaults, which is a Fault, when its file is wrong."""
        from tutor.lesson.reading import own_lesson, read_lesson

        if not isinstance(self.source, str):
            return self.source
        return own_lesson(self.name) if self.path is None else read_lesson(self.path)

    def about(self, unit: Unit) -> About:
        """What it is about. Raises Fault when its file is wrong."""
        if unit not in self._abouts:
            self._abouts[unit] = self._told(unit)
        return self._abouts[unit]

    @cached_property
    def _abouts(self) -> dict[Unit, About]:
        return {}

    def _told(self, unit: Unit) -> About:
        if isinstance(self.source, str):
            try:
                return _about(self._tables, unit)
            except UNUSUAL:
                pass
        lesson = self.lesson
        brief = tuple(worded(text, lesson.arm, unit) for text in lesson.brief)
        return About(brief, tuple(task.title for task in lesson.tasks))

    @cached_property
    def _tables(self) -> dict[str, Any]:
        assert isinstance(self.source, str)
        return tomllib.loads(self.source)


@cache
def own_listing() -> tuple[Listed, ...]:
    """The lessons that come with the program, by their numbers. Raises Fault for a file that can't be listed."""
    found = [_listed(path) for path in lessons_folder().glob("*.toml")]
    return tuple(sorted(found, key=lambda lesson: (lesson.number, lesson.name)))


def whole_listing() -> tuple[tuple[Listed, ...], tuple[Fault, ...]]:
    """The lessons that come with the program and a person's own, by number; and the faults of what can't be read.

    One of a person's own that has the file name of one that comes along takes its place.
    """
    lessons, faults = {lesson.name: lesson for lesson in own_listing()}, list[Fault]()
    folder = lessons_of_ones_own()
    try:
        paths = sorted(folder.glob("*.toml")) if folder is not None and folder.is_dir() else []
    except OSError as error:
        faults.append(file_fault(str(folder), error))
        paths = []
    for path in paths:
        try:
            lessons[path.stem] = _own(path)
        except Fault as fault:
            faults.append(fault)
    return tuple(sorted(lessons.values(), key=lambda lesson: (lesson.number, lesson.name))), tuple(faults)


def _own(path: Path) -> Listed:
    try:
        return replace(_by_head(path.stem, read_toml(path).text), path=path)
    except UNUSUAL:
        from tutor.lesson.reading import read_lesson

        return Listed.of(read_lesson(path), path)


def _listed(path: Path) -> Listed:
    try:
        return _by_head(path.stem, path.read_text(encoding="utf-8"))
    except (OSError, *UNUSUAL):
        from tutor.lesson.reading import own_lesson

        return Listed.of(own_lesson(path.stem))


def _by_head(name: str, text: str) -> Listed:
    """A lesson by the keys before its first table. Raises one of UNUSUAL where they are not as usual."""
    table = _TABLE.search(text)
    head = tomllib.loads(text[: table.start()] if table else text)
    kinds = {"title": str, "part": str, "number": int, "version": int}
    given = {"part": "", "version": 1, "after": [], **head}
    if any(type(given[key]) is not kind for key, kind in kinds.items()):
        raise TypeError(name)
    after = given["after"]
    if not isinstance(after, list) or any(type(number) is not int for number in after):
        raise TypeError("after")
    tasks = len(_TASK.findall(text))
    if not tasks or "tasks" in head:
        raise KeyError("tasks")
    return Listed(name, given["number"], given["title"], given["part"], given["version"], tasks, tuple(after), text)


def _about(tables: Mapping[str, Any], unit: Unit) -> About:
    """What a lesson is about, by its tables. Raises one of UNUSUAL where they are not as usual."""
    arm = Reader("", Unit(tables.get("units", "cm"))).read(Arm, tables["arm"])
    brief, titles = tables["brief"], tuple(task["title"] for task in tables["tasks"])
    if arm is None or not all(isinstance(text, str) for text in (*brief, *titles)):
        raise TypeError("brief")
    return About(tuple(worded(text, arm, unit) for text in brief), titles)
