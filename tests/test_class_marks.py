"""A class marked: every answer kept, nothing written over unasked, the teacher's marks apart, one bad file alone."""

from __future__ import annotations

import csv
import datetime
import html.parser
import io
import json
import os
import re
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import numpy as np
import pytest
from class_for_tests import CAP_HEIGHT, PLAN, Classroom, classroom
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL
from test_readme import quoted, table

from tutor.classwork import html_page
from tutor.classwork.class_figures import correlation
from tutor.classwork.given import GivenPlan
from tutor.classwork.result import Drawn
from tutor.classwork.words import given_words

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class to which the homework is dealt."""
    room = classroom(tmp_path, capsys)
    room.enrol()
    return room


def filled(room: Classroom) -> Classroom:
    """Three of four have handed in: one all right, one half, one by a table."""
    room.hand_in("anouk.toml", room.form("Anouk", CAP_HEIGHT, "anouk-2.toml"))
    room.hand_in("anouk-2.toml", PLAN)
    room.hand_in("tove.toml", room.form("Tove", "3 cm", "tove-2.toml"))
    room.hand_in("tove-2.toml", PLAN)
    room.hand_in("table.csv", "learner;1;2\r\nOdd;12,5;\r\n")
    return room


def test_a_class_is_marked_in_one_go(room: Classroom) -> None:
    status, out, err = filled(room).mark()
    assert (status, err) == (0, "")
    assert out.startswith("Small homework\n5 answers marked\n3 of 4 learners handed something in, 3 marked")
    assert [room.marks(name)["mark"] for name in ("Anouk", "Tove", "Odd", "Mirjam")] == ["100", "75", "25", ""]
    assert room.marks("Mirjam")["note"] == "nothing handed in"
    assert {"feedback/anouk.html", "feedback/anouk.txt", "class.html", "marks.csv"} <= set(room.files())
    assert "feedback/mirjam.html" not in room.files()


def test_cells_are_parted_by_semicolons_where_that_is_asked_for(room: Classroom) -> None:
    def rows(name: str, sign: str) -> list[list[str]]:
        text = (room.out / name).read_text(encoding="utf-8-sig")
        return list(csv.reader(io.StringIO(text), delimiter=sign))

    filled(room).mark()
    tables = ("marks.csv", "marks-by-answer.csv")
    with_commas = [rows(name, ",") for name in tables]
    assert all(len(table[0]) > 3 for table in with_commas)
    assert room.mark(more=("--semicolons",))[0] == 0
    assert [rows(name, ";") for name in tables] == with_commas


def test_answer_automatic_mark_and_the_teachers_own_are_kept_apart(room: Classroom) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nTove,1,50,She said how she got there\n")
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert (status, err) == (0, "")
    rows = {(row["learner"], row["task"]): row for row in room.table("marks-by-answer.csv")}
    row = rows["Tove", "1"]
    assert row["answer as given"] == "3 cm"
    assert (row["automatic mark"], row["teacher's mark"], row["mark"]) == ("0", "50", "50")
    assert row["reason"] == "She said how she got there"
    assert room.marks("Tove")["mark"] == "87"
    text = " ".join((room.out / "feedback" / "tove.txt").read_text().split())
    assert "Your teacher's mark is 50 of 100 in place of 0: She said how she got there" in text
    kept = json.loads((room.out / "kept" / "marked" / "tove.json").read_text())
    assert kept["1"]["total"] == 0
    assert json.loads((room.out / "kept" / "given" / "tove.json").read_text())["1"]["given"] == {"text": "3 cm"}


def test_the_teachers_marks_count_without_an_answer(room: Classroom) -> None:
    filled(room).mark()
    first = json.loads(room.mark(more=("--json",))[1])
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nMirjam,1,90,told me\nMirjam,2,70,showed me\n")
    status, out, _ = room.run("mark", room.folder / "homework.toml", "--out", room.out, "--json")
    assert status == 0
    row = room.marks("Mirjam")
    assert [row[key] for key in ("task 1", "task 2", "mark")] == ["90", "70", "75"]
    assert row["note"] == "nothing handed in; task 1: the teacher's mark; task 2: the teacher's mark"
    found = json.loads(out)
    assert found["handed-in"] == first["handed-in"] == 3
    assert sorted(found["marks"]) == pytest.approx(sorted([*first["marks"], 0.75]))
    assert [task["answered"] for task in found["tasks"]] == [task["answered"] + 1 for task in first["tasks"]]
    for task, before, mark in zip(found["tasks"], first["tasks"], (0.9, 0.7), strict=True):
        assert task["mean"] == pytest.approx((before["mean"] * 3 + mark) / 4)
    page = (room.out / "class.html").read_text()
    assert "3 of 4 learners handed something in, 1 more with marks of the teacher&#x27;s alone" in page
    # With one task marked the other counts 0, as in the whole.
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nMirjam,1,80,told me\n")
    room.run("mark", room.folder / "homework.toml", "--out", room.out)
    row = room.marks("Mirjam")
    assert [row[key] for key in ("task 1", "task 2", "mark")] == ["80", "0", "20"]


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("Nobody,1,50,why", '"Nobody" is not in the class'),
        ("Tove,9,50,why", '"9" is no task of this homework; write 1 to 2'),
        ("Tove,1,150,why", '"150" is no mark; write 0 to 100'),
        ("Tove,1,nan,why", '"nan" is no mark'),
        ("Tove,1,50,", "gives no reason; say why the mark is another"),
        ("Tove,1,50,why\nTove,1,60,why", "gives a second mark for the same answer"),
    ],
)
def test_a_mark_of_the_teachers_that_makes_no_sense_is_told_and_left_out(room: Classroom, row: str, what: str) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text(f"learner,task,mark,reason\nAnouk,2,0,Not her own work\n{row}\n")
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert status == 1
    assert what in err
    assert err.count("\n") == 1
    assert room.marks("Anouk")["mark"] == "25"


def test_one_bad_file_never_stops_the_rest(room: Classroom) -> None:
    filled(room)
    room.hand_in("a-first.toml", "[")
    room.hand_in("mirjam.toml", room.form("Mirjam", "12 or so", "mirjam-2.toml"))
    room.hand_in("mirjam-2.toml", PLAN)
    status, out, err = room.mark()
    assert status == 1
    assert err.splitlines() == [
        'sleeve-tutor: mirjam.toml: Mirjam, task 1: answer: "12 or so" is not a length;'
        " write a length such as 1 1/2 in, 3.8 cm or 38 mm",
        "sleeve-tutor: a-first.toml: end of document: is not TOML: invalid initial character for a key part;"
        " write TOML 1.0",
    ]
    assert "6 answers marked" in out
    # Neither 0 nor full marks: the answer is open, and with it the whole.
    row = room.marks("Mirjam")
    assert (row["task 1"], row["task 2"], row["mark"]) == ("", "100", "")
    assert row["note"] == "task 1 could not be marked"
    assert room.marks("(a-first.toml)")["mark"] == ""
    assert "could not be marked" in (room.out / "feedback" / "mirjam.txt").read_text()
    assert "a-first.toml" in (room.out / "class.html").read_text()
    # Put right, they are marked, and the lines are gone.
    room.hand_in("mirjam.toml", room.form("Mirjam", CAP_HEIGHT, "mirjam-2.toml"))
    (room.answers / "a-first.toml").unlink()
    room.hand_in("a-first.toml", room.form("Odd", "12,5"))
    status, out, err = room.mark()
    assert (status, err) == (0, "")
    assert room.marks("Mirjam")["mark"] == "100"
    assert "a-first.toml" not in (room.out / "class.html").read_text()


def test_a_form_that_can_t_be_read_gets_its_learner_no_noughts(room: Classroom) -> None:
    """Whose it is, is told by what it is called; a plan beside it is marked all the same."""
    room.hand_in("mirjam.toml", room.form("Mirjam", CAP_HEIGHT).replace('"Mirjam"', '"Mirjam'))
    room.hand_in("mirjam-2.toml", PLAN)
    room.hand_in("somebody.toml", "learner = ")
    status, _, err = room.mark()
    assert status == 1
    assert len(err.splitlines()) == 2
    row = room.marks("Mirjam")
    assert (row["task 1"], row["task 2"], row["mark"]) == ("", "100", "")
    assert row["note"] == "mirjam.toml could not be marked"
    text = (room.out / "feedback" / "mirjam.txt").read_text()
    assert "Something that you handed in could not be marked. mirjam.toml: line 2" in " ".join(text.split())
    assert "No answer was handed in" not in text
    assert room.marks("Tove")["note"] == "nothing handed in"
    room.hand_in("mirjam.toml", room.form("Mirjam", CAP_HEIGHT))
    room.mark()
    assert room.marks("Mirjam")["mark"] == "100"


def test_nothing_that_is_marked_is_replaced_unasked(room: Classroom) -> None:
    filled(room).mark()
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT, "tove-2.toml"))
    status, _out, err = room.mark()
    assert status == 1
    assert "is another answer of Tove to task 1 than that of tove.toml, which is marked" in err
    assert "or give --replace to have the new one marked instead" in err
    assert room.marks("Tove")["mark"] == "75"
    assert room.mark(more=("--replace",))[0] == 0
    assert room.marks("Tove")["mark"] == "100"


def test_the_same_answers_again_change_nothing(room: Classroom) -> None:
    filled(room).mark()
    first = room.files()
    status, out, err = room.mark()
    assert (status, err) == (0, "")
    assert "0 answers marked, 5 were marked before" in out
    assert room.files() == first


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        (PLAN, "a plan: 2 slashes, 1 opening"),
        ('cap-raise = "5 mm"\n', "a plan: redrawing the top of the cap"),
        ('pitch = "5 mm"\nset-back = true\n', "a plan: lifting the cap off, turning the cap"),
        ('[armhole.back]\nwiden = "5 mm"\nlower = 0\n', "a plan: a change of the armhole"),
        ('title = "Nothing"\n', "a plan: nothing in it"),
    ],
)
def test_a_plan_is_told_by_all_its_means(plan: str, said: str) -> None:
    assert given_words(GivenPlan(tomllib.loads(plan)), "anna.toml") == f"{said} (from anna.toml)"


def test_answers_may_come_one_by_one(room: Classroom, tmp_path: Path) -> None:
    filled(room).mark()
    at_once = room.files()
    other = classroom_copy(room, tmp_path / "other")
    for path in [*sorted(other.answers.glob("*.toml"), reverse=True), other.answers / "table.csv"]:
        if not path.name.endswith("-2.toml"):
            assert other.mark(path)[0] == 0
    assert other.files() == at_once


def classroom_copy(room: Classroom, folder: Path) -> Classroom:
    """Another class with the same answers, dealt out anew."""
    folder.mkdir()
    other = classroom(folder, room.capsys)
    for path in room.answers.iterdir():
        other.hand_in(path.name, path.read_bytes())
    other.enrol()
    return other


def test_marking_again_shows_who_changes_before_anything_is_written(room: Classroom) -> None:
    filled(room).mark()
    first = room.files()
    assert room.again()[1] == "no mark changes\n"
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    status, out, _ = room.mark()
    assert "3 of them by an earlier lesson or tolerance; --again shows whose marks would change" in out
    assert room.files() == first
    status, out, _ = room.again()
    assert status == 0
    assert [line.split()[:4] for line in out.splitlines()] == [
        ["learner", "task", "before", "now"],
        ["Tove", "1", "0", "100"],
        ["marks", "of", "1", "learner"],
        ["nothing", "is", "written;", "--again"],
    ]
    assert room.files() == first
    room.again("--write")
    assert room.marks("Tove")["mark"] == "100"
    assert room.again()[1] == "no mark changes\n"


def test_marking_again_keeps_no_mark_that_it_can_t_report(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    for name in ("marks.csv", "feedback/odd.txt"):
        path = room.out / name
        written = path.read_bytes()
        path.write_bytes(written + b"my own note\n")
        first = room.files()
        status, out, err = room.again("--write")
        assert (status, out) == (2, "")
        assert f"{path.name}: was changed since it was written; move it away, or give --force" in err
        assert room.files() == first
        path.write_bytes(written)
    (room.out / "marks.csv").write_text("my own")
    status, out, _ = room.again("--write", "--force")
    assert status == 0
    assert re.search(r"^Tove +1 +0 +100 ", out, re.MULTILINE)
    assert room.marks("Tove")["mark"] == "100"


def test_marking_again_in_json(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    first = room.files()
    found = json.loads(room.again("--json")[1])
    assert room.files() == first
    documented = {
        key: quoted(row[2])
        for row in table("command | key | what it holds")
        if row[0] == "mark --again"
        for key in quoted(row[1])
    }
    assert list(found) == list(documented)
    tove = next(each for each in found["changes"] if each["learner"] == "Tove")
    assert list(tove) == documented["changes"][:5]
    assert list(tove["now"]) == documented["changes"][5:]
    assert (tove["task"], tove["before"]["mark"], tove["now"]["mark"], tove["now"]["passed"]) == (1, 0.0, 1.0, True)
    assert (found["written"], found["faults"]) == (False, [])
    assert json.loads(room.again("--json", "--write")[1])["written"] is True
    assert json.loads(room.again("--json")[1])["changes"] == []


def test_marking_again_tells_what_is_wrong_with_the_teachers_marks(room: Classroom) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nNobody,1,50,why\n")
    assert room.again()[0] == 0
    status, out, err = room.again("--write")
    assert (status, out) == (1, "no mark changes\nwritten\n")
    assert '"Nobody" is not in the class' in err
    (room.out / "overrides.csv").write_text("no table of marks\n")
    first = room.files()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    assert room.again("--write")[0] == 2
    assert room.files() == first


def test_marking_again_counts_what_is_only_said_otherwise(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "5 mm" }')
    status, out, _ = room.again()
    assert status == 0
    found = json.loads(room.again("--json")[1])["changes"]
    assert [(each["learner"], each["before"]["mark"], each["now"]["mark"]) for each in found] == [("Tove", 0.0, 0.0)]
    assert found[0]["before"]["feedback"] != found[0]["now"]["feedback"]
    assert out.splitlines() == [
        "no mark changes",
        "1 answer with the same mark and mistake, and other feedback",
        "nothing is written; --again --write keeps the new marks",
    ]


def test_a_lesson_that_was_corrected_changes_marks_only_when_asked(room: Classroom) -> None:
    filled(room).mark()
    room.change("small.toml", "value = 35\ntolerance = 0.3", "value = 36\ntolerance = 0.1")
    out = room.again()[1]
    assert re.findall(r"^(\w+) +2 +100 +\d+", out, re.MULTILINE) == ["Anouk", "Tove"]
    assert room.marks("Anouk")["mark"] == "100"
    room.again("--write")
    assert int(room.marks("Anouk")["mark"]) < 100


def test_reports_changed_by_hand_are_not_written_over(room: Classroom) -> None:
    filled(room).mark()
    path = room.out / "marks.csv"
    path.write_text(path.read_text() + "my own note\n")
    room.hand_in("mirjam.toml", room.form("Mirjam", CAP_HEIGHT))
    status, _, err = room.mark()
    assert status == 2
    assert "marks.csv: was changed since it was written; move it away, or give --force to write over it" in err
    assert "my own note" in path.read_text()
    assert room.mark(more=("--force",))[0] == 0
    assert room.marks("Mirjam")["mark"] == "25"


# The homework's own file changed meanwhile.


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


# Who, which homework, which variant, when.


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"learner": '"Hedda"'}, "is from Hedda, who is not in the class"),
        ({"homework": '"Another homework"'}, 'answers "Another homework"; this homework is "Small homework"'),
        ({"variant": '"ABCDEF"'}, "gives no variant, ABCDEF; Anouk was dealt"),
        ({"handed_in": "2999-01-01"}, "was handed in on 2999-01-01, which is still to come; put the date right"),
        ({"units": '"ell"'}, '"ell" is not known; write one of cm, in, mm'),
        ({"learner": ""}, "learner: is missing; write a text"),
        ({"learner": '"An\\u001b[31mouk"'}, "has letters that can't be shown"),
        ({"learner": '"An\\u202eouk"'}, "has letters that can't be shown"),
        ({"extra": "1"}, "extra: is no key here"),
        ({"homework": "7"}, "homework: is a number; write a text"),
    ],
)
def test_whose_it_is_must_be_clear(room: Classroom, change: dict[str, str], what: str) -> None:
    room.hand_in("a.toml", room.form("Anouk", CAP_HEIGHT, **change))
    status, _, err = room.mark()
    assert status == 2
    assert what in err
    assert err.count("\n") == 1
    assert room.marks("Anouk")["mark"] == ""


def test_somebody_elses_variant_is_told(room: Classroom) -> None:
    room.change("homework.toml", "due = 2026-11-20", "variants = 2\nseed = 5")
    (room.out / "register.json").unlink()
    room.enrol()
    deals = [each["deal"] for each in room.register()["learners"]]
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT, variant=f'"{deals[0]}"'))
    status, _, err = room.mark()
    assert status == 2
    assert f"tove.toml: gives somebody else's variant, {deals[0]}; Tove was dealt {deals[1]}" in err


def test_a_late_answer_is_marked_and_said_to_be_late(room: Classroom) -> None:
    today = datetime.date.today()
    room.change("homework.toml", "due = 2026-11-20", f"due = {today - datetime.timedelta(days=3)}")
    on = (today - datetime.timedelta(days=2)).isoformat()
    room.hand_in("anouk.toml", room.form("Anouk", CAP_HEIGHT, handed_in=on))
    assert room.mark()[0] == 0
    assert room.marks("Anouk")["note"] == "late"
    assert room.marks("Anouk")["handed in"] == on
    assert "Handed in after the day it was due." in (room.out / "feedback" / "anouk.txt").read_text()


def test_names_are_known_however_they_are_typed(room: Classroom) -> None:
    room.hand_in("a.csv", "name,1\n  ANOUK ,12.5\n")
    assert room.mark()[0] == 0
    assert room.marks("Anouk")["task 1"] == "100"


def test_without_a_register_whoever_hands_in_is_of_the_class(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    room = classroom(tmp_path, capsys)
    room.hand_in("a.csv", "name,1\nHedda,12.5\nEsra,3\n")
    assert room.mark()[0] == 0
    assert [row["learner"] for row in room.table("marks.csv")] == ["Hedda", "Esra"]
    room.hand_in("b.csv", "name,1\nIngrid,12.5\n")
    assert room.mark()[0] == 0
    assert [row["mark"] for row in room.table("marks.csv")] == ["25", "0", "25"]


def test_with_a_class_list_and_no_sheets_variants_are_dealt_as_sheets_would(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    room = classroom(tmp_path, capsys)
    room.change("homework.toml", "due = 2026-11-20", "variants = 2\nseed = 5")
    room.hand_in("a.csv", "name,1\nTove,12.5\n")
    status, _, err = room.mark()
    assert status == 2
    assert "holds no register, so nobody can tell who was dealt which variant" in err
    assert room.mark(more=("--class", str(room.folder / "class.csv")))[0] == 0
    marked = room.register()
    (room.out / "register.json").unlink()
    room.sheet()
    assert room.register()["deals"] == marked["deals"]


# Tables of a class.


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("Tove;62;2,4;x", "line 4: has more cells than there are headings; part cells as the headings are"),
        ("Tove;" + "6" * 10_001 + ";", "line 4: has a cell of 10001 letters; a short answer is enough"),
        ('Tove;"12,5;', "line 4: has a quote that is not closed; close it, or take it away"),
    ],
)
def test_one_bad_row_leaves_the_other_rows_of_a_table_alone(room: Classroom, row: str, what: str) -> None:
    room.hand_in("table.csv", f"Name;1;2\nAnouk;12,5;\nOdd;3;\n{row}\nMirjam;12,5;\n")
    status, out, err = room.mark()
    assert status == 1
    assert err == f"sleeve-tutor: table.csv: {what}\n"
    assert "3 answers marked" in out
    assert [room.marks(name)["task 1"] for name in ("Anouk", "Odd", "Mirjam", "Tove")] == ["100", "0", "100", ""]
    assert room.marks("Tove")["note"] == "table.csv: line 4 could not be marked"


def test_a_cell_may_hold_several_lines_and_the_last_quote_may_be_missing(room: Classroom) -> None:
    room.hand_in("table.csv", 'name,note,1\nTove,"one\ntwo",12.5\nOdd,"one\n""two""",12.5\nMirjam,,"12.5\n')
    assert room.mark()[::2] == (0, "")
    assert [room.marks(name)["task 1"] for name in ("Tove", "Odd", "Mirjam")] == ["100", "100", "100"]


