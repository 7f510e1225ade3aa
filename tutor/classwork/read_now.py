"""What one run has read and marked, and which troubles of earlier runs it has put an end to."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath

from tutor.classwork.learner import Learner
from tutor.classwork.owners import Owners
from tutor.classwork.trouble import Trouble, owned


@dataclass(slots=True)
class ReadNow:
    """Files read in a run, answers that stand marked after it, and learners of whom nothing is left to be read.

    The latter are those who have a form or a row newly marked, or an answer to every task. Of a table of the class that
    could not be read nothing is left for those who have a row newly marked, or an answer to every task, and for nobody
    once it is gone from where it lay.
    """

    owners: Owners
    _files: dict[str, set[PurePosixPath]] = field(default_factory=dict)
    _places: set[str] = field(default_factory=set)
    _marked: set[tuple[str, int]] = field(default_factory=set)
    _whole: set[str] = field(default_factory=set)
    _in_rows: set[str] = field(default_factory=set)

    def read(self, file: str, place: str) -> None:
        """Notes that a file was read, or told anew why it can't be: what it is called, and where it lies."""
        path = PurePosixPath(file)
        self._files.setdefault(path.name, set()).add(path)
        self._places.add(place)

    def marked(self, learner: Learner, tasks: Iterable[int], *, whole: bool, form: bool, row: bool) -> None:
        """Notes which answers of a learner stand marked: ``whole``: all; some of a ``form`` or ``row`` are new."""
        self._marked.update((learner.file, task) for task in tasks)
        if whole or form or row:
            self._whole.add(learner.file)
        if whole or row:
            self._in_rows.add(learner.file)

    def left(self, trouble: Trouble, tasks: Collection[int]) -> Trouble | None:
        """What is left of what could not be read before; None once it is read, or another answer marked in its place.

        ``tasks`` are those of the homework; a trouble with any other may be one with each of them.
        """
        theirs = owned(trouble, self.owners) or trouble
        if self._has_read(theirs):
            return None
        if trouble.shared:
            among = tuple(learner for learner in trouble.among if learner not in self._in_rows)
            return replace(trouble, among=among) if among and not self.is_gone(trouble) else None
        if theirs.task in tasks:
            return None if (theirs.learner, theirs.task) in self._marked else trouble
        return None if theirs.learner in self._whole else trouble

    def is_gone(self, trouble: Trouble) -> bool:
        """Whether a table that could not be read was taken away."""
        return trouble.shared and bool(trouble.path) and not os.path.lexists(trouble.path)

    def _has_read(self, trouble: Trouble) -> bool:
        """Whether the very file was read, from whichever folder it was given.

        Where nobody knows where it lay, or it lies there no more, it is known by its learner's name or its way.
        """
        if trouble.path and (trouble.path in self._places or os.path.lexists(trouble.path)):
            return trouble.path in self._places
        old = PurePosixPath(trouble.file)
        files = self._files.get(old.name, set())
        if files and any(owner.learner == trouble.learner for owner in self.owners.of_name(old.name)):
            return True
        return any(_is_part(old.parts, new.parts) or _is_part(new.parts, old.parts) for new in files)


def _is_part(short: tuple[str, ...], long: tuple[str, ...]) -> bool:
    """Whether one path is the end of another."""
    return bool(short) and long[-len(short) :] == short
