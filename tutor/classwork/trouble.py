"""What could not be read of all that was handed in, and whose it is as far as anybody can tell."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from tutor.classwork.owners import Owners


@dataclass(frozen=True, slots=True)
class Trouble:
    """A file, or a row of one, that could not be read: where, and the whole line that says why.

    ``learner`` is what the files of the learner it comes from are called, "" where nobody can tell; ``task`` the
    number of the task that it answers, 0 where it may be any. ``among`` are those of whom it may hold answers where it
    is a table of the class. ``path`` is where the file lay, "" where that was not kept: two files may share a source.
    """

    source: str
    line: str
    learner: str = ""
    task: int = 0
    among: tuple[str, ...] = ()
    path: str = ""

    @property
    def key(self) -> str:
        """What no trouble with another file, or another row of it, shares."""
        return f"{self.source} ({self.path})" if self.path else self.source

    @property
    def file(self) -> str:
        return file_of(self.source)

    @property
    def shared(self) -> bool:
        """Whether it may hold answers of several learners, and of each of them none."""
        return bool(self.among)

    @property
    def told(self) -> str:
        """The line, and what comes of it for those whose answers it may hold."""
        if not self.among:
            return self.line
        whose = "1 learner" if len(self.among) == 1 else f"{len(self.among)} learners"
        return f"{self.line}. It may hold answers of {whose}: what they seem to have left out stays open"

    def stored(self) -> Any:
        """The trouble as plain data."""
        kept = {"source": self.source, "path": self.path, "line": self.line}
        if self.among:
            return kept | {"among": list(self.among)}
        return kept | {"learner": self.learner, "task": self.task}


def trouble_from(key: str, stored: Any) -> Trouble:
    """The trouble that ``stored`` made plain data of. Raises KeyError, TypeError or ValueError for anything else.

    Where no source was kept the key is the source; a line may stand there by itself.
    """
    if isinstance(stored, str):
        return Trouble(key, stored)
    source, path, line = str(stored.get("source", key)), str(stored.get("path", "")), str(stored["line"])
    if "among" in stored:
        return Trouble(source, line, among=tuple(map(str, stored["among"])), path=path)
    return Trouble(source, line, str(stored["learner"]), int(stored["task"]), path=path)


def file_of(source: str) -> str:
    """The file of a source such as "answers.csv: line 3"."""
    return source.partition(": line ")[0].partition(", task ")[0]


def owned(trouble: Trouble, owners: Owners) -> Trouble | None:
    """The trouble with its learner; None where nobody can tell whose it is."""
    if trouble.learner:
        return trouble
    if trouble.shared:
        return None
    called = owners.of_name(trouble.file) or owners.of_lying(Path(trouble.path))
    owner = next(iter(called), None)
    return None if owner is None else replace(trouble, learner=owner.learner, task=owner.task)
