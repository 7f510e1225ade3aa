"""A class marked: every answer kept, nothing marked replaced unasked, one bad file alone."""

from __future__ import annotations

import csv
import io
import tomllib
from pathlib import Path

import pytest
from class_for_tests import CAP_HEIGHT, PLAN, Classroom, classroom, filled

from tutor.classwork.given import GivenPlan
from tutor.classwork.words import given_words


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
        "sleeve-tutor: a-first.toml: end of document: is not TOML: the name of a table is not between brackets;"
        " write it as in [arm], or [[tasks]]",
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
    told = "tove.toml: has another answer of Tove to task 1 than when it was marked"
    assert err == f"sleeve-tutor: {told}; give --replace to have it marked anew\n"
    assert room.marks("Tove")["mark"] == "75"
    other = room.hand_in("second.toml", room.form("Tove", "14 cm"))
    assert "second.toml: is another answer of Tove to task 1 than that of tove.toml" in room.mark(other)[2]
    other.unlink()
    assert room.mark(more=("--replace",))[0] == 0
    assert room.marks("Tove")["mark"] == "100"


@pytest.mark.parametrize(
    ("name", "content", "line"),
    [
        ("x/tove.toml", 'learner = "Tove"\n[[answers]]\ntask = 1\nanswer = "12 or so"\n', '"12 or so" is not a length'),
        ("x/tove.toml", 'learner = "Tove"\n[[answers]]\ntask = 2\nplan = "no.toml"\n', "there is no such file"),
        ("tove-2.svg", "<svg/>", "draws no line"),
        ("x/tove.toml", "learner = ", "is not TOML"),
        ("x/table.csv", "name,1\nTove,12,5\n", "has more cells"),
    ],
)
def test_what_still_can_t_be_read_is_told_alike_each_time(room: Classroom, name: str, content: str, line: str) -> None:
    """Also beside an answer to the same task that is marked, which it was not when both were first seen."""
    filled(room)
    room.hand_in("y/tove-1.toml", room.form("Tove", "3 cm"))
    room.hand_in("y/tove-2.toml", PLAN)
    room.hand_in(name, content)
    first = room.mark()
    assert first[0] == 1
    assert line in first[2]
    assert [room.mark()[::2] for _ in range(2)] == [first[::2]] * 2
    # Without answers it is about all that was handed in before.
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert (status, sorted(err.splitlines())) == (1, sorted(first[2].splitlines()))


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
