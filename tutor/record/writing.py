"""A session written to the database: what has changed of it, all in one transaction."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from tutor.record.database import Database
from tutor.record.image import Image, given_text

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.practice.session import Session

# Columns are named, so that a newer version may add to them while this one has the record open.
UPSERT_LESSON = """INSERT INTO lesson (name, number, title, tasks, time)
    VALUES (?, ?, ?, ?, ?) ON CONFLICT (name) DO UPDATE SET
    number = excluded.number, title = excluded.title, tasks = excluded.tasks, time = excluded.time"""
_STANDING = """INSERT INTO standing (lesson, task, passed, shown)
    VALUES (?, ?, ?, ?) ON CONFLICT (lesson, task) DO UPDATE SET
    passed = max(passed, excluded.passed), shown = max(shown, excluded.shown)"""
_ATTEMPT = """INSERT INTO attempt
    (lesson, seed, version, task, given, unit, mark, passed, mistake, hints, shown, time)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"""
_SITTING = """INSERT INTO sitting (lesson, seed, version, turn, screen, state)
    SELECT ?, ?, ?, coalesce(max(turn), 0) + 1, ?, ? FROM sitting"""
_SITTING_AGAIN = "UPDATE sitting SET screen = ?, state = ? WHERE id = ?"
_TURN = """UPDATE sitting SET turn = (SELECT max(turn) + 1 FROM sitting)
    WHERE id = ? AND turn < (SELECT max(turn) FROM sitting)"""
_LAST = "SELECT id FROM sitting ORDER BY turn DESC LIMIT 1"
_PART = "INSERT INTO part (sitting, number, text) VALUES (?, ?, ?)"
_OTHERS = "DELETE FROM sitting WHERE lesson = ? AND seed = ? AND id <> ?"


def name_of(lesson: Lesson) -> str:
    """The lesson's name with letters that a file's name can hold and a database can't made plain."""
    return lesson.name.encode("utf-8", "backslashreplace").decode()


def seed_text(seed: int | None) -> str:
    """The seed as it is kept: of any size, and "" for the lesson as written."""
    return "" if seed is None else str(seed)


def seed_of(text: str) -> int | None:
    """The seed that ``seed_text`` wrote."""
    return int(text) if text else None


def write_session(database: Database, session: Session, image: Image, screen: str, alone: bool) -> None:
    """Writes what of the session is not in its image, and brings the image up to date. Raises Trouble.

    A sitting begun anew replaces others at the same lesson when this tutor is ``alone`` in having it open.
    """
    counts = [len(session.attempts(number)) for number in _numbers(session)]
    standings = [session.standing(number) for number in _numbers(session)]
    state = image.state_of(session)
    is_kept = (state, screen) == (image.state, image.screen) and _is_last(database, image.sitting)
    if is_kept and counts == image.logged and standings == image.standings:
        return
    time = datetime.now(UTC).isoformat(timespec="seconds")
    sitting = image.sitting
    with database.transaction():
        name, lesson = name_of(session.lesson), session.lesson
        database.run(UPSERT_LESSON, name, lesson.number, lesson.title, len(lesson.tasks), time)
        if not is_kept:
            sitting, state = _write_sitting(database, session, image, state, screen, alone)
        _write_attempts(database, session, image, time)
        if standings != image.standings:
            rows = [(name, n, s == "passed", s == "shown") for n, s in enumerate(standings, 1)]
            database.run_each(_STANDING, rows)
    image.logged, image.standings = counts, list(standings)
    image.sitting, image.state, image.screen = sitting, state, screen
    image.unwritten.clear()


def _numbers(session: Session) -> range:
    return range(1, len(session.tasks) + 1)


def _is_last(database: Database, sitting: int) -> bool:
    """Whether the sitting is there, and was written last of all."""
    return database.rows(_LAST) == [(sitting,)]


def _write_sitting(
    database: Database, session: Session, image: Image, state: str, screen: str, alone: bool
) -> tuple[int, str]:
    """Writes the sitting and its new parts; its id and its state, which is another when all is written anew."""
    sitting = image.sitting
    if not sitting or database.run(_SITTING_AGAIN, screen, state, sitting) != 1:
        if sitting:
            image.start_over()
            state = image.state_of(session)
        key = (name_of(session.lesson), seed_text(session.seed))
        sitting = database.insert(_SITTING, *key, session.lesson.version, screen, state)
        if alone:
            database.run(_OTHERS, *key, sitting)
    database.run(_TURN, sitting)
    database.run_each(_PART, [(sitting, number, text) for number, text in image.unwritten])
    return sitting, state


def _write_attempts(database: Database, session: Session, image: Image, time: str) -> None:
    lesson = (name_of(session.lesson), seed_text(session.seed), session.lesson.version)
    for number, logged in zip(_numbers(session), image.logged, strict=True):
        rows = [
            (
                *lesson,
                number,
                given_text(attempt.given),
                session.unit.value,
                attempt.total,
                attempt.passed,
                getattr(attempt, "mistake", None),
                attempt.hints,
                attempt.shown,
                time,
            )
            for attempt in session.attempts(number)[logged:]
        ]
        database.run_each(_ATTEMPT, rows)
