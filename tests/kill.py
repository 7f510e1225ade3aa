"""Kills a tutor that keeps saving, with SIGKILL and at random moments, and looks each time at what is left.

    python tests/kill.py [KILLS] [SEED]

prints, as JSON, how often it killed, how many saves were acknowledged, and how many kills came in the middle of
writing; it ends with an AssertionError if a kill lost anything: an acknowledged save that does not come back in full,
an attempt that is not in the log, or a file that SQLite's own integrity_check finds broken.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import struct
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import NoReturn

from record_driving import easy_lesson, edited, try_edit

from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.record import open_record
from tutor.units import Unit

LONGEST_LIFE = 0.12
"""Seconds; opening the record and coming back to a session take a few hundredths of them."""
FRESH_AFTER = 20
"""Kills after which everything begins anew, so that the first writings are hit as well."""
NUMBER = struct.Struct("<q")


@dataclass(slots=True)
class Tally:
    """What was done so far; ``unheard`` are saves that were on disk, but not acknowledged, when the kill came."""

    kills: int = 0
    acknowledged: int = 0
    unheard: int = 0
    before_first: int = 0
    attempts: int = 0
    notices: list[str] = field(default_factory=list)


def keep_saving(lesson: Lesson, folder: Path, pipe: int) -> NoReturn:
    """Comes back to the lesson, makes one edit after the other, and sends the number of each that was saved."""
    record = open_record(folder)
    session, screen = record.resume(lesson)
    if session is None or screen is None:
        session, screen = Session(lesson, Unit.CM), {"edit": 0}
    number = int(screen["edit"])
    while True:
        number += 1
        try_edit(session, number)
        if not record.save(session, {"edit": number}):
            os._exit(3)
        os.write(pipe, NUMBER.pack(number))


def lived(lesson: Lesson, folder: Path, seconds: float) -> int | None:
    """Lets a process keep saving for so long and kills it; the last number it sent, or None."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            keep_saving(lesson, folder, writing)
        finally:
            os._exit(4)
    os.close(writing)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), f"the process ended by itself: {os.waitstatus_to_exitcode(status)}"
    with open(reading, "rb") as pipe:
        sent = pipe.read()
    whole = len(sent) // NUMBER.size * NUMBER.size
    return NUMBER.unpack_from(sent, whole - NUMBER.size)[0] if whole else None


def check_sound(path: Path) -> None:
    """SQLite's own check, on the file as the kill left it."""
    if path.exists():
        database = sqlite3.connect(path)
        found = database.execute("PRAGMA integrity_check").fetchall()
        assert found == [("ok",)], found
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        database.close()


def kill_once(lesson: Lesson, folder: Path, mirror: Session, done: int, seconds: float, tally: Tally) -> int:
    """One life and its end. ``mirror`` has made all edits up to ``done``; returns how many there are now."""
    heard = lived(lesson, folder, seconds)
    tally.kills += 1
    tally.before_first += heard is None
    acknowledged = done if heard is None else heard
    check_sound(folder / "record.db")
    with open_record(folder) as record:
        session, screen = record.resume(lesson)
        logged = record.attempts()
        assert not record.notice, record.notice
    reached = 0 if screen is None else int(screen["edit"])
    assert acknowledged <= reached <= acknowledged + 1, (acknowledged, reached)
    edited(mirror, done + 1, reached)
    assert (session or Session(lesson, Unit.CM)).dump() == mirror.dump()
    made = [attempt.given for attempt in mirror.attempts(2)]
    assert [attempt.given for attempt in logged] == made
    tally.acknowledged += acknowledged - done
    tally.unheard += reached - acknowledged
    return reached


def kill_often(kills: int, seed: int) -> Tally:
    chance, tally = random.Random(seed), Tally()
    with tempfile.TemporaryDirectory() as place:
        lesson = easy_lesson(Path(place))
        while tally.kills < kills:
            folder = Path(tempfile.mkdtemp(dir=place))
            mirror, done = Session(lesson, Unit.CM), 0
            for _ in range(min(FRESH_AFTER, kills - tally.kills)):
                done = kill_once(lesson, folder, mirror, done, chance.uniform(0, LONGEST_LIFE), tally)
            tally.attempts += len(mirror.attempts(2))
    return tally


if __name__ == "__main__":
    kills, seed = [*map(int, sys.argv[1:]), *(200, 1)[len(sys.argv) - 1 :]]
    tally = kill_often(kills, seed)
    print(
        json.dumps(
            {
                "kills": tally.kills,
                "saves acknowledged": tally.acknowledged,
                "on disk but unheard": tally.unheard,
                "killed before the first save": tally.before_first,
                "attempts logged": tally.attempts,
            }
        )
    )
