"""What lies where the record should be: broken, foreign, newer, older, locked, full, read-only. Nothing gets lost."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from lessons_for_tests import small_lesson
from record_driving import easy_lesson, edited

from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.record import Record, open_record
from tutor.record.database import Database, Trouble, ready_database
from tutor.record.opening import open_database
from tutor.record.schema import STEPS
from tutor.units import Unit


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "record"


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return easy_lesson(tmp_path)


@pytest.fixture
def session(lesson: Lesson) -> Session:
    """A session with steps to undo and one attempt."""
    return edited(Session(lesson, Unit.CM), 25, 45)


def kept(folder: Path, session: Session) -> bytes:
    """A record that holds the session, closed; the bytes of its file."""
    with open_record(folder) as record:
        assert record.save(session, {"zoom": 2})
    return (folder / "record.db").read_bytes()


def can_be_practised_with(record: Record, session: Session) -> bool:
    """Whether all that practice asks of a record works; whether it is on disk."""
    saved = record.save(session)
    assert record.last_lesson() is not None
    assert len(record.attempts()) == 1
    assert record.progress([session.lesson])[0].standing == "begun"
    found, _ = record.resume(session.lesson)
    assert found is not None
    assert found.dump() == session.dump()
    return saved


def executed(path: Path, *statements: str) -> bytes:
    """The file's bytes after the statements."""
    database = sqlite3.connect(path, isolation_level=None)
    for statement in statements:
        database.execute(statement)
    database.close()
    return path.read_bytes()


# Files that can't be read.

Spoil = Callable[[Path], bytes]


def garbage(path: Path) -> bytes:
    path.write_bytes(b"not a database at all, but quite long " * 40)
    return path.read_bytes()


def half_of_it(path: Path) -> bytes:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2 // 4096 * 4096])
    return path.read_bytes()


def less_than_a_page(path: Path) -> bytes:
    path.write_bytes(path.read_bytes()[:700])
    return path.read_bytes()


def overwritten_pages(path: Path) -> bytes:
    whole = path.read_bytes()
    path.write_bytes(whole[:8192] + b"\xa5" * (len(whole) - 16384) + whole[-8192:])
    return path.read_bytes()


def of_another_program(path: Path) -> bytes:
    path.unlink()
    return executed(path, "CREATE TABLE recipe (cake TEXT)", "INSERT INTO recipe VALUES ('plum')")


def numbered_by_another_program(path: Path) -> bytes:
    path.unlink()
    return executed(path, "PRAGMA application_id = 12345", "PRAGMA user_version = 1", "CREATE TABLE lesson (x)")


def of_a_newer_program(path: Path) -> bytes:
    return executed(path, "PRAGMA journal_mode = DELETE", f"PRAGMA user_version = {len(STEPS) + 1}")


def without_a_table(path: Path) -> bytes:
    return executed(path, "PRAGMA journal_mode = DELETE", "DROP TABLE setting")


def with_another_table_by_that_name(path: Path) -> bytes:
    changes = ("DROP TABLE setting", "CREATE TABLE setting (name TEXT)")
    return executed(path, "PRAGMA journal_mode = DELETE", *changes)


def without_what_keeps_attempts(path: Path) -> bytes:
    return executed(path, "PRAGMA journal_mode = DELETE", "DROP TRIGGER attempt_stays")


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (garbage, "it is no database"),
        (half_of_it, "it is damaged"),
        (less_than_a_page, "it is damaged"),
        (overwritten_pages, "it is damaged"),
        (of_another_program, "it was made by another program"),
        (numbered_by_another_program, "it was made by another program"),
        (of_a_newer_program, "it was made by a newer sleeve-tutor"),
        (without_a_table, "it lacks some of its tables"),
        (with_another_table_by_that_name, "it lacks some of its tables"),
        (without_what_keeps_attempts, "it lacks some of its tables"),
    ],
)
def test_a_file_that_cannot_be_read_is_set_aside_as_it_is(
    spoil: Spoil, reason: str, folder: Path, session: Session
) -> None:
    path = folder / "record.db"
    kept(folder, session)
    for number in (1, 2):
        spoiled = spoil(path)
        with open_record(folder) as record:
            assert record.take_notice() == (
                f"What was done before, in {path}, can't be read: {reason}. "
                f"It is set aside as record-set-aside-{number}.db. A new record is begun."
            )
            assert record.resume(session.lesson) == (None, None)
            assert can_be_practised_with(record, Session.load(session.lesson, session.dump()))
            assert record.notice == ""
        assert (folder / f"record-set-aside-{number}.db").read_bytes() == spoiled
    with open_record(folder) as record:
        assert record.notice == ""
        found, _ = record.resume(session.lesson)
        assert found is not None


