"""Whose a file is by its name: ``anouk.toml`` is Anouk's form, ``anouk-2.svg`` Anouk's answer to task 2.

One name may say two things: where the class has both an Anna and an Anna 2, ``anna-2`` may be either's. Then the folder
tells, or what a TOML file is; failing both, a drawing or a table is an answer, and any other file that learner's whose
name it is exactly.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from tutor.classwork.learner import Learner, file_key, key_of
from tutor.classwork.safe_files import read_plain
from tutor.faults import Fault

LARGEST = 256 * 1024
"""Bytes of a TOML file that are looked into."""
_ANSWER = re.compile(r"(?P<file>.+?)-(?P<task>\d{1,3})(?:-pattern)?", re.ASCII)
_FORM = re.compile(rb"^\s*(?:(?:learner|answers)\s*=|\[\[?\s*answers\b)", re.MULTILINE)
_PLAN = re.compile(rb"^\s*\[\[\s*(?:slash|opening)\s*\]\]", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Owner:
    """A learner, by what their files are called, and the number of the task that a file answers; 0 if it tells none."""

    learner: str
    task: int = 0


class Owners:
    """Tells the learners of a class by the names of their files."""

    def __init__(self, learners: Iterable[Learner] = ()) -> None:
        self._names = {learner.file: learner.name for learner in learners}
        self._by_key = {file_key(file): file for file in self._names}
        self._files = {key_of(name): file for file, name in self._names.items()}

    @property
    def everybody(self) -> tuple[str, ...]:
        """What the files of all learners are called."""
        return tuple(self._names)

    def has_any(self, names: Iterable[str]) -> bool:
        """Whether one of the names is a learner's."""
        return any(map(self.file_of, names))

    def file_of(self, name: str) -> str:
        """What the files of a learner are called; "" for somebody who is not in the class."""
        return self._files.get(key_of(name), "")

    def name_of(self, file: str) -> str | None:
        """The learner whose files are called so, however a system has written it."""
        return self._names.get(self._called(file))

    def of_name(self, name: str, folder: str = "") -> tuple[Owner, ...]:
        """Those whose file it may be by its name and folder, the likeliest first."""
        path = Path(file_key(name))
        stem = path.name.partition(".")[0].strip()
        found = [Owner(self._called(stem))] if self._called(stem) else []
        match = _ANSWER.fullmatch(stem)
        if match and self._called(match["file"]):
            found.append(Owner(self._called(match["file"]), int(match["task"])))
        here = [owner for owner in found if owner.learner == self.in_folder(folder or path.parent.name)]
        if path.suffix in (".svg", ".csv"):
            found.reverse()
        return tuple(here or found)

    def of_lying(self, path: Path) -> tuple[Owner, ...]:
        """Those whose file it may be by its name, or failing that by the folder in which it lies."""
        folder = self.in_folder(path.parent.name)
        return self.of_name(path.name, path.parent.name) or ((Owner(folder),) if folder else ())

    def in_folder(self, name: str) -> str:
        """By their files, the learner whose folder is called so; "" for anybody else's."""
        return self._called(name)

    def _called(self, file: str) -> str:
        return self._by_key.get(file_key(file), "")

    def of_file(self, path: Path) -> tuple[Owner, ...]:
        """Those as whose a file is called; a TOML file is looked into, as a form answers more than one task."""
        found = self.of_name(path.name, path.parent.name)
        if not found or path.suffix.casefold() != ".toml":
            return found
        try:
            content = read_plain(path, LARGEST, path.name)
        except Fault:
            return found
        if _FORM.search(content):
            return tuple(owner for owner in found if not owner.task) or tuple(replace(each, task=0) for each in found)
        if _PLAN.search(content):
            return tuple(owner for owner in found if owner.task) or found
        return found
