"""Opening the record whatever lies there: what can't be read is set aside, and without a disk it goes on in memory."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from tutor.faults import printable
from tutor.locks import Locks
from tutor.record.database import Database, Trouble, ready_database
from tutor.record.schema import STEPS, Steps

NAME = "record.db"
BESIDE = ("", "-wal", "-shm")
"""What SQLite lays beside a database belongs to it: without its journal a file can lose what was last written."""
TO_SET_ASIDE = ("damaged", "foreign", "newer")


@dataclass(frozen=True, slots=True)
class Opened:
    """An open database, the locks that go with it, and what the user is to be told of it."""

    database: Database
    locks: Locks
    notices: tuple[str, ...] = ()


def open_database(folder: Path | None, steps: Steps = STEPS, *, thorough: bool = False) -> Opened:
    """The record's database in the folder, made if need be; in memory where that can't be. Raises nothing.

    ``thorough`` looks for damage that shows in use alone, which takes longer.
    """
    if folder is None:
        return _in_memory(None, "there is no home folder")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        return _in_memory(folder / NAME, getattr(error, "strerror", None) or "it is no name a folder can have")
    locks = Locks(folder / "record.lock")
    with locks.opening():
        opened = _opened(folder / NAME, steps, locks, thorough)
    return opened


def _opened(path: Path, steps: Steps, locks: Locks, thorough: bool) -> Opened:
    try:
        _check_journal(path)
        return Opened(ready_database(path, steps, thorough=thorough), locks)
    except Trouble as trouble:
        if trouble.kind not in TO_SET_ASIDE and not _is_closed_to_us(path):
            return _in_memory(path, trouble.what, steps)
        reason = trouble.what
    try:
        aside = set_aside(path)
    except OSError:
        return _in_memory(path, reason, steps)
    told = f"What was done before, in {path}, can't be read: {reason}. It is set aside as {aside.name}."
    try:
        return Opened(ready_database(path, steps), locks, (printable(f"{told} A new record is begun."),))
    except Trouble as trouble:
        opened = _in_memory(path, trouble.what, steps)
        return Opened(opened.database, opened.locks, (printable(told), *opened.notices))


def _check_journal(path: Path) -> None:
    """Raises Trouble for an empty file with a journal that is not: SQLite would delete the journal."""
    try:
        if path.stat().st_size == 0 and _beside(path, "-wal").stat().st_size > 0:
            raise Trouble("damaged", "it is empty, though its journal is not")
    except OSError:
        return


def _is_closed_to_us(path: Path) -> bool:
    """Whether something lies there that can't be read, now or later: a folder, or a file of another user."""
    try:
        with path.open("rb"):
            return False
    except (IsADirectoryError, PermissionError):
        return True
    except OSError:
        return False


def set_aside(path: Path) -> Path:
    """Renames what lies there, and what belongs to it, to the first free name, which is returned. Raises OSError."""
    names = (path.with_name(f"{path.stem}-set-aside-{number}{path.suffix}") for number in count(1))
    aside = next(name for name in names if not any(_beside(name, end).exists() for end in BESIDE))
    path.rename(aside)
    for end in BESIDE[1:]:
        with contextlib.suppress(FileNotFoundError):
            _beside(path, end).rename(_beside(aside, end))
    return aside


def _beside(path: Path, end: str) -> Path:
    return path.with_name(path.name + end)


def _in_memory(path: Path | None, reason: str, steps: Steps = STEPS) -> Opened:
    """A database in memory, which begins with what the file holds if that can be read at least."""
    place = "" if path is None else f" in {path.parent}"
    notice = f"Nothing can be kept{place}: {reason}. You can practise, but what you do is gone when you leave."
    database = (path and _copied(path, steps)) or ready_database(None, steps)
    return Opened(database, Locks(), (printable(notice),))


def _copied(path: Path, steps: Steps) -> Database | None:
    try:
        with tempfile.TemporaryDirectory() as folder:
            for end in ("", "-wal"):
                if _beside(path, end).exists():
                    shutil.copyfile(_beside(path, end), Path(folder, NAME + end))
            if not Path(folder, NAME).exists():
                return None
            there = ready_database(Path(folder, NAME), steps)
            try:
                return there.in_memory()
            finally:
                there.close()
    except (OSError, Trouble):
        return None
