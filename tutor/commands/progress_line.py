"""How far long work has come, told on standard error: in one line that changes, or now and then where there is no
terminal."""

from __future__ import annotations

import sys
import time

from tutor.faults import printable

PAUSE = 0.1
"""Seconds between two changes of the line on a terminal."""
LONG_PAUSE = 5.0
"""Seconds between two lines elsewhere."""
WIDTH = 60


class ProgressLine:
    """Counts steps of a work; ``total`` is None where nobody knows how many there will be."""

    def __init__(self, what: str, total: int | None = None) -> None:
        self._what = what
        self._total = total
        self._count = 0
        self._terminal = sys.stderr is not None and sys.stderr.isatty()
        self._told = time.monotonic()
        self._shown = False

    def step(self, name: str) -> None:
        """Counts one more, which is called ``name``."""
        self._count += 1
        pause = PAUSE if self._terminal else LONG_PAUSE
        now = time.monotonic()
        if now - self._told >= pause:
            self._told = now
            self._tell(name)

    def done(self) -> None:
        """Takes the line away."""
        if self._terminal and self._shown:
            print("\r" + " " * (WIDTH + 20), end="\r", file=sys.stderr, flush=True)

    def _tell(self, name: str) -> None:
        count = f"{self._count}" if self._total is None else f"{self._count} of {self._total}"
        line = f"{self._what} {count}: {printable(name)}"[: WIDTH + 15]
        self._shown = True
        if self._terminal:
            print(f"\r{line:<{WIDTH + 15}}", end="", file=sys.stderr, flush=True)
        else:
            print(line, file=sys.stderr, flush=True)
