"""How far somebody has come: how lessons stand, best marks, tries; and the command that shows it."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from lessons_for_tests import own_lessons, small_lesson

from tutor import cli
from tutor.alteration.plan import Landmark
from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.record import LessonProgress, Record, data_folder, open_record
from tutor.units import Unit


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    with open_record(tmp_path / "record") as record:
        yield record


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, ('after = "crossed"\n', ""))


def named(lesson: Lesson, name: str, title: str) -> Lesson:
    """The lesson under another name and title."""
    return Lesson(**{f: getattr(lesson, f) for f in lesson.__struct_fields__} | {"name": name, "title": title})


def build(session: Session, amount: float = 20) -> None:
    """Opens the crossed slashes by mm and has them marked; by 20 the bicep comes from 33 to the 35 cm asked for."""
    session.go_to_task(1)
    session.clear()
    session.add_slash(Landmark("crown"), Landmark("grain-hem"), True, True, "grain")
    session.add_slash(Landmark("underarm-back"), Landmark("underarm-front"), True, True, "bicep")
    session.set_opening("grain", "bicep:end", amount)
    session.check()


def say(session: Session, off: float = 0) -> None:
    """Answers the second task by ``off`` tolerances too much; the tolerance is 1/4 inch, and an inch 25.4 mm."""
    session.go_to_task(2)
    session.answer(f"{session.measures_before()['cap-height'] + off * 25.4 / 4:.9f} mm")


def standing(record: Record, lesson: Lesson) -> LessonProgress:
    return record.progress([lesson])[0]


def test_a_lesson_not_begun(record: Record, lesson: Lesson) -> None:
    assert record.progress([lesson]) == (
        LessonProgress("small", 90, "A small lesson", "not begun", 0, 2, None, 0, None),
    )
    assert record.progress([]) == ()


def test_a_lesson_begun_without_an_attempt(record: Record, lesson: Lesson) -> None:
    before = datetime.now(UTC) - timedelta(seconds=1)
    record.save(Session(lesson, Unit.CM))
    found = standing(record, lesson)
    assert (found.standing, found.passed, found.best_mark, found.tries) == ("begun", 0, None, 0)
    assert found.last is not None
    assert before < found.last <= datetime.now(UTC)


def test_a_lesson_is_passed_when_all_its_tasks_are(record: Record, lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    build(session)
    record.save(session)
    assert (standing(record, lesson).standing, standing(record, lesson).passed) == ("begun", 1)
    say(session)
    record.save(session)
    assert session.passed
    assert (standing(record, lesson).standing, standing(record, lesson).passed) == ("passed", 2)
    assert standing(record, lesson).best_mark == pytest.approx(1, abs=1e-9)
    # Once passed is passed, whatever comes after.
    again = Session(lesson, Unit.CM)
    again.solution()
    record.save(again)
    assert standing(record, lesson).standing == "passed"


def test_tasks_may_be_passed_at_different_sittings(record: Record, lesson: Lesson) -> None:
    first, second = Session(lesson, Unit.CM), Session(lesson, Unit.CM, 7)
    build(first)
    record.save(first)
    say(second)
    record.save(second)
    assert (standing(record, lesson).standing, standing(record, lesson).tries) == ("passed", 2)


def test_a_lesson_is_shown_when_what_is_not_passed_was_given_up(record: Record, lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    session.solution()
    record.save(session)
    assert standing(record, lesson).standing == "begun"
    say(session)
    build(session)
    record.save(session)
    assert standing(record, lesson).standing == "shown"
    again = Session(lesson, Unit.CM)
    build(again)
    record.save(again)
    assert standing(record, lesson).standing == "passed"


def test_the_best_mark_is_the_mean_of_the_tasks_best(record: Record, lesson: Lesson) -> None:
    """Credit falls in a line from all at one tolerance to none at three: a half at two, three quarters at 1.5."""
    session = Session(lesson, Unit.CM)
    for off, best in ((2, 0.5), (2.5, 0.5), (1.5, 0.75), (9, 0.75)):
        say(session, off)
        record.save(session)
        assert standing(record, lesson).best_mark == pytest.approx(best / 2, abs=1e-6)
    assert standing(record, lesson).tries == 4
    build(session)
    record.save(session)
    assert standing(record, lesson).best_mark == pytest.approx((0.75 + 1) / 2, abs=1e-6)


def test_marks_after_the_solution_was_seen_do_not_count(record: Record, lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    say(session, 2)
    session.solution()
    say(session)
    record.save(session)
    found = standing(record, lesson)
    assert found.best_mark == pytest.approx(0.25, abs=1e-6)
    assert found.tries == 2


def test_other_lessons_that_were_begun_follow(record: Record, lesson: Lesson) -> None:
    other = named(lesson, "mine", "My own")
    session = Session(other, Unit.CM)
    say(session)
    record.save(session)
    found = record.progress([lesson])
    assert [(each.lesson, each.standing, each.tasks) for each in found] == [
        ("small", "not begun", 2),
        ("mine", "begun", 2),
    ]
    assert found[1].title == "My own"


# The command.


def shown(capsys: pytest.CaptureFixture[str], *options: str) -> tuple[str, str]:
    """What the command printed, and what it told on the side."""
    assert cli.main(["progress", *options]) == 0
    captured = capsys.readouterr()
    return captured.out, captured.err


@pytest.fixture
def learner(lesson: Lesson) -> datetime:
    """Somebody who has half passed a lesson of her own with a name that a spreadsheet would run; when that was."""
    with open_record() as record:
        session = Session(named(lesson, "mine", '=HYPERLINK("x")\x1b[31m, "quoted"'), Unit.CM)
        say(session, 1.5)
        record.save(session)
        last = record.progress([])[0].last
    assert last is not None
    return last


def test_nothing_done_is_shown_as_such(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "120")
    out, err = shown(capsys)
    assert err == ""
    lines = out.splitlines()
    assert lines[0].split() == ["lesson", "standing", "tasks", "best", "mark", "tries", "last"]
    assert len(lines) == 1 + len(own_lessons())
    for line, lesson in zip(lines[1:], own_lessons(), strict=True):
        assert line.split() == [str(lesson.number), *lesson.title.split(), "not", "begun", f"0/{len(lesson.tasks)}"]


def test_the_table(capsys: pytest.CaptureFixture[str], learner: datetime) -> None:
    out, _ = shown(capsys, "lessons")
    assert "\x1b" not in out
    words = out.splitlines()[-1].split('"quoted"')[1].split()
    assert words == ["begun", "0/2", "37", "1", *f"{learner.astimezone():%Y-%m-%d}".split()]


def test_the_table_for_spreadsheets(capsys: pytest.CaptureFixture[str], learner: datetime) -> None:
    """Read back by Python's csv module; a cell that begins with = would be a formula (OWASP, CSV injection)."""
    out, _ = shown(capsys, "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert len(rows) == len(own_lessons()) + 1
    assert rows[0]["lesson"] == own_lessons()[0].title
    assert rows[-1]["lesson"] == '\'=HYPERLINK("x")\\x1b[31m, "quoted"'
    assert rows[-1]["standing"] == "begun"
    assert float(rows[-1]["best mark"]) == pytest.approx(37.5, abs=1e-3)
    assert (rows[-1]["tries"], rows[-1]["tasks"]) == ("1", "2")
    assert datetime.fromisoformat(rows[-1]["last"]) == learner
    assert rows[0]["best mark"] == rows[0]["last"] == ""


@pytest.mark.parametrize("start", ["=", "+", "-", "@", " =", "  +", "\t=", "\r", "\n-"])
def test_no_cell_is_a_formula(start: str, capsys: pytest.CaptureFixture[str], lesson: Lesson) -> None:
    with open_record() as record:
        record.save(Session(named(lesson, "mine", f"{start}1+2"), Unit.CM))
    out, _ = shown(capsys, "--csv")
    cell = list(csv.reader(io.StringIO(out, newline="")))[-1][1]
    assert cell.isprintable()
    assert cell.lstrip()[0] not in "=+-@"
    assert cell.endswith("1+2")


def test_json(capsys: pytest.CaptureFixture[str], learner: datetime) -> None:
    out, _ = shown(capsys, "--json")
    lessons = json.loads(out)["lessons"]
    assert [each["name"] for each in lessons] == [*(lesson.name for lesson in own_lessons()), "mine"]
    assert lessons[0]["standing"] == "not begun"
    assert lessons[0]["best-mark"] is None
    assert lessons[-1]["best-mark"] == pytest.approx(0.375, abs=1e-6)
    assert datetime.fromisoformat(lessons[-1]["last"]) == learner


def test_csv_and_json_at_once_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["progress", "--csv", "--json"]) == 2
    assert capsys.readouterr().err == "sleeve-tutor: --json: can't be given with --csv; leave one of them out\n"


def test_a_record_that_cannot_be_read_is_told_beside_the_table(capsys: pytest.CaptureFixture[str]) -> None:
    folder = data_folder()
    assert folder is not None
    folder.mkdir(parents=True)
    (folder / "record.db").write_text("nonsense " * 900, encoding="utf-8")
    out, err = shown(capsys, "--json")
    assert len(json.loads(out)["lessons"]) == len(own_lessons())
    assert err.startswith("sleeve-tutor: What was done before, in ")
    assert "record-set-aside-1.db" in err
    assert err.count("\n") == 1


@pytest.mark.parametrize("width", [120, 80, 60, 40])
@pytest.mark.usefixtures("learner")
def test_no_line_is_wider_than_asked_for(
    width: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(width))
    for about in ((), ("lessons",), ("mistakes",), ("weeks",)):
        out, _ = shown(capsys, *about)
        assert max(map(len, out.splitlines())) <= width
