"""What has been done comes back: sessions with all their undo steps, attempts, settings, two tutors at once."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lessons_for_tests import small_lesson
from record_driving import easy_lesson, edited

from tutor.alteration.plan import Landmark
from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.practice.stored import stored_plan
from tutor.record import LastLesson, Record, data_folder, open_record
from tutor.record.image import Image, numbers_of, read_state, runs
from tutor.units import Unit

TESTS = Path(__file__).resolve().parent
CROWN, HEM = Landmark("crown"), Landmark("grain-hem")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "record"


@pytest.fixture
def record(folder: Path) -> Iterator[Record]:
    with open_record(folder) as record:
        yield record


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return easy_lesson(tmp_path)


def answered(session: Session, *texts: str) -> Session:
    """The session with these answers given to its second task, which asks for the cap's height."""
    session.go_to_task(2)
    for text in texts:
        session.answer(text)
    return session


def right_answer(session: Session) -> str:
    return f"{session.measures_before()['cap-height']:.6f} mm"


def resumed(folder: Path, lesson: Lesson, seed: int | None = None) -> tuple[Session | None, dict[str, Any] | None]:
    with open_record(folder) as record:
        found = record.resume(lesson, seed)
        assert record.notice == ""
    return found


# Coming back.


def test_there_is_nothing_to_come_back_to_at_first(record: Record, lesson: Lesson) -> None:
    assert record.resume(lesson) == (None, None)
    assert record.last_lesson() is None
    assert record.attempts() == ()
    assert record.notice == ""


def test_all_of_a_session_comes_back_with_what_the_screen_remembered(
    folder: Path, record: Record, lesson: Lesson
) -> None:
    session = edited(Session(lesson, Unit.INCH), 1, 120)
    session.undo()
    screen = {"chosen": "A/start", "zoom": 2, "typed": "3 1/\udc80", "marker": [1.5, None], "help": True}
    assert record.save(session, screen)
    found, remembered = resumed(folder, lesson)
    assert found is not None
    assert found.dump() == session.dump()
    assert found.redo()
    assert remembered == screen