@pytest.mark.parametrize("text", ["2025-11-18", "18-11-2025", "18.11.2025", "18/11/2025", "11/18/2025", "2025/11/18"])
def test_a_day_is_read_as_spreadsheets_rewrite_it(room: Classroom, text: str) -> None:
    room.hand_in("table.csv", f"name,1,handed-in\nTove,12.5,{text}\n")
    assert room.mark()[0] == 0
    assert room.marks("Tove")["handed in"] == "2025-11-18"


def test_a_day_that_is_its_own_mirror_is_plain(room: Classroom) -> None:
    room.hand_in("table.csv", "name,1,handed-in\nTove,12.5,11/11/2025\n")
    assert room.mark()[0] == 0
    assert room.marks("Tove")["handed in"] == "2025-11-11"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("05/11/2025", '"05/11/2025" can mean two days, 2025-11-05 and 2025-05-11; write year, month and day'),
        ("31/11/2025", '"31/11/2025" is no date; write it as 2026-11-18'),
        ("18-11.2025", '"18-11.2025" is no date'),
        ("18-11-25", '"18-11-25" is no date'),
        ("yesterday", '"yesterday" is no date'),
    ],
)
def test_a_day_that_is_not_plain_is_told(room: Classroom, text: str, what: str) -> None:
    room.hand_in("table.csv", f"name,1,handed-in\nTove,12.5,{text}\nOdd,12.5,\n")
    status, _, err = room.mark()
    assert status == 1
    assert f"table.csv: line 2, handed-in: {what}" in err
    assert [room.marks(name)["task 1"] for name in ("Tove", "Odd")] == ["", "100"]


