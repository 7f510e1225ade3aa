"""The way through the course, practising again, and lessons of one's own."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from tutor.cli import main
from tutor.faults import Fault
from tutor.lesson.listing import own_listing, whole_listing
from tutor.lesson.path import builds_on, next_on_path
from tutor.lesson.reading import check_lesson, find_lesson
from tutor.practice.plain import run_plain
from tutor.practice.session import Session
from tutor.practice.variants import variant_of
from tutor.record import open_record
from tutor.tui.desk import Desk
from tutor.units import Unit


def test_what_lessons_build_on_is_there_and_comes_before() -> None:
    numbers = {lesson.number for lesson in own_listing()}
    for lesson in own_listing():
        assert all(number < lesson.number for number in lesson.after)
        assert set(lesson.after) <= numbers


def test_the_path_goes_by_what_is_done() -> None:
    base = own_listing()[0]
    first, second, third = (replace(base, name=f"l{k}", number=k, after=tuple(range(1, k))) for k in (1, 2, 3))
    lessons = (first, second, third)
    assert builds_on(third, lessons) == (first, second)
    assert next_on_path(lessons, {}) is first
    assert next_on_path(lessons, {"l1": "passed"}) is second
    assert next_on_path(lessons, {"l1": "shown", "l2": "not begun", "l3": "begun"}) is third
    assert next_on_path(lessons, dict.fromkeys(("l1", "l2", "l3"), "passed")) is None


def test_a_task_is_practised_again_on_another_body() -> None:
    output = io.StringIO()
    lesson = find_lesson("4")
    kept: list[Session] = []

    def keep(session: Session) -> str:
        kept.append(session)
        return ""

    run_plain(lesson, io.StringIO("task 2\nagain\nagain\nstart over as written\nquit\n"), output, keep=keep)
    assert list(dict.fromkeys((each.seed, each.task_number) for each in kept))[-3:] == [(1, 2), (2, 2), (None, 1)]
    assert "Variant 2: another arm, another block." in output.getvalue()
    # The second is the lesson's own second, not one drawn from the first; and as written is as it was written.
    second = next(each for each in kept if each.seed == 2)
    assert second.lesson == variant_of(lesson, 2).lesson
    assert kept[-1].lesson == lesson


def test_a_lesson_that_is_not_in_the_list_leads_nobody_astray(tmp_path: Path) -> None:
    elsewhere = structs.replace(find_lesson("4"), name="elsewhere")
    lessons = own_listing()
    with open_record(tmp_path) as record:
        record.save(Session(elsewhere, Unit.CM))
        assert Desk(lessons, record=record).next_lesson() is lessons[0]


def test_a_variant_is_where_the_lesson_goes_on(tmp_path: Path) -> None:
    lesson = find_lesson("4")
    with open_record(tmp_path) as record:
        record.save(Session(lesson, Unit.CM))
        record.save(Session(lesson, Unit.CM, 3))
        assert record.seed_left(lesson) == 3
        assert record.seed_left(find_lesson("5")) is None


def test_a_new_lesson_is_right_and_stands_in_the_list(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path))
    assert main(["lessons", "new", "tight-cuff"]) == 0
    path = Path(capsys.readouterr().out.strip())
    assert path == tmp_path / "lessons" / "tight-cuff.toml"
    assert check_lesson(path) == []
    assert main(["lessons"]) == 0
    assert "101  Tight cuff (after 4)" in capsys.readouterr().out
    assert find_lesson("101").name == "tight-cuff"
    assert main(["lessons", "new", "tight-cuff"]) == 2
    assert "is there already" in capsys.readouterr().err
    assert main(["lessons", "new", 'a "wide" one']) == 0
    assert find_lesson("102").title == 'A "wide" one'
    mine = tmp_path / "lessons" / "mine.toml"
    mine.write_text(path.read_text().replace("number = 101", "number = 4"))
    assert find_lesson("4").name == "04-cap-seam-kept"
    mine.write_text(path.read_text())
    with pytest.raises(Fault, match="give the name of one: mine, tight-cuff"):
        find_lesson("101")


def test_a_lesson_of_ones_own_that_is_broken_leaves_the_list_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path))
    (tmp_path / "lessons").mkdir()
    (tmp_path / "lessons" / "broken.toml").write_text("title = 3\n")
    (tmp_path / "lessons" / "worse.toml").write_bytes(b"\xff\xfe")
    lessons, faults = whole_listing()
    assert lessons == own_listing()
    assert [fault.where.split(":")[0].split("/")[-1] for fault in faults] == ["broken.toml", "worse.toml"]


@pytest.mark.parametrize("name", ["", ".", "..", ".hidden", "04-cap-seam-kept"])
def test_a_name_that_can_not_be_a_lesson_is_refused(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path))
    assert main(["lessons", "new", name]) == 2
    assert capsys.readouterr().err.startswith("sleeve-tutor: new: ")
    assert not (tmp_path / "lessons").exists()


def test_prerequisites_that_can_not_be_are_told(tmp_path: Path) -> None:
    text = Path("lessons/04-cap-seam-kept.toml").read_text().replace("after = [2, 3]", "after = [4, 0]")
    path = tmp_path / "mine.toml"
    path.write_text(text)
    assert [fault.what for fault in check_lesson(path)] == ["is no other lesson's number"] * 2
    with pytest.raises(Fault):
        find_lesson(str(path))


def test_all_of_the_course_is_on_the_path() -> None:
    """From the lessons that build on nothing every other is reached, and the path takes each once, in order."""
    lessons = own_listing()
    assert [lesson.number for lesson in lessons if not lesson.after] == [1]
    standings: dict[str, str] = {}
    taken = []
    while (following := next_on_path(lessons, standings)) is not None:
        assert {each.name for each in builds_on(following, lessons)} <= standings.keys()
        standings[following.name] = "passed"
        taken.append(following.number)
    assert taken == [lesson.number for lesson in lessons]
