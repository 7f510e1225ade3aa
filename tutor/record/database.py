"""The database file, and all that the program knows of SQLite."""

from __future__ import annotations

import contextlib
import sqlite3
import threading
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Literal

from tutor.record.schema import APPLICATION, STEPS, Steps

Kind = Literal["damaged", "foreign", "newer", "busy", "unusable"]
"""What is the matter: the first three with the file itself, the others with the moment or with the disk."""

WAIT = 0.4
"""Seconds that another writer is waited for; they take a few thousandths."""

_KINDS: dict[str, tuple[Kind, str]] = {
    "SQLITE_NOTADB": ("damaged", "it is no database"),
    "SQLITE_CORRUPT": ("damaged", "it is damaged"),
    "SQLITE_BUSY": ("busy", "another program holds it locked"),
    "SQLITE_LOCKED": ("busy", "another program holds it locked"),
    "SQLITE_CANTOPEN": ("unusable", "it can't be opened"),
    "SQLITE_FULL": ("unusable", "the disk is full"),
    "SQLITE_READONLY": ("unusable", "it can't be written to"),
    "SQLITE_PERM": ("unusable", "it can't be written to"),
    "SQLITE_IOERR": ("unusable", "the disk can't be read or written"),
}


class Trouble(Exception):
    """A database that can't be used now, or at all; ``what`` says why in a few words."""

    def __init__(self, kind: Kind, what: str) -> None:
        self.kind = kind
        self.what = what
        super().__init__(kind, what)


class Database:
    """An open database; in memory without a path. Every method raises Trouble, and nothing else, for what goes wrong.

    Several threads may share it.
    """

    def __init__(self, path: Path | None = None) -> None:
        self.lock = threading.RLock()
        with _telling():
            self._connection = sqlite3.connect(
                ":memory:" if path is None else path, timeout=WAIT, isolation_level=None, check_same_thread=False
            )

    def rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        with self.lock, _telling():
            return self._connection.execute(sql, values).fetchall()

    def run(self, sql: str, *values: object) -> int:
        """Carries out a statement, and returns the number of rows that it changed."""
        with self.lock, _telling():
            return self._connection.execute(sql, values).rowcount

    def run_each(self, sql: str, rows: Iterable[tuple[object, ...]]) -> None:
        """Carries out a statement once for each of the rows."""
        with self.lock, _telling():
            self._connection.executemany(sql, rows)

    def insert(self, sql: str, *values: object) -> int:
        """Carries out an INSERT, and returns the new row's id."""
        with self.lock, _telling():
            return self._connection.execute(sql, values).lastrowid or 0

    @contextlib.contextmanager
    def transaction(self) -> Iterator[None]:
        """All that is done within is written when it ends, or none of it when an exception leaves it."""
        with self.lock:
            self.run("BEGIN IMMEDIATE")
            try:
                yield
                self.run("COMMIT")
            except BaseException:
                with contextlib.suppress(sqlite3.Error):
                    self._connection.rollback()
                raise

    def wait(self, seconds: float) -> None:
        """Sets how long another writer is waited for."""
        self.run(f"PRAGMA busy_timeout = {round(1000 * seconds)}")

    @property
    def version(self) -> int:
        return int(self.rows("PRAGMA user_version")[0][0])

    def in_memory(self) -> Database:
        """A copy of the whole in memory."""
        copy = Database()
        with self.lock, _telling():
            self._connection.backup(copy._connection)
        return copy

    def close(self) -> None:
        with self.lock, contextlib.suppress(sqlite3.Error):
            self._connection.close()


def ready_database(path: Path | None = None, steps: Steps = STEPS, *, thorough: bool = False) -> Database:
    """The database at the path, begun if there is none, brought up to the newest version, and found sound.

    Raises Trouble.
    """
    database = Database(path)
    try:
        # Nothing is written before the file is known to be ours and sound.
        _check_whose(database, len(steps))
        _check_sound(database, "integrity_check" if thorough else "quick_check")
        _check_layout(database, steps[: database.version])
        # After a kill of this process nothing is lost: what was written is with the system. A loss of power can take
        # the last writings with it, but leaves the file sound; waiting for the disk at every key would be felt.
        database.rows("PRAGMA journal_mode = WAL")
        database.run("PRAGMA synchronous = NORMAL")
        database.run("PRAGMA foreign_keys = OFF")
        migrate(database, steps)
        database.run("PRAGMA foreign_keys = ON")
        # A file that can only be read lets itself be known by this.
        database.run(f"PRAGMA user_version = {len(steps)}")
    except BaseException:
        database.close()
        raise
    return database


def migrate(database: Database, steps: Steps) -> None:
    """Takes the steps that the database still lacks, each wholly or not at all."""
    while (version := database.version) < len(steps):
        with database.transaction():
            if database.version == version:
                for statement in steps[version]:
                    database.run(statement)
                database.run(f"PRAGMA user_version = {version + 1}")


def _check_whose(database: Database, newest: int) -> None:
    version = database.version
    owner = int(database.rows("PRAGMA application_id")[0][0])
    begun = version or owner or database.rows("SELECT 1 FROM sqlite_schema LIMIT 1")
    if begun and owner != APPLICATION:
        raise Trouble("foreign", "it was made by another program")
    if version > newest:
        raise Trouble("newer", "it was made by a newer sleeve-tutor")


def _check_sound(database: Database, check: str) -> None:
    if database.rows(f"PRAGMA {check}(1)") != [("ok",)]:
        raise Trouble("damaged", "it is damaged")


def _check_layout(database: Database, steps: Steps) -> None:
    """Raises Trouble where a table, an index or a trigger that the steps make is missing or made otherwise."""
    fresh = Database()
    migrate(fresh, steps)
    laid_out = "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL"
    missing = set(fresh.rows(laid_out)) - set(database.rows(laid_out))
    fresh.close()
    if missing:
        raise Trouble("damaged", "it lacks some of its tables")


@contextlib.contextmanager
def _telling() -> Iterator[None]:
    """Makes Trouble of what SQLite raises."""
    try:
        yield
    except sqlite3.Error as error:
        raise _trouble(error) from error
    except UnicodeDecodeError as error:
        # What SQLite says of a damaged file has bytes of it in it.
        raise Trouble("damaged", "it is damaged") from error


def _trouble(error: sqlite3.Error) -> Trouble:
    name = getattr(error, "sqlite_errorname", "")
    for start, (kind, what) in _KINDS.items():
        if name.startswith(start):
            return Trouble(kind, what)
    if not name and str(error).startswith("Could not decode"):
        return Trouble("damaged", "it is damaged")
    return Trouble("unusable", str(error))