def test_only_a_bare_number_or_a_task_by_name_heads_a_task(room: Classroom) -> None:
    room.hand_in("table.csv", "name,2nd name,3.5 hours,1 more,Task 1: cap height\nTove,Maria,x,y,12.5\n")
    status, out, err = room.mark()
    assert (status, err) == (0, "")
    assert "1 answer marked" in out
    assert room.marks("Tove")["task 1"] == "100"


# One form.


@pytest.mark.parametrize(
    ("answers", "what"),
    [
        ("[[answers]]\ntask = 9\nanswer = '1'", "answers task 9; this homework has tasks 1 to 2"),
        ("[[answers]]\ntask = -1\nanswer = '1'", "gives an answer to no task"),
        ("[[answers]]\nanswer = '1'", "answers 1, task: is missing"),
        ("[[answers]]\ntask = 1\nanswer = '1'\nplan = 'a.toml'", "gives both answer and plan"),
        ("[[answers]]\ntask = 1\nanswer = nan", '"nan" is not a length'),
        ("[[answers]]\ntask = 1\nanswer = inf", '"inf" is not a length'),
        ("[[answers]]\ntask = 1\nanswer = true", "answer: is true or false"),
        ("[[answers]]\ntask = 1\nanswer = 2026-01-01", "answer: is a date or time"),
        ("[[answers]]\ntask = 1\nanswer = '1/0 in'", "divides by zero"),
        ("[[answers]]\ntask = 1\nanswer = '1.234,5'", "can mean two numbers"),
        ("[[answers]]\ntask = 1\nplan = 'p.toml'", "p.toml: there is no such file"),
        ("[[answers]]\ntask = 2\nanswer = '3 cm'", "is a figure or a word, and this task asks for an alteration"),
        (
            "[[answers]]\ntask = 1\n[answers.plan]\ntitle = 'x'",
            "is no figure or word, and that is what this task asks for",
        ),
        ("[[answers]]\ntask = 2\nplan = '../secret.toml'", "is no name of a file beside this one"),
        ("[[answers]]\ntask = 2\nplan = '/etc/passwd'", "is no name of a file beside this one"),
        ("[[answers]]\ntask = 2\nplan = 'C:\\\\p.toml'", "is no name of a file beside this one"),
        ("[[answers]]\ntask = 2\nplan = '.hidden.toml'", "is no name of a file beside this one"),
        ("[[answers]]\ntask = 2\nplan = 'p.svg'", "is no file for this; give one that ends in .toml"),
        ("[[answers]]\ntask = 2\n[answers.plan]\nslash = 3", "slash: is a whole number; write a list"),
        (
            "[[answers]]\ntask = 2\n[[answers.plan.opening]]\nslash = 'a'\nat = 0\nfor = { measure = 'kink' }",
            "opening 1",
        ),
        ("answers = 3", "answers: are no tables"),
        ("[[answers]]\ntask = 1\nanswer = '1'\n[[answers]]\ntask = 1\nanswer = '2'", "answers task 1 twice"),
    ],
)
def test_an_answer_that_makes_no_sense_is_told_with_its_place(room: Classroom, answers: str, what: str) -> None:
    room.hand_in("anouk.toml", f"{room.form('Anouk')}\n{answers}\n")
    status, _, err = room.mark()
    assert status == 2
    assert what in err
    assert err.startswith("sleeve-tutor: anouk.toml")
    assert err.count("\n") == 1
    assert room.marks("Anouk")["mark"] == ""