def test_every_save_is_on_disk_when_it_returns(folder: Path, record: Record, lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    for number in range(1, 60):
        edited(session, number, number)
        assert record.save(session, {"edit": number})
        found, screen = resumed(folder, lesson)
        assert found is not None
        assert found.dump() == session.dump()
        assert screen == {"edit": number}


@settings(max_examples=40)
@given(numbers=st.lists(st.integers(0, 2000), max_size=60), seed=st.none() | st.integers())
def test_any_edits_come_back_as_they_were(
    numbers: list[int], seed: int | None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    place = tmp_path_factory.mktemp("edits")
    lesson = easy_lesson(place)
    session = Session(lesson, Unit.CM, seed)
    with open_record(place / "record") as record:
        for number in numbers:
            edited(session, number, number)
            assert record.save(session)
        record.save(session)
    found, screen = resumed(place / "record", lesson, seed)
    assert found is not None
    assert found.dump() == session.dump()
    assert screen is None
    # Where the history's end is known by the same plan, going back and forth gives the same plans again.
    for each in (found, session):
        while each.undo():
            pass
    assert found.draft == session.draft
    assert found.dump() == session.dump()


@settings(max_examples=100)
@given(numbers=st.lists(st.integers(0, 2000), max_size=80))
def test_the_short_state_and_its_parts_say_all_that_a_dump_does(
    numbers: list[int], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Whatever ``Session.dump`` says is kept; a dump with anything more in it fails here at once."""
    session = Session(easy_lesson(tmp_path_factory.mktemp("lesson")), Unit.CM)
    image = Image([0, 0])
    for number in numbers:
        edited(session, number, number)
        assert read_state(image.state_of(session), image.unwritten) == session.dump()
    assert read_state(image.state_of(session), image.unwritten) == session.dump()


@given(numbers=st.lists(st.integers(0, 30)))
def test_runs_of_numbers_are_the_numbers(numbers: list[int]) -> None:
    assert list(numbers_of(runs(numbers))) == numbers


def test_numbers_that_go_up_or_down_are_short() -> None:
    assert runs([*range(900), *range(500, -1, -1)]) == [[0, 899], [500, 0]]


@pytest.mark.parametrize(
    ("state", "parts"),
    [
        ("", []),
        ("[]", []),
        ('{"now": {"part": 1}}', [(0, "{}")]),
        ('{"now": {"part": 0}}', [(0, '{"part": 0}')]),
        ('{"past": {"parts": 7}}', [(0, "{}")]),
    ],
)
def test_a_state_that_is_none_is_a_value_error(state: str, parts: list[tuple[int, str]]) -> None:
    with pytest.raises(ValueError, match=r"^the state is |^a part of the state |^Expecting value"):
        read_state(state, parts)


def test_a_long_history_is_kept_without_being_written_again(folder: Path, record: Record, lesson: Lesson) -> None:
    """With 2000 steps to undo, a step more writes a few pages, not the 130 that all steps fill."""
    session = Session(lesson, Unit.CM)
    session.add_slash(CROWN, HEM, True, True)
    for number in range(2100):
        session.set_hinge("A", "end", number % 2 == 0)
    assert record.save(session)
    journal = folder / "record.db-wal"
    before = journal.stat().st_size
    for number in range(20):
        session.set_hinge("A", "start", number % 2 == 1)
        assert record.save(session, {"zoom": 1})
    pages = (journal.stat().st_size - before) / 4120  # A page of 4096 bytes and its header of 24 (SQLite's format).
    assert before / 4120 > 100
    assert 0 < pages / 20 <= 4
    found, _ = resumed(folder, lesson)
    assert found is not None
    assert found.dump() == session.dump()


def test_saving_is_quick_enough_for_every_key(record: Record, lesson: Lesson) -> None:
    """At most 3 ms in the median of this thread's own time; a busy machine's other work is not counted."""
    session = Session(lesson, Unit.CM)
    session.add_slash(CROWN, HEM, True, True)
    session.add_slash(Landmark("underarm-back"), Landmark("underarm-front"), True, True)
    times = []
    for number in range(700):
        session.set_hinge("A", "end", number % 2 == 0)
        begun = time.thread_time()
        assert record.save(session, {"chosen": "A/end", "edit": number})
        times.append(time.thread_time() - begun)
    assert sorted(times)[len(times) // 2] <= 0.003


def test_a_lesson_begun_anew_replaces_what_was_left_off(folder: Path, record: Record, lesson: Lesson) -> None:
    first = answered(edited(Session(lesson, Unit.CM), 1, 20), "3 cm")
    record.save(first)
    second = edited(Session(lesson, Unit.CM), 5, 9)
    record.save(second)
    found, _ = resumed(folder, lesson)
    assert found is not None
    assert found.dump() == second.dump()
    assert len(record.attempts()) == len(first.attempts(2))
    record.save(first)
    found, _ = resumed(folder, lesson)
    assert found is not None
    assert found.dump() == first.dump()


def test_the_last_lesson_is_the_one_last_saved_and_not_the_one_with_the_latest_time(
    folder: Path, record: Record, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lessons = [small_lesson(tmp_path, ("number = 90", f"number = {number}")) for number in (91, 92)]
    lessons = [Lesson(**{f: getattr(x, f) for f in x.__struct_fields__} | {"name": f"n{x.number}"}) for x in lessons]
    first, second = (Session(lesson, Unit.CM) for lesson in lessons)
    record.save(first)
    assert record.last_lesson() == LastLesson("n91", None)

    class Earlier(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> Any:
            return datetime.now(tz) - timedelta(days=400)

    monkeypatch.setattr("tutor.record.writing.datetime", Earlier)
    record.save(second)
    assert record.last_lesson() == LastLesson("n92", None)
    edited(first, 1, 3)
    record.save(first)
    assert record.last_lesson() == LastLesson("n91", None)
    # Attempts keep their order as well.
    record.save(answered(second, "1 cm"))
    monkeypatch.undo()
    record.save(answered(second, "2 cm"))
    assert [attempt.given for attempt in record.attempts("n92")] == ["1 cm", "2 cm"]
    found, _ = resumed(folder, lessons[1])
    assert found is not None
    assert found.dump() == second.dump()


def test_variants_of_a_lesson_are_come_back_to_each_by_its_seed(folder: Path, record: Record, lesson: Lesson) -> None:
    sessions = [edited(Session(lesson, Unit.CM, seed), 1, 3 + k) for k, seed in enumerate((None, 7, 10**30, -1))]
    for session in sessions:
        record.save(session)
    assert record.last_lesson() == LastLesson("small", -1)
    for session in sessions:
        found, _ = resumed(folder, lesson, session.seed)
        assert found is not None
        assert found.dump() == session.dump()
    assert resumed(folder, lesson, 8) == (None, None)


def test_a_lesson_that_has_changed_begins_anew_and_keeps_its_attempts(folder: Path, tmp_path: Path) -> None:
    with open_record(folder) as record:
        record.save(answered(Session(small_lesson(tmp_path), Unit.CM), "3 cm"))
    changed = small_lesson(tmp_path, ("number = 90", "number = 90\nversion = 2"))
    with open_record(folder) as record:
        assert record.resume(changed) == (None, None)
        assert record.take_notice() == (
            "Lesson 90 has changed since you left off, so it begins anew. Your attempts are kept."
        )
        assert record.notice == ""
        assert [attempt.version for attempt in record.attempts()] == [1]
        session = answered(Session(changed, Unit.CM), "4 cm")
        record.save(session)
        assert [attempt.version for attempt in record.attempts()] == [1, 2]
    found, _ = resumed(folder, changed)
    assert found is not None
    assert found.dump() == session.dump()


def test_a_lesson_with_other_tasks_begins_anew(folder: Path, lesson: Lesson, tmp_path: Path) -> None:
    with open_record(folder) as record:
        record.save(Session(lesson, Unit.CM))
    fewer = Lesson(**{f: getattr(lesson, f) for f in lesson.__struct_fields__} | {"tasks": lesson.tasks[:1]})
    with open_record(folder) as record:
        assert record.resume(fewer) == (None, None)
        assert record.notice == (
            "Where you left off in lesson 90 can't be read, so it begins anew. Your attempts are kept."
        )


def test_a_screen_that_is_no_plain_table_is_the_faces_mistake(record: Record, lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    with pytest.raises(TypeError):
        record.save(session, {"marker": 3 + 4j})
    assert record.save(session, {"marker": [3, 4]})


def test_a_name_that_no_text_can_hold_is_kept_all_the_same(folder: Path, record: Record, lesson: Lesson) -> None:
    strange = Lesson(**{f: getattr(lesson, f) for f in lesson.__struct_fields__} | {"name": "ärmel\udcff"})
    assert record.save(edited(Session(strange, Unit.CM), 1, 2))
    found, _ = resumed(folder, strange)
    assert found is not None
    assert found.undo()


def test_another_thread_can_save(folder: Path, record: Record, lesson: Lesson) -> None:
    session = edited(Session(lesson, Unit.CM), 1, 9)
    saved: list[bool] = []
    thread = threading.Thread(target=lambda: saved.append(record.save(session)))
    thread.start()
    thread.join()
    assert saved == [True]
    found, _ = resumed(folder, lesson)
    assert found is not None
    assert found.dump() == session.dump()


def test_after_closing_nothing_is_kept_and_nothing_raised(record: Record, lesson: Lesson) -> None:
    record.close()
    record.close()
    assert record.save(Session(lesson, Unit.CM)) is False
    assert record.resume(lesson) == (None, None)
    assert record.progress([]) == ()
    assert record.setting("theme", "light") == "light"


# Attempts.


def test_attempts_are_logged_as_given(record: Record, lesson: Lesson) -> None:
    begun = datetime.now(UTC).replace(microsecond=0)
    session = Session(lesson, Unit.CM, 5)
    session.add_slash(CROWN, HEM, True, False)
    session.hint()
    plan = session.draft
    session.check()
    record.save(session)
    session.unit = Unit.INCH
    answered(session, "3 1/2", right_answer(session))
    session.solution()
    session.check()
    record.save(session)
    record.save(session)
    log = record.attempts()
    assert [attempt.task for attempt in log] == [1, 2, 2, 2]
    assert log[0].given == stored_plan(plan)
    assert [attempt.given for attempt in log[1:]] == ["3 1/2", right_answer(session), right_answer(session)]
    assert [attempt.unit for attempt in log] == ["cm", "in", "in", "in"]
    assert [attempt.mark for attempt in log] == [a.total for n in (1, 2) for a in session.attempts(n)]
    assert [attempt.passed for attempt in log] == [False, False, True, True]
    assert [attempt.hints for attempt in log] == [1, 0, 0, 0]
    assert [attempt.shown for attempt in log] == [False, False, False, True]
    assert {(a.lesson, a.seed, a.version, a.mistake) for a in log} == {("small", 5, 1, None)}
    assert all(begun <= attempt.time <= datetime.now(UTC) for attempt in log)


def test_attempts_once_logged_are_not_logged_again_when_it_goes_on(folder: Path, lesson: Lesson) -> None:
    with open_record(folder) as record:
        record.save(answered(Session(lesson, Unit.CM), "1 cm"))
    for text in ("2 cm", "3 cm"):
        with open_record(folder) as record:
            session, _ = record.resume(lesson)
            assert session is not None
            record.save(session)
            record.save(answered(session, text))
    with open_record(folder) as record:
        assert [attempt.given for attempt in record.attempts()] == ["1 cm", "2 cm", "3 cm"]


# Settings and places.


def test_settings_are_kept(folder: Path, record: Record) -> None:
    assert record.setting("theme") is None
    assert record.setting("theme", "light") == "light"
    assert record.keep_setting("theme", "dark")
    assert record.keep_setting("theme", "high contrast")
    assert record.keep_setting("ascii", True)
    with open_record(folder) as other:
        assert (other.setting("theme"), other.setting("ascii")) == ("high contrast", True)


def test_the_folder_can_be_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lesson: Lesson) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path / "here"))
    assert data_folder() == tmp_path / "here"
    with open_record() as record:
        assert record.save(Session(lesson, Unit.CM))
    assert (tmp_path / "here" / "record.db").is_file()


def test_the_folder_is_the_platforms(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """On Linux: XDG Base Directory Specification 0.8, $XDG_DATA_HOME."""
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", "")
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert data_folder() == tmp_path / "sleeve-tutor"


# Two tutors at once.


class Writer:
    """Another tutor, in a process of its own, that gives ``answers`` answers of ``inches`` and some fraction."""

    def __init__(self, folder: Path, place: Path, answers: int, inches: int) -> None:
        place.mkdir()
        arguments = [str(folder), str(answers), str(place), str(inches)]
        self.process = subprocess.Popen(
            [sys.executable, str(TESTS / "record_writer.py"), *arguments],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.line() == "ready"

    def line(self) -> str:
        assert self.process.stdout is not None
        return self.process.stdout.readline().strip()

    def begin(self) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write("\n")
        self.process.stdin.flush()

    def __enter__(self) -> Writer:
        return self

    def __exit__(self, *_: object) -> None:
        self.process.communicate(timeout=60)


def test_two_tutors_at_once_lose_no_attempt(folder: Path, tmp_path: Path, lesson: Lesson) -> None:
    with Writer(folder, tmp_path / "a", 200, 5) as one, Writer(folder, tmp_path / "b", 200, 6) as two:
        one.begin()
        two.begin()
        assert (one.line(), two.line().split()[0]) == ("0", "0")
    with open_record(folder) as record:
        given = [str(attempt.given) for attempt in record.attempts()]
        assert sorted(given) == sorted(f"{inches} {k}/1024 in" for inches in (5, 6) for k in range(200))
        # Each one's are in the order in which they were given.
        assert [text for text in given if text.startswith("5")] == [f"5 {k}/1024 in" for k in range(200)]
        session, screen = record.resume(lesson)
        assert "was open in two tutors at once" in record.take_notice()
        # What is come back to is as one of them left it, and the answers of both are in it.
        assert session is not None
        assert sorted(str(attempt.given) for attempt in session.attempts(2)) == sorted(given)
        assert screen == {"answer": 199}
        # That was taken in once for all, and no answer is logged twice.
        assert len(record.attempts()) == 400
    again, _ = resumed(folder, lesson)
    assert again is not None
    assert again.dump() == session.dump()


def test_a_lesson_open_in_another_tutor_is_told_and_both_go_on(folder: Path, tmp_path: Path, lesson: Lesson) -> None:
    with Writer(folder, tmp_path / "a", 3, 5) as other, open_record(folder) as record:
        assert record.resume(lesson) == (None, None)
        assert record.take_notice() == (
            "Lesson 90 is open in another tutor as well. Nothing is lost by that; what is done last, here or there, "
            "is where it opens next time."
        )
        session = answered(Session(lesson, Unit.CM), "1 cm")
        assert record.save(session)
        other.begin()
        assert other.line() == "0"
        found, _ = record.resume(lesson)
        assert found is not None
        assert [attempt.given for attempt in found.attempts(2)] == [f"5 {k}/1024 in" for k in range(3)]
        assert record.save(answered(session, "2 cm"))
        assert len(record.attempts()) == 5
        assert record.notice != ""
    with open_record(folder) as record:
        found, _ = record.resume(lesson)
        assert "answers given in either count" in record.take_notice()
    assert found is not None
    assert found.answered == session.answered
    assert len(found.attempts(2)) == 5


def test_what_was_built_in_two_tutors_at_once_is_all_there(folder: Path, tmp_path: Path, lesson: Lesson) -> None:
    with Writer(folder, tmp_path / "a", 0, 5), open_record(folder) as one, open_record(folder) as two:
        first, second = edited(Session(lesson, Unit.CM), 1, 20), edited(Session(lesson, Unit.CM), 3, 15)
        assert one.save(first, {})
        assert two.save(second, {})
        lost = first.draft
        assert lost != second.draft
    with open_record(folder) as record:
        found, _ = record.resume(lesson)
        assert found is not None
        assert "undo goes back to what was built in the other" in record.take_notice()
        assert found.draft == second.draft
        assert found.undo()
        assert found.draft == lost
        # The steps of the last one are all there behind it, and it is come back to as well.
        assert found.redo()
        assert found.draft == second.draft
        for _ in range(2):
            assert found.undo()
        before = second.draft
        assert second.undo()
        assert found.draft == second.draft != before


def test_a_sitting_that_another_tutor_has_replaced_is_written_anew(folder: Path, lesson: Lesson) -> None:
    """As when locks tell nothing, which some networks' file systems do."""
    with open_record(folder) as one, open_record(folder) as two:
        first, second = edited(Session(lesson, Unit.CM), 1, 20), edited(Session(lesson, Unit.CM), 3, 15)
        for number in range(30, 40):
            assert one.save(edited(first, number, number))
            found, _ = resumed(folder, lesson)
            assert found is not None
            assert found.draft == first.draft
            assert two.save(edited(second, number + 1, number + 1))
            found, _ = resumed(folder, lesson)
            assert found is not None
            assert found.draft == second.draft
        given = [len(session.attempts(2)) for session in (first, second)]
        assert len(one.attempts()) == sum(given)


def test_a_lesson_left_is_free_again(folder: Path, tmp_path: Path, lesson: Lesson) -> None:
    with Writer(folder, tmp_path / "a", 1, 5) as other:
        other.begin()
        assert other.line() == "0"
        other.process.kill()
    found, screen = resumed(folder, lesson)
    assert found is not None
    assert screen == {"answer": 0}
