"""The homework's own file changed meanwhile: another homework is refused, tasks may be added."""

from __future__ import annotations

import json

import pytest
from class_for_tests import Classroom, filled
from lessons_for_tests import SMALL

SWAPPED = """\
title = "Small homework"

[[tasks]]
lesson = "small.toml"
task = 1

[[tasks]]
lesson = "small.toml"
task = 2
"""
OTHER_LESSON = SWAPPED.replace("small.toml", "other.toml")


def other_lesson(room: Classroom) -> None:
    (room.folder / "other.toml").write_text(SMALL.replace("A small lesson", "Another lesson"), encoding="utf-8")


@pytest.mark.parametrize("again", [(), ("--again",), ("--again", "--write")])
@pytest.mark.parametrize(
    ("homework", "what"),
    [
        (OTHER_LESSON, "register.json: was dealt before other was part of the homework; deal out"),
        (SWAPPED.replace("Small", "Tall"), 'register.json: is of the homework "Small homework"; give each homework'),
        (SWAPPED, "register.json: has task 2 of small as task 1, and now that is task 1 of small; put the tasks back"),
        (
            SWAPPED.partition("[[")[0] + SWAPPED.rpartition("\n\n")[2],
            "register.json: has task 1 of small as task 2, and",
        ),
    ],
)
def test_another_homework_is_refused_whatever_is_asked_of_it(
    room: Classroom, homework: str, what: str, again: tuple[str, ...]
) -> None:
    filled(room).mark()
    other_lesson(room)
    first = room.files()
    (room.folder / "homework.toml").write_text(homework, encoding="utf-8")
    status, out, err = room.again(*again[1:]) if again else room.mark()
    assert (status, out) == (2, "")
    assert what in err
    assert err.count("\n") == 1
    assert room.files() == first


def test_numbers_of_tasks_are_known_by_marks_where_a_register_says_nothing_of_them(room: Classroom) -> None:
    filled(room).mark()
    register = room.register()
    del register["tasks"]
    path = room.out / "register.json"
    path.write_text(json.dumps(register), encoding="utf-8")
    assert room.again()[:2] == (0, "no mark changes\n")
    own = (room.folder / "homework.toml").read_text(encoding="utf-8")
    (room.folder / "homework.toml").write_text(SWAPPED, encoding="utf-8")
    for status, out, err in (room.mark(), room.again(), room.sheet("--force")):
        assert (status, out) == (2, "")
        assert "Anouk's answer to task 1 is kept, and that task is now number 2; put the tasks back" in err
    (room.folder / "homework.toml").write_text(own, encoding="utf-8")
    assert room.mark()[0] == 0
    assert room.register()["tasks"] == ["task 2 of small", "task 1 of small"]


def test_tasks_may_be_added_at_the_end(room: Classroom) -> None:
    room.change("small.toml", '[[tasks]]\nkind = "number"', f'{THIRD}\n[[tasks]]\nkind = "number"')
    room.change("homework.toml", "task = 2", "task = 3")
    (room.out / "register.json").unlink()
    room.enrol()
    filled(room).mark()
    before = room.marks("Anouk")
    with (room.folder / "homework.toml").open("a", encoding="utf-8") as file:
        file.write('\n[[tasks]]\nlesson = "small.toml"\ntask = 2\n')
    room.hand_in("odd.csv", "learner,3\nOdd,33 cm\n")
    status, _, err = room.mark()
    assert (status, err) == (0, "")
    assert [room.marks("Anouk")[f"task {k}"] for k in (1, 2)] == [before[f"task {k}"] for k in (1, 2)] == ["100", "100"]
    assert room.marks("Odd")["task 3"] == "100"
    assert len(room.register()["tasks"]) == 3


THIRD = """\
[[tasks]]
kind = "number"
title = "The girth"
ask = "How wide is the bicep line?"
of = "bicep-girth"
tolerance = "1 mm"
hints = ["one", "two", "three"]
"""


@pytest.mark.parametrize("more", [("nowhere.toml",), ("--again",), ("nowhere.toml", "--class", "class.csv")])
def test_nothing_is_made_before_what_is_needed_is_there(room: Classroom, more: tuple[str, ...]) -> None:
    paths = [room.folder / each if "." in each else each for each in more]
    new = room.folder / "new"
    status, out, err = room.run("mark", room.folder / "homework.toml", *paths, "--out", new)
    assert (status, out) == (2, "")
    assert "there is no such file" in err or "holds nothing that was marked" in err
    assert not new.exists()
    room.change("homework.toml", "due = 2026-11-20", "variants = 2")
    status, _, err = room.run("mark", room.folder / "homework.toml", room.answers, "--out", new)
    assert "holds no register" in err
    assert (status, new.exists()) == (2, False)