def test_an_opening_that_is_solved_for_is_no_answer(room: Classroom) -> None:
    room.hand_in("anouk.toml", room.form("Anouk", "", "p.toml"))
    room.hand_in("p.toml", PLAN.replace('amount = "2.05 cm"', 'for = { measure = "bicep-girth", value = "35 cm" }'))
    _, _, err = room.mark()
    assert "says what it is for, and not by how much; give its amount: that is the answer" in err


def test_a_plan_may_stand_in_the_form_itself(room: Classroom) -> None:
    inside = PLAN.replace("[[slash]]", "[[answers.plan.slash]]").replace("[[opening]]", "[[answers.plan.opening]]")
    room.hand_in("anouk.toml", f"{room.form('Anouk')}\n[[answers]]\ntask = 2\n{inside}")
    assert room.mark()[0] == 0
    assert room.marks("Anouk")["task 2"] == "100"


def test_a_plan_that_lies_beside_the_forms_is_known_by_its_name(room: Classroom) -> None:
    room.hand_in("anouk-2.toml", PLAN)
    room.hand_in("hedda-2.toml", PLAN)
    status, _, err = room.mark()
    assert status == 1
    assert err == (
        "sleeve-tutor: hedda-2.toml: belongs to no learner of the class;"
        " name it in a form, or call it by learner and task, such as anouk-2.svg\n"
    )
    assert room.marks("Anouk")["task 2"] == "100"


