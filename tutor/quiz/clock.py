"""The time a quiz takes, by clocks that nobody can set, and by the computer's own where there is no other.

Within one run of the program, and on Linux within one start of the computer, time is measured by a clock that runs
evenly whatever the date is set to. Only from one start of the computer to the next it goes by the date; a date that was
set back meanwhile then counts as no time at all, and is told.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from tutor.quiz.spec import Pauses

NOTICED = 5.0
"""Seconds by which the date has to differ from the even clock before that is told."""
_BOOT = Path("/proc/sys/kernel/random/boot_id")


def _date() -> float:
    return time.time()


def _even() -> float:
    """Seconds of a clock that nobody sets, and that runs on while the computer sleeps where the system has such."""
    for name in ("CLOCK_BOOTTIME", "CLOCK_MONOTONIC"):
        number = getattr(time, name, None)
        if number is not None and sys.platform != "win32":
            return time.clock_gettime(number)
    return time.monotonic()


def _start() -> str:
    """What tells one start of the computer from another; nothing where the system does not say."""
    try:
        return _BOOT.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""


@dataclass(frozen=True, slots=True)
class Times:
    """Where the time is from: the date in seconds since 1970, an even clock, one that sleeps along, the start."""

    date: Callable[[], float] = _date
    even: Callable[[], float] = _even
    awake: Callable[[], float] = time.monotonic
    start: Callable[[], str] = _start


@dataclass(slots=True)
class Clock:
    """How long a quiz has been under way: ``elapsed`` seconds since it began, ``open`` of them with the quiz open.

    ``set_back`` is how far the date was found set back meanwhile. Times are looked at when ``look`` is called.
    """

    limit: float | None = None
    pauses: Pauses = "count"
    times: Times = field(default_factory=Times)
    elapsed: float = 0.0
    open: float = 0.0
    set_back: float = 0.0
    begun: float = 0.0
    _date: float = 0.0
    _even: float = 0.0
    _awake: float = 0.0
    _start: str = ""

    @classmethod
    def started(cls, minutes: int | None, pauses: Pauses, times: Times | None = None) -> Clock:
        """A clock that begins now."""
        clock = cls(None if minutes is None else 60.0 * minutes, pauses, times or Times())
        clock._now()
        clock.begun = clock._date
        return clock

    def look(self) -> None:
        """Takes the time that has gone by since the last look."""
        date, even, awake = self._date, self._even, self._awake
        self._now()
        gone = max(self._even - even, 0.0)
        self.elapsed += gone
        self.open += min(max(self._awake - awake, 0.0), gone)
        self._tell_set_back(gone - (self._date - date))

    @property
    def used(self) -> float:
        """The seconds that count against the limit."""
        return self.elapsed if self.pauses == "count" else self.open

    @property
    def left(self) -> float | None:
        """The seconds that are left, none below 0; None without a limit."""
        return None if self.limit is None else max(self.limit - self.used, 0.0)

    @property
    def is_up(self) -> bool:
        return self.left == 0

    def stored(self) -> dict[str, Any]:
        """The clock as a plain table."""
        return {
            "elapsed": self.elapsed,
            "open": self.open,
            "set-back": self.set_back,
            "begun": self.begun,
            "date": self._date,
            "even": self._even,
            "start": self._start,
        }

    def resume(self, stored: Mapping[str, Any]) -> None:
        """Goes on from what ``stored`` gave, the pause since then taken in. Raises as a table out of shape does."""
        self.elapsed, self.open, self.set_back = (float(stored[key]) for key in ("elapsed", "open", "set-back"))
        self.begun = float(stored["begun"])
        date, even, start = float(stored["date"]), float(stored["even"]), str(stored["start"])
        self._now()
        gone = self._date - date
        if start and start == self._start:
            gone = self._even - even
            self._tell_set_back(gone - (self._date - date))
        elif gone < 0:
            self._tell_set_back(-gone)
        self.elapsed += max(gone, 0.0)

    def _tell_set_back(self, by: float) -> None:
        if by > NOTICED:
            self.set_back += by

    def _now(self) -> None:
        times = self.times
        self._date, self._even, self._awake = times.date(), times.even(), times.awake()
        self._start = times.start()


def iso(seconds: float) -> str:
    """A date in seconds since 1970 as text, in UTC. Raises ValueError or OverflowError beyond all dates."""
    return datetime.fromtimestamp(seconds, UTC).isoformat(timespec="seconds")


def spell(seconds: float) -> str:
    """A stretch of time in words: "50 s", "29 min", "1 h 5 min"."""
    whole = int(seconds)
    if whole < 60:
        return f"{whole} s"
    minutes, hours = whole // 60 % 60, whole // 3600
    if not hours:
        rest = whole % 60
        return f"{minutes} min {rest} s" if rest and minutes < 5 else f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"