def test_damage_that_is_told_in_bytes_that_are_no_text_is_damage(folder: Path, session: Session) -> None:
    """What SQLite says of a table that makes no sense has the table's name in it, whatever bytes that is."""
    with open_record(folder) as record:
        record.save(session)
    database = sqlite3.connect(folder / "record.db")
    database.execute("PRAGMA writable_schema = ON")
    database.execute("UPDATE sqlite_schema SET name = CAST(x'dd28' AS TEXT), sql = 'nonsense' WHERE name = 'attempt'")
    database.commit()
    database.close()
    with open_record(folder) as record:
        assert "it is damaged. It is set aside as" in record.take_notice()
    assert Database().rows("SELECT 1") == [(1,)]
    with pytest.raises(Trouble) as caught:
        Database().rows("SELECT CAST(x'ff' AS TEXT)")
    assert caught.value.kind == "damaged"


def test_an_empty_file_is_a_record_not_yet_begun(folder: Path, session: Session) -> None:
    folder.mkdir()
    (folder / "record.db").touch()
    with open_record(folder) as record:
        assert can_be_practised_with(record, session)
        assert record.notice == ""
    assert not list(folder.glob("*aside*"))


def test_a_file_lost_beside_its_journal_takes_the_journal_along(folder: Path, session: Session) -> None:
    with open_record(folder) as record:
        record.save(session)
        journal = (folder / "record.db-wal").read_bytes()
        assert journal
        folder.rename(folder.with_name("killed"))  # As it lies there when the process is killed now.
    folder.mkdir()
    (folder / "record.db").touch()
    (folder / "record.db-wal").write_bytes(journal)
    with open_record(folder) as again:
        assert "it is empty, though its journal is not" in again.notice
        assert can_be_practised_with(again, session)
    assert (folder / "record-set-aside-1.db-wal").read_bytes() == journal


def test_a_folder_where_the_file_should_be_is_set_aside(folder: Path, session: Session) -> None:
    (folder / "record.db").mkdir(parents=True)
    (folder / "record.db" / "letter.txt").write_text("dear", encoding="utf-8")
    with open_record(folder) as record:
        assert "It is set aside as record-set-aside-1.db." in record.notice
        assert can_be_practised_with(record, session)
    assert (folder / "record-set-aside-1.db" / "letter.txt").read_text(encoding="utf-8") == "dear"


def test_a_state_spoiled_within_a_sound_file_begins_anew(folder: Path, session: Session) -> None:
    for spoiled in ("", "[1]", '{"lesson": "small"}', '{"tasks": {"parts": [[0, 99999]]}}', '{"a":' * 5000):
        kept(folder, session)
        with sqlite3.connect(folder / "record.db") as database:
            database.execute("UPDATE sitting SET state = ?", [spoiled])
        database.close()
        with open_record(folder) as record:
            assert record.resume(session.lesson) == (None, None)
            assert record.notice == (
                "Where you left off in lesson 90 can't be read, so it begins anew. Your attempts are kept."
            )
            assert record.attempts()


def test_attempts_are_neither_changed_nor_deleted(folder: Path, session: Session) -> None:
    kept(folder, session)
    database = sqlite3.connect(folder / "record.db")
    for statement in ("UPDATE attempt SET mark = 1", "DELETE FROM attempt"):
        with pytest.raises(sqlite3.IntegrityError, match="attempts are kept"):
            database.execute(statement)
    database.close()


# Nowhere to keep anything.


def test_a_file_where_the_folder_should_be(tmp_path: Path, session: Session) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    for folder in (tmp_path / "taken", tmp_path / "taken" / "below"):
        with open_record(folder) as record:
            assert record.take_notice().startswith(f"Nothing can be kept in {folder}: ")
            assert can_be_practised_with(record, session)
            assert record.notice == ""
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