def test_paper_that_refuses_gets_no_marks_and_is_told_why(room: Classroom) -> None:
    room.hand_in("anouk-2.toml", PLAN.replace('to = "grain-hem"', "to = { x = 0, y = 10 }"))
    assert room.mark()[0] == 0
    assert room.marks("Anouk")["task 2"] == "0"
    assert "Paper can't do this." in (room.out / "feedback" / "anouk.txt").read_text()


# Files that are none.


def test_links_devices_and_pipes_are_left_alone(room: Classroom, tmp_path: Path) -> None:
    filled(room)
    secret = tmp_path / "secret.toml"
    secret.write_text(room.form("Mirjam", CAP_HEIGHT))
    (room.answers / "link.toml").symlink_to(secret)
    (room.answers / "out").symlink_to(tmp_path)
    os.mkfifo(room.answers / "pipe.toml")
    room.hand_in("mirjam.toml", room.form("Mirjam", "", "away.toml"))
    (room.answers / "away.toml").symlink_to(secret)
    start = time.monotonic()
    status, _, err = room.mark()
    assert time.monotonic() - start < 10
    assert status == 1
    assert sorted(err.splitlines()) == [
        "sleeve-tutor: away.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: link.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: mirjam.toml: away.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: out: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: pipe.toml: is no plain file; give a file that holds an answer",
    ]
    assert room.marks("Anouk")["mark"] == "100"
    status, _, err = room.mark(Path("/dev/zero"))
    assert (status, err) == (2, "sleeve-tutor: zero: is no answer known here; give TOML, CSV or SVG files\n")


