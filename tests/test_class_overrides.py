"""The teacher's own marks beside the automatic ones: kept apart, counted, and told where they make no sense."""

from __future__ import annotations

import json

import pytest
from class_for_tests import CAP_HEIGHT, Classroom, filled


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


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("Tove,1,50,good, but late", "line 3: has more cells than there are headings; part cells as the headings are"),
        ('Tove,1,50,"showed me', "line 3: has a quote that is not closed; close it, or take it away"),
        (f"Tove,1,50,{'x' * 10_001}", "line 3: has a cell of 10001 letters; a short answer is enough"),
    ],
)
def test_one_bad_row_leaves_the_teachers_other_marks_alone(room: Classroom, row: str, what: str) -> None:
    filled(room).mark()
    tove = room.marks("Tove")
    (room.out / "overrides.csv").write_text(
        f"learner,task,mark,reason\nAnouk,2,0,Not her own work\n{row}\nMirjam,1,60,told me\n"
    )
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert (status, err) == (1, f"sleeve-tutor: overrides.csv: {what}\n")
    assert [room.marks("Anouk")["task 2"], room.marks("Mirjam")["task 1"]] == ["0", "60"]
    assert room.marks("Tove") == tove


def test_a_line_in_a_reason_is_no_mark_of_somebody_else_s(room: Classroom) -> None:
    filled(room).mark()
    tove = room.marks("Tove")
    (room.out / "overrides.csv").write_text(
        'learner,task,mark,reason\nAnouk,2,0,"as agreed; compare\nTove,1,100,see there"\nMirjam,1,60,told me\n'
    )
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert (status, err.count("\n")) == (1, 1)
    assert "line 3: stands in a quote that is opened in line 2" in err
    assert [room.marks("Anouk")["task 2"], room.marks("Mirjam")["task 1"]] == ["0", "60"]
    assert room.marks("Tove") == tove


@pytest.mark.parametrize(("given", "shown"), [("80.5", "80.5"), ("80,5 %", "80.5"), ("79.995", "79.995"), ("80", "80")])
def test_the_teachers_mark_is_shown_as_given(room: Classroom, given: str, shown: str) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text(f'learner,task,mark,reason\nTove,1,"{given}",told me\n')
    assert room.run("mark", room.folder / "homework.toml", "--out", room.out)[0] == 0
    (row,) = (each for each in room.table("marks-by-answer.csv") if (each["learner"], each["task"]) == ("Tove", "1"))
    assert (row["automatic mark"], row["teacher's mark"], row["mark"]) == ("0", shown, shown)
    assert room.marks("Tove")["task 1"] == shown
    for name in ("tove.txt", "tove.html"):
        text = " ".join((room.out / "feedback" / name).read_text().split())
        assert f"mark is {shown} of 100 in place of 0: told me" in text
        assert f"{shown} of 100, {'passed' if float(shown) >= 80 else 'not passed'}" in text
    # Where semicolons part the cells, numbers have a decimal comma.
    assert room.run("mark", room.folder / "homework.toml", "--out", room.out, "--semicolons")[0] == 0
    assert f";{shown.replace('.', ',')};" in (room.out / "marks.csv").read_text(encoding="utf-8-sig")


GAVE = "overrides.csv: line 2: gave Tove 50 for task 1 on another answer, 3 cm; now it is 12.5 cm, which earns 100"
"""What is said of a mark that was given to the answer before."""


@pytest.mark.parametrize("seen", [True, False])
def test_a_mark_given_to_another_answer_is_told_until_it_is_settled(room: Classroom, seen: bool) -> None:
    """Also where the row is met for the first time in the run that replaces the answer."""
    filled(room).mark()
    homework, table = (room.folder / "homework.toml", "--out", room.out), room.out / "overrides.csv"
    table.write_text("learner,task,mark,reason\nTove,1,50,She said how\n")
    if seen:
        assert room.run("mark", *homework)[::2] == (0, "")
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT, "tove-2.toml"))
    status, _, err = room.mark(more=("--replace",))
    right = "and 50 counts; take the row away for what the answer earns, or write its reason anew to keep 50"
    assert (status, err) == (1, f"sleeve-tutor: {GAVE}, {right}\n")
    # It is told each time, and to everybody whom it concerns.
    assert room.run("mark", *homework)[::2] == (1, err)
    assert GAVE in (room.out / "class.html").read_text()
    assert room.marks("Tove")["task 1"] == "50"
    assert room.marks("Tove")["note"] == "task 1: the teacher's mark, given to another answer: 3 cm"
    text = " ".join((room.out / "feedback" / "tove.txt").read_text().split())
    assert "mark is 50 of 100 in place of 100: She said how It was given to another answer of yours: 3 cm." in text
    # Taken away, the answer's own mark counts; written anew, the teacher's, and nothing more is said.
    table.write_text("learner,task,mark,reason\nTove,1,50,She was late with it\n")
    assert room.run("mark", *homework)[::2] == (0, "")
    assert room.marks("Tove")["task 1"] == "50"
    table.write_text("learner,task,mark,reason\n")
    assert room.run("mark", *homework)[::2] == (0, "")
    assert room.marks("Tove")["task 1"] == "100"
    assert GAVE not in (room.out / "class.html").read_text()


def test_a_mark_given_where_there_was_no_answer_is_told_once_there_is_one(room: Classroom) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nMirjam,1,90,told me\n")
    assert room.run("mark", room.folder / "homework.toml", "--out", room.out)[0] == 0
    status, _, err = room.mark(room.hand_in("mirjam.toml", room.form("Mirjam", "3")))
    assert status == 1
    assert "gave Mirjam 90 for task 1 on no answer that could be marked; now it is 3, which earns 0" in err
    text = " ".join((room.out / "feedback" / "mirjam.txt").read_text().split())
    assert "It was given when there was no answer of yours that could be marked." in text


def test_notes_of_the_teachers_marks_that_can_t_be_read_are_a_line(room: Classroom) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nTove,1,50,She said how\n")
    (room.out / "kept" / "overridden.json").write_text('{"tove, task 1": {"mark": 1}}')
    status, _, err = room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert (status, err.count("\n")) == (2, 1)
    assert "overridden.json: can't be read any more; take it away, and look through overrides.csv" in err


@pytest.mark.parametrize("meanwhile", ['Tove,1,50,"She said how\nOdd,1,70,told me\n', "Tove,1,50,\n", "", None])
def test_a_mark_whose_row_can_t_be_used_for_a_while_passes_to_no_other_answer(
    room: Classroom, meanwhile: str | None
) -> None:
    """An open quote, an emptied reason, a row that is away, a file that is."""
    filled(room).mark()
    homework, table = (room.folder / "homework.toml", "--out", room.out), room.out / "overrides.csv"
    table.write_text("learner,task,mark,reason\nTove,1,50,She said how\n")
    assert room.run("mark", *homework)[::2] == (0, "")
    table.unlink()
    if meanwhile is not None:
        table.write_text(f"learner,task,mark,reason\n{meanwhile}")
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT, "tove-2.toml"))
    assert GAVE not in room.mark(more=("--replace",))[2]
    room.run("mark", *homework)
    assert room.marks("Tove")["task 1"] == "100"
    table.write_text("learner,task,mark,reason\nTove,1,50,She said how\n")
    status, _, err = room.run("mark", *homework)
    assert (status, err.count("\n")) == (1, 1)
    assert GAVE in err