def test_no_home(monkeypatch: pytest.MonkeyPatch, session: Session) -> None:
    """Where nobody's home is known, it is left as "~" (Python's os.path.expanduser)."""
    monkeypatch.delenv("SLEEVE_TUTOR_DATA", raising=False)
    monkeypatch.setattr("tutor.settings.user_data_path", lambda *_, **__: Path("~/.local/share/sleeve-tutor"))
    with open_record() as record:
        assert record.take_notice() == (
            "Nothing can be kept: there is no home folder. You can practise, but what you do is gone when you leave."
        )
        assert can_be_practised_with(record, session)


def test_a_name_no_folder_can_have(session: Session) -> None:
    with open_record(Path("/tmp/nul\0")) as record:
        assert record.take_notice().startswith("Nothing can be kept in /tmp/nul\\x00: ")
        assert can_be_practised_with(record, session)


@pytest.fixture
def read_only(monkeypatch: pytest.MonkeyPatch) -> Callable[[Path], None]:
    """Makes SQLite open the file as it does one that may only be read (its own mode=ro; root may write everything)."""

    def make(path: Path) -> None:
        connect = sqlite3.connect

        def read_only(place: str | Path, **options: Any) -> sqlite3.Connection:
            if place == path:
                place, options = f"file:{path}?mode=ro", {**options, "uri": True}
            found: sqlite3.Connection = connect(place, **options)
            return found

        monkeypatch.setattr(sqlite3, "connect", read_only)

    return make


def test_a_record_that_may_only_be_read_is_gone_on_from(
    folder: Path, session: Session, read_only: Callable[[Path], None]
) -> None:
    before = kept(folder, session)
    read_only(folder / "record.db")
    with open_record(folder) as record:
        assert record.take_notice() == (
            f"Nothing can be kept in {folder}: it can't be written to. "
            "You can practise, but what you do is gone when you leave."
        )
        found, screen = record.resume(session.lesson)
        assert found is not None
        assert found.dump() == session.dump()
        assert screen == {"zoom": 2}
        assert record.save(edited(found, 50, 60))
    assert (folder / "record.db").read_bytes() == before
    assert not list(folder.glob("*aside*"))


def test_a_folder_that_may_only_be_read(folder: Path, session: Session, read_only: Callable[[Path], None]) -> None:
    folder.mkdir()
    read_only(folder / "record.db")
    with open_record(folder) as record:
        assert record.take_notice().startswith(f"Nothing can be kept in {folder}: it can't be opened.")
        assert can_be_practised_with(record, session)


def test_a_file_held_by_another_program_all_the_time_is_left_alone(folder: Path, session: Session) -> None:
    before = kept(folder, session)
    other = sqlite3.connect(folder / "record.db", isolation_level=None)
    other.execute("PRAGMA locking_mode = EXCLUSIVE")
    other.execute("BEGIN EXCLUSIVE")
    other.execute("UPDATE lesson SET number = number")
    with open_record(folder) as record:
        assert "another program holds it locked" in record.take_notice()
        found, _ = record.resume(session.lesson)
        assert found is not None
        assert can_be_practised_with(record, found)
    other.execute("ROLLBACK")
    other.close()
    assert (folder / "record.db").read_bytes() == before
    assert not list(folder.glob("*aside*"))


# Writings that fail on the way.


def test_a_full_disk_is_told_once_and_all_is_written_when_there_is_room(folder: Path, lesson: Lesson) -> None:
    """SQLite's own limit on pages gives the error of a full disk."""
    session, other = Session(lesson, Unit.CM), Session(lesson, Unit.CM, 7)
    with open_record(folder) as record:
        assert record.save(session)
        pages = record._database.rows("PRAGMA page_count")[0][0]
        record._database.rows(f"PRAGMA max_page_count = {pages}")
        saved, number = True, 0
        while saved:
            number += 1
            edited(session, number, number)
            saved = record.save(session, {"edit": number})
            assert number < 3000
        assert record.take_notice() == (
            "What you do can't be kept just now: the disk is full. You can go on; every step tries again."
        )
        for more in range(number + 1, number + 40):
            edited(session, more, more)
            record.save(session, {"edit": more})
        answers = 0
        # The last page may have room for a few of the other's answers.
        while record.save(edited(other, 31, 31)):
            answers += 1
            assert answers < 300
        assert record.notice == ""
        record._database.rows("PRAGMA max_page_count = 100000")
        assert record.save(session, {"edit": number + 39})
        assert record.take_notice() == "What you do is kept again, and nothing is missing."
        assert len(record.attempts()) == len(session.attempts(2)) + len(other.attempts(2))
    with open_record(folder) as record:
        for each in (session, other):
            found, _ = record.resume(lesson, each.seed)
            assert found is not None
            assert found.dump() == each.dump()
        assert record.notice == ""