def test_a_gigabyte_of_zeros_is_not_read(room: Classroom) -> None:
    for name in ("zeros.toml", "zeros.csv", "zeros.svg", "anouk-2.svg"):
        with (room.answers / name).open("wb") as file:
            file.truncate(1_000_000_000)
    start = time.monotonic()
    status, _, err = room.mark()
    assert time.monotonic() - start < 5
    assert status == 2
    assert err.count("B; a smaller file is enough\n") == 3
    assert "zeros.toml: is over 256 KB; a smaller" in err
    assert "zeros.svg: belongs to no learner of the class" in err


def test_other_files_are_told_and_hidden_ones_passed_over(room: Classroom) -> None:
    room.hand_in("photo.jpg", b"\xff\xd8\xff")
    room.hand_in(".DS_Store", b"\0\0\0\1")
    room.hand_in("anouk-sheet-3.svg", "<svg/>")
    room.hand_in("inner/tove.toml", room.form("Tove", CAP_HEIGHT))
    status, _, err = room.mark()
    assert status == 1
    assert err == "sleeve-tutor: photo.jpg: is no answer known here; give TOML, CSV or SVG files\n"
    assert room.marks("Tove")["task 1"] == "100"


def test_nothing_is_written_outside_the_folder(room: Classroom, tmp_path: Path) -> None:
    (room.folder / "class.csv").write_text('name\n"../../../escaped"\n"/etc/passwd"\n"..\\\\up"\n')
    (room.out / "register.json").unlink()
    before = {path for path in tmp_path.rglob("*") if not path.is_relative_to(room.out)}
    room.sheet("--force")
    room.hand_in("a.csv", 'name,1\n"../../../escaped",12.5\n/etc/passwd,12.5\n')
    before |= {room.answers / "a.csv"}
    room.mark()
    assert {path for path in tmp_path.rglob("*") if not path.is_relative_to(room.out)} == before


