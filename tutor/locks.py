"""What is in use, told between processes by locks on single bytes of a file, which end with their process."""

from __future__ import annotations

import contextlib
import os
import sys
import time
import zlib
from collections.abc import Iterator
from pathlib import Path

OPENING = 0
"""The byte that is held while the record is opened."""
LONGEST = 3.0
"""Seconds that another tutor's opening is waited for."""


class Locks:
    """Locks on bytes of a file; without a path, or where the system has no locks, everything is free."""

    def __init__(self, path: Path | None = None) -> None:
        self._held: set[int] = set()
        self._file = -1
        if path is not None:
            with contextlib.suppress(OSError):
                self._file = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o666)

    def take(self, name: str) -> bool:
        """Holds the lock of that name until the end. False when another process holds it."""
        byte = _byte(name)
        if byte not in self._held:
            if not self._lock(byte):
                return False
            self._held.add(byte)
        return True

    @contextlib.contextmanager
    def opening(self) -> Iterator[None]:
        """Lets one tutor at a time open the record; after a while it goes on all the same."""
        end = time.monotonic() + LONGEST
        while not (held := self._lock(OPENING)) and time.monotonic() < end:
            time.sleep(0.01)
        try:
            yield
        finally:
            if held:
                self._unlock(OPENING)

    @contextlib.contextmanager
    def holding(self, name: str, longest: float) -> Iterator[bool]:
        """Holds the lock of that name meanwhile, waiting for it up to so many seconds; False when it was not to be had.

        Within one process it may be held only once at a time.
        """
        byte = _byte(name)
        end = time.monotonic() + longest
        while not (held := self._lock(byte)) and time.monotonic() < end:
            time.sleep(0.01)
        try:
            yield held
        finally:
            if held:
                self._unlock(byte)

    def close(self) -> None:
        """Ends all locks."""
        if self._file >= 0:
            os.close(self._file)
        self._file = -1
        self._held.clear()

    def _lock(self, byte: int) -> bool:
        if self._file < 0:
            return True
        try:
            _lock_byte(self._file, byte)
        except (BlockingIOError, PermissionError):
            return False
        except OSError:
            return True
        return True

    def _unlock(self, byte: int) -> None:
        if self._file >= 0:
            with contextlib.suppress(OSError):
                _unlock_byte(self._file, byte)


def _byte(name: str) -> int:
    return 1 + zlib.crc32(name.encode("utf-8", "surrogatepass")) % 2**30


if sys.platform == "win32":
    import msvcrt

    def _lock_byte(file: int, byte: int) -> None:
        os.lseek(file, byte, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)

    def _unlock_byte(file: int, byte: int) -> None:
        os.lseek(file, byte, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _lock_byte(file: int, byte: int) -> None:
        fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, byte)

    def _unlock_byte(file: int, byte: int) -> None:
        fcntl.lockf(file, fcntl.LOCK_UN, 1, byte)