def test_a_lock_held_too_long_slows_no_key_but_the_first(folder: Path, session: Session) -> None:
    kept(folder, Session(session.lesson, Unit.CM))
    with open_record(folder) as record:
        other = sqlite3.connect(folder / "record.db", isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        assert not record.save(session)
        assert "another program holds it locked" in record.take_notice()
        begun = time.thread_time(), time.monotonic()
        for number in range(50, 60):
            assert not record.save(edited(session, number, number), {"edit": number})
        # Each waits 20 ms at most; ten waits of the usual length would take 4 s.
        assert time.monotonic() - begun[1] < 2
        other.execute("ROLLBACK")
        other.close()
        assert record.save(session, {"edit": 59})
        assert record.take_notice() == "What you do is kept again, and nothing is missing."
    with open_record(folder) as record:
        found, screen = record.resume(session.lesson)
        assert found is not None
        assert found.dump() == session.dump()
        assert screen == {"edit": 59}
        assert len(record.attempts()) == len(session.attempts(2))


def test_where_somebody_left_off_outlives_a_disk_that_does_not_say_it(
    folder: Path, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept(folder, session)
    with open_record(folder) as record:
        rows = Database.rows

        def failing(self: Database, sql: str, *values: object) -> list[tuple[Any, ...]]:
            if "part" in sql:
                raise Trouble("unusable", "the disk can't be read or written")
            return rows(self, sql, *values)

        monkeypatch.setattr(Database, "rows", failing)
        assert record.resume(session.lesson) == (None, None)
        assert "the disk can't be read or written" in record.take_notice()
        monkeypatch.undo()
        assert record.save(Session(session.lesson, Unit.CM))
    database = sqlite3.connect(folder / "record.db")
    assert database.execute("SELECT count(*) FROM sitting").fetchone() == (2,)
    database.close()


def test_what_waits_is_written_at_the_end(folder: Path, session: Session) -> None:
    kept(folder, Session(session.lesson, Unit.CM))
    record = open_record(folder)
    other = sqlite3.connect(folder / "record.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert not record.save(session, {"zoom": 1})
    other.execute("ROLLBACK")
    other.close()
    record.close()
    with open_record(folder) as again:
        found, screen = again.resume(session.lesson)
        assert found is not None
        assert found.dump() == session.dump()
        assert screen == {"zoom": 1}


def test_a_writing_that_breaks_off_in_the_middle_leaves_nothing_of_itself(
    folder: Path, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_record(folder) as record:
        record.save(Session(session.lesson, Unit.CM))
        whole, run_each = record._database.rows("SELECT * FROM part"), Database.run_each

        def failing(self: Database, sql: str, rows: Any) -> None:
            run_each(self, sql, rows)
            if "attempt" in sql:
                raise Trouble("unusable", "the disk can't be read or written")

        monkeypatch.setattr(Database, "run_each", failing)
        assert not record.save(session)
        assert "the disk can't be read or written" in record.notice
        assert record._database.rows("SELECT * FROM part") == whole
        assert record.attempts() == ()
        monkeypatch.undo()
        assert can_be_practised_with(record, session)


def test_an_interrupt_in_the_middle_leaves_nothing_of_the_writing(
    folder: Path, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(self: Database, sql: str, rows: Any) -> None:
        raise KeyboardInterrupt

    with open_record(folder) as record:
        monkeypatch.setattr(Database, "run_each", interrupted)
        with pytest.raises(KeyboardInterrupt):
            record.save(session)
        assert record.last_lesson() is None
        monkeypatch.undo()
        assert can_be_practised_with(record, session)


def test_a_file_that_breaks_while_in_use_is_set_aside_and_all_at_hand_is_written_anew(
    folder: Path, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = folder / "record.db"
    with open_record(folder) as record:
        assert record.save(session, {"zoom": 1})
        record._database.rows("PRAGMA wal_checkpoint(TRUNCATE)")
        spoiled = overwritten_pages(path)
        record._database.rows("PRAGMA shrink_memory")
        edited(session, 46, 70)
        assert record.save(session, {"zoom": 3})
        assert "it is damaged. It is set aside as record-set-aside-1.db." in record.take_notice()
        assert [attempt.given for attempt in record.attempts()] == [a.given for a in session.attempts(2)]
        assert record.save(edited(session, 71, 80), {"zoom": 4})
        assert record.notice == ""
    assert (folder / "record-set-aside-1.db").read_bytes()[8192:-8192] == spoiled[8192:-8192]
    with open_record(folder) as record:
        found, screen = record.resume(session.lesson)
        assert found is not None
        assert found.dump() == session.dump()
        assert screen == {"zoom": 4}


# Steps of the schema.

MADE_UP = ("ALTER TABLE setting ADD COLUMN note TEXT NOT NULL DEFAULT ''", "CREATE TABLE medal (name TEXT)")


@pytest.mark.parametrize("version", range(len(STEPS) + 1))
def test_a_file_of_every_older_version_becomes_one_of_the_newest(version: int, folder: Path, session: Session) -> None:
    folder.mkdir()
    if version:
        ready_database(folder / "record.db", STEPS[:version]).close()
    steps = (*STEPS, MADE_UP)
    opened = open_database(folder, steps)
    assert opened.notices == ()
    assert opened.database.version == len(steps)
    assert opened.database.rows("SELECT name, value, note FROM setting") == []
    opened.database.close()
    again = open_database(folder, steps)
    assert (again.notices, again.database.version) == ((), len(steps))
    again.database.close()


def test_what_an_older_version_kept_is_there_after_the_step(folder: Path, session: Session) -> None:
    with open_record(folder) as record:
        record.save(session)
        record.keep_setting("theme", "dark")
        tables = ("lesson", "standing", "sitting", "part", "attempt")
        before = {table: record._database.rows(f"SELECT * FROM {table}") for table in tables}
    opened = open_database(folder, (*STEPS, MADE_UP))
    assert {table: opened.database.rows(f"SELECT * FROM {table}") for table in tables} == before
    assert opened.database.rows("SELECT * FROM setting") == [("theme", '"dark"', "")]
    opened.database.close()
    # To the program that does not know the step, it is a newer file now.
    with open_record(folder) as record:
        assert "it was made by a newer sleeve-tutor" in record.notice
        assert record.attempts() == ()
    again = open_database(folder.parent / "elsewhere")
    again.database.close()


def test_a_step_that_fails_is_not_taken_at_all(folder: Path, session: Session) -> None:
    kept(folder, session)
    broken = (*STEPS, MADE_UP, ("CREATE TABLE half (x)", "INSERT INTO nowhere VALUES (1)"))
    with pytest.raises(Trouble, match="no such table: nowhere"):
        ready_database(folder / "record.db", broken)
    database = sqlite3.connect(folder / "record.db")
    assert database.execute("PRAGMA user_version").fetchone() == (len(STEPS) + 1,)
    assert database.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'half'").fetchone() == (0,)
    assert database.execute("SELECT count(*) FROM medal").fetchone() == (0,)
    database.close()


def test_the_file_is_as_it_is_meant_to_be(folder: Path) -> None:
    """Write-ahead journal, foreign keys that are checked, and waiting for other writers."""
    with open_record(folder) as record:
        values = {
            name: record._database.rows(f"PRAGMA {name}")[0][0]
            for name in ("journal_mode", "foreign_keys", "synchronous", "busy_timeout", "user_version")
        }
        with pytest.raises(Trouble, match="FOREIGN KEY"):
            record._database.run("INSERT INTO standing VALUES ('no lesson', 1, 0, 0)")
    assert values == {
        "journal_mode": "wal",
        "foreign_keys": 1,
        "synchronous": 1,
        "busy_timeout": 400,
        "user_version": len(STEPS),
    }
    # Nothing but the record and its lock is left when it is closed.
    assert sorted(path.name for path in folder.iterdir()) == ["record.db", "record.lock"]


def test_lessons_of_the_same_name_in_another_file_begin_anew(folder: Path, tmp_path: Path, session: Session) -> None:
    kept(folder, session)
    other = small_lesson(tmp_path, ("number = 90", "number = 91\nversion = 4"))
    with open_record(folder) as record:
        assert record.resume(other) == (None, None)
        assert record.notice.startswith("Lesson 91 has changed since you left off")
