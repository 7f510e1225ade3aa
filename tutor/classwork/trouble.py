"""What could not be read of all that was handed in, and whose it is as far as anybody can tell."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from tutor.classwork.owners import Owners


@dataclass(frozen=True, slots=True)
class Trouble:
    """A file, or a row of one, that could not be read: where, and the whole line that says why.

    ``learner`` is what the files of the learner it comes from are called, "" where nobody can tell; ``task`` the
    number of the task that it answers, 0 where it may be any. ``among`` are those of whom it may hold answers where it
    is a table of the class, and ``path`` is then where it lay.
    """

    source: str
    line: str
    learner: str = ""
    task: int = 0
    among: tuple[str, ...] = ()
    path: str = ""

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
        """The trouble, but for its source, as plain data."""
        if self.among:
            return {"line": self.line, "among": list(self.among), "path": self.path}
        return {"line": self.line, "learner": self.learner, "task": self.task} if self.learner else self.line


def trouble_from(source: str, stored: Any) -> Trouble:
    """The trouble that ``stored`` made plain data of. Raises KeyError, TypeError or ValueError for anything else."""
    if isinstance(stored, str):
        return Trouble(source, stored)
    if "among" in stored:
        among = tuple(map(str, stored["among"]))
        return Trouble(source, str(stored["line"]), among=among, path=str(stored["path"]))
    return Trouble(source, str(stored["line"]), str(stored["learner"]), int(stored["task"]))


def file_of(source: str) -> str:
    """The file of a source such as "answers.csv: line 3"."""
    return source.partition(": line ")[0].partition(", task ")[0]


def owned(trouble: Trouble, owners: Owners) -> Trouble | None:
    """The trouble with its learner; None where nobody can tell whose it is."""
    if trouble.learner:
        return trouble
    if trouble.shared:
        return None
    owner = next(iter(owners.of_name(trouble.file)), None)
    return None if owner is None else replace(trouble, learner=owner.learner, task=owner.task)