def test_a_folder_that_is_a_link_is_not_written_through(room: Classroom, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (room.out / "feedback").rmdir()
    (room.out / "feedback").symlink_to(elsewhere)
    status, _, err = filled(room).mark()
    assert status == 2
    assert "feedback: is a link; nothing is written through links: name the folder itself" in err
    assert list(elsewhere.iterdir()) == []


# Two at once, and killed half way.


def mark_in_a_process(room: Classroom, *answers: Path) -> subprocess.Popen[bytes]:
    arguments = [sys.executable, "-m", "tutor", "mark", room.folder / "homework.toml", *answers, "--out", room.out]
    return subprocess.Popen(list(map(str, arguments)), cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)


def crowded(room: Classroom, count: int) -> Classroom:
    """A class of many, each with a form of their own."""
    names = [f"Learner {k}" for k in range(count)]
    (room.folder / "class.csv").write_text("\n".join(["name", *names]) + "\n")
    (room.out / "register.json").unlink()
    room.enrol()
    for k, name in enumerate(names):
        room.hand_in(f"{k:03}.toml", room.form(name, f"{8 + k % 9} cm", f"{k:03}-p.toml"))
        room.hand_in(f"{k:03}-p.toml", PLAN.replace("2.05", f"{1 + k % 3}.05"))
    return room


def test_two_runs_at_once_lose_nothing(room: Classroom) -> None:
    crowded(room, 16)
    forms = sorted(path for path in room.answers.glob("*.toml") if not path.name.endswith("-p.toml"))
    runs = [mark_in_a_process(room, *forms[k::3]) for k in range(3)]
    assert [(run.wait(120), run.stderr.read() if run.stderr else b"") for run in runs] == [(0, b"")] * 3
    for run in runs:
        assert run.stderr is not None
        run.stderr.close()
    at_once = room.files()
    assert len([row for row in room.table("marks.csv") if row["mark"]]) == 16
    room.mark()
    assert room.files() == at_once


def test_killed_half_way_and_run_again_it_ends_with_the_same_bytes(room: Classroom, tmp_path: Path) -> None:
    crowded(room, 16)
    for k in range(4):
        run = mark_in_a_process(room, room.answers)
        enough = 4 * k
        while len(list((room.out / "kept" / "marked").glob("*.json"))) < enough and run.poll() is None:
            time.sleep(0.002)
        run.kill()
        run.wait(60)
        assert run.stderr is not None
        run.stderr.close()
    room.mark()
    killed = room.files()
    for path in [*sorted((room.out / "kept").rglob("*.json")), room.out / "marks.csv"]:
        path.unlink()
    room.mark(more=("--force",))
    assert room.files() == killed
    assert not list(room.out.rglob("*.part"))


# Pages.


class Tags(html.parser.HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</title><svg/onload=1>",
    "javascript:x",
    "\x1b[31m\u202e",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_pages_hold_no_markup_but_their_own(room: Classroom, words: str) -> None:
    shown = words if words.isprintable() else "Odd"
    (room.folder / "class.csv").write_text(f'name\nAnouk\n"{shown.replace(chr(34), chr(34) * 2)}"\n')
    (room.out / "register.json").unlink()
    room.sheet("--force")
    room.hand_in(
        "a.csv",
        f'name,1\nAnouk,12.5\n"{shown.replace(chr(34), chr(34) * 2)}","{words.replace(chr(34), chr(34) * 2)}"\n',
    )
    room.mark()
    pages = list(room.out.rglob("*.html"))
    assert len(pages) >= 3
    for path in pages:
        tags = Tags()
        tags.feed(path.read_text())
        assert tags.tags <= {
            *("html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "section", "ul", "li"),
            *("table", "tr", "th", "td", "svg", "path", "rect", "text"),
        }
        assert not [name for name, _ in tags.attributes if name.startswith("on") or name in ("src", "href", "style")]
        policy = next(value for name, value in tags.attributes if value and "default-src" in value)
        assert policy.startswith("default-src 'none'; style-src 'sha256-")
        assert "unsafe" not in policy


def test_the_policy_knows_the_style_by_its_digest(room: Classroom) -> None:
    """A style element's hash covers its text alone (W3C, Content Security Policy Level 3, 6.7.3)."""
    import base64
    import hashlib

    filled(room).mark()
    text = (room.out / "feedback" / "anouk.html").read_text()
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    assert style is not None
    digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert f"&#x27;sha256-{digest}&#x27;" in text


@given(st.text())
def test_any_text_stays_text(words: str) -> None:
    tags = Tags()
    page = html_page.page(words, [html_page.paragraph(words), *html_page.bullets([words])])
    tags.feed(page)
    assert tags.tags <= {"html", "head", "meta", "title", "style", "body", "p", "ul", "li"}
    assert "\x1b" not in page
    assert html_page.pictures([[Drawn("before", "M0,0L1,1")]], [words])


def test_feedback_shows_the_pattern_before_as_handed_in_and_as_wanted(room: Classroom) -> None:
    filled(room).mark()
    text = (room.out / "feedback" / "tove.html").read_text()
    for words in ("before", "as wanted", "yours"):
        assert words in text
    assert text.count("<path d=") >= 6
    assert "bicep girth" in text


# Figures of the class.


@given(st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=3, max_size=30))
def test_correlation_is_pearsons(pairs: list[tuple[float, float]]) -> None:
    """Held against numpy's."""
    found = correlation(pairs)
    xs, ys = np.array(pairs).T
    if found is None:
        assert min(np.var(xs), np.var(ys)) * len(pairs) < 1e-11
    else:
        assert found == pytest.approx(float(np.corrcoef(xs, ys)[0, 1]), abs=1e-6)


def test_the_class_page_tells_spread_difficulty_discrimination_and_mistakes(room: Classroom) -> None:
    filled(room)
    room.hand_in("mirjam.toml", room.form("Mirjam", "31.8 cm", "mirjam-2.toml"))
    room.hand_in("mirjam-2.toml", PLAN.replace("2.05", "4.1"))
    _status, out, _ = room.mark(more=("--json",))
    figures = json.loads(out)
    keys = {
        key: quoted(row[2])
        for row in table("command | key | what it holds")
        if row[0] == "mark"
        for key in quoted(row[1])
    }
    assert list(figures) == list(keys)
    tasks = figures["tasks"]
    assert list(tasks[0]) == keys["tasks"]
    assert [task["answered"] for task in tasks] == [4, 3]
    assert [task["passed"] for task in tasks] == [2, 2]
    assert tasks[1]["mistakes"] == {"per-side": 1}
    assert tasks[0]["mean"] == pytest.approx(0.5)
    # Marks of task 1 are 1, 0, 1, 0 and those of the other 1, 1, 0 and what Mirjam has.
    rest = [1, 1, 0, float(room.marks("Mirjam")["task 2"]) / 100]
    assert tasks[0]["discrimination"] == pytest.approx(float(np.corrcoef([1, 0, 1, 0], rest)[0, 1]), abs=0.01)
    page = (room.out / "class.html").read_text()
    assert "One side&#x27;s amount given for the whole, or each side counted for both." in page
    assert "What to teach again" in page
    assert page.count("<rect") == 10
