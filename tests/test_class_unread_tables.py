"""Tables of the class that can't be read: nobody gets noughts because of one, or passes for one who did nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from class_for_tests import CAP_HEIGHT, NAMES, PLAN, Classroom, classroom

from tutor.classwork.csv_table import read_rows

BAD_BYTES = "name,1,2\nAnouk,12.5,\nRené,3,\n".encode("latin-1")
FIRST_ALONE = ["100", "", ""]
"""The first task right, the second open, and so the whole."""
LEFT_OUT = ["100", "0", "25"]
NOTHING = ["", "", ""]


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class to which the homework is dealt, of whom Mirjam has answered the first task and Odd both."""
    room = classroom(tmp_path, capsys)
    room.enrol()
    room.hand_in("z/mirjam.toml", room.form("Mirjam", CAP_HEIGHT))
    room.hand_in("z/odd.toml", room.form("Odd", CAP_HEIGHT, "odd-2.toml"))
    room.hand_in("z/odd-2.toml", PLAN)
    return room


def row(room: Classroom, learner: str) -> list[str]:
    return [room.marks(learner)[key] for key in ("task 1", "task 2", "mark")]


@pytest.mark.parametrize(
    ("name", "content", "line"),
    [
        ("table.csv", BAD_BYTES, "line 3: is not UTF-8 text"),
        ("table.csv", "name,1\nTove,12.5\n".encode("utf-16-le"), "is no text: it holds zero bytes"),
        ("table.csv", b"student,1,2\nAnouk,12.5,\n", "has no column called name"),
        ("table.csv", b"name,1,1\nAnouk,12.5,3\n", 'line 1: has two columns called "1"'),
        ("table.csv", b"", "is empty"),
        ("table.csv", b"name,first\n,12.5\n", "has no column for a task"),
        ("table.csv", b"name,1\n" + b"x,1\n" * 20_001, "has more than 20,000 rows"),
        ("table.xlsx", b"PK\x03\x04", "is no answer known here"),
    ],
)
def test_a_table_that_can_t_be_read_leaves_open_whatever_it_may_have_held(
    room: Classroom, name: str, content: bytes, line: str
) -> None:
    room.hand_in(name, content)
    status, out, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert f"{name}: {line}" in err
    assert "2 of 4 learners handed something in, 1 marked as a whole" in out
    assert row(room, "Mirjam") == FIRST_ALONE
    assert room.marks("Mirjam")["note"] == f"{name} could not be read, and may hold answers"
    assert row(room, "Tove") == NOTHING
    assert room.marks("Tove")["note"] == f"nothing else handed in; {name} could not be read, and may hold answers"
    # Who has answered everything has nothing left that it could hold.
    assert (row(room, "Odd"), room.marks("Odd")["note"]) == (["100", "100", "100"], "")
    assert room.mark()[::2] == (status, err)


def test_a_link_to_a_table_leaves_its_answers_open(room: Classroom) -> None:
    (room.folder / "elsewhere.csv").write_text("name,2\nMirjam,3\n")
    (room.answers / "table.csv").symlink_to(room.folder / "elsewhere.csv")
    assert room.mark()[0] == 1
    assert row(room, "Mirjam") == FIRST_ALONE


def test_learners_are_told_that_a_table_may_hold_their_answer(room: Classroom) -> None:
    room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    text = " ".join((room.out / "feedback" / "mirjam.txt").read_text().split())
    told = "The whole is not marked yet. A table of the class could not be read, and may hold answers of yours."
    # What is wrong with it is the teacher's to mend.
    assert f"{told} Task 1." in text
    page = (room.out / "class.html").read_text()
    assert "table.csv: line 3: is not UTF-8 text" in page
    assert "It may hold answers of 4 learners: what they seem to have left out stays open" in page
    assert "Your answer may be in a table that could not be read, so nobody knows it yet." in text
    assert "No answer was handed in" not in text
    # Of Tove nothing is known that could be said to her.
    assert not (room.out / "feedback" / "tove.txt").exists()


def test_the_teachers_own_mark_makes_no_nought_of_the_rest(room: Classroom) -> None:
    room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nTove,1,90,told me\n")
    room.run("mark", room.folder / "homework.toml", "--out", room.out)
    assert row(room, "Tove") == ["90", "", ""]
    assert "The whole is not marked yet." in (room.out / "feedback" / "tove.txt").read_text()


def test_of_a_table_that_tells_its_learners_it_is_theirs_alone(room: Classroom) -> None:
    room.hand_in("table.csv", "name,first\nTove,12.5\nAnouk,3\n")
    assert room.mark()[0] == 1
    assert row(room, "Mirjam") == LEFT_OUT
    assert room.marks("Tove")["note"] == "nothing else handed in; table.csv could not be read, and may hold answers"
    room.hand_in("second.csv", "name,first\nMirjam,3\n")
    room.mark()
    assert row(room, "Mirjam") == FIRST_ALONE


@pytest.mark.parametrize("name", ["mirjam.csv", "mirjam/table.csv"])
def test_a_table_called_as_a_learner_s_is_that_learner_s(room: Classroom, name: str) -> None:
    room.hand_in(name, BAD_BYTES)
    assert room.mark()[0] == 1
    assert row(room, "Mirjam") == FIRST_ALONE
    assert room.marks("Mirjam")["note"] == f"{name} could not be marked"
    assert room.marks("Tove")["note"] == "nothing handed in"


def test_a_list_of_names_holds_no_answers(room: Classroom) -> None:
    room.hand_in("class.csv", (room.folder / "class.csv").read_bytes())
    assert room.mark()[0] == 1
    assert row(room, "Mirjam") == LEFT_OUT
    assert room.marks("Tove")["note"] == "nothing handed in"


# Quotes that take in the rows of others.


@pytest.mark.parametrize(
    ("rows", "broken"),
    [
        ('Anouk,"12.5\nTove,12.5\nMirjam,"12.5\nOdd,12.5\n', [2, 4]),
        ('"Anouk,12.5\nTove,12.5\n"Mirjam,12.5\nOdd,12.5\n', [2, 4]),
        ('Anouk,12.5\n"Tove,12.5\nMirjam,"12.5"\nOdd,12.5\n', [3]),
        ('Anouk,"12.5\n"Tove","12.5"\n"Mirjam",12.5\n"Odd",12.5\n', [2]),
    ],
)
def test_a_quote_never_closed_takes_in_nobody_s_row(room: Classroom, rows: str, broken: list[int]) -> None:
    table = room.hand_in("table.csv", f"name,1\n{rows}")
    status, _, err = room.mark(table)
    assert status == 1
    assert err == "".join(
        f"sleeve-tutor: table.csv: line {line}: has a quote that is not closed; close it, or take it away\n"
        for line in broken
    )
    lines = {name: 2 + k for k, name in enumerate(("Anouk", "Tove", "Mirjam", "Odd"))}
    for name in NAMES:
        is_broken = lines[name] in broken
        assert room.marks(name)["task 1"] == ("" if is_broken else "100")
        assert room.marks(name)["note"] == (f"table.csv: line {lines[name]} could not be marked" if is_broken else "")


@pytest.mark.parametrize("name", ["Tove", "Mirjam"])
def test_a_line_in_a_cell_of_somebody_s_is_nobody_else_s_row(room: Classroom, name: str) -> None:
    room.hand_in("table.csv", f'name,1,2,remark\nAnouk,12.5,,"fine\n{name},3 cm,,\nthanks"\nTove,12.5,,\n')
    status, _, err = room.mark()
    assert (status, err) == (
        1,
        "sleeve-tutor: table.csv: line 3: stands in a quote that is opened in line 2;"
        " close that quote before it, if it is a row of its own\n",
    )
    assert row(room, "Anouk") == LEFT_OUT
    assert room.marks("Tove")["task 1"] == "100"
    # Mirjam's own form is marked; what she left out is open, as the line might be a row of hers after all.
    assert row(room, "Mirjam") == (FIRST_ALONE if name == "Mirjam" else LEFT_OUT)


@pytest.mark.parametrize(
    ("rows", "broken"),
    [
        ('"Berg, Anouk","12.5,\n"Lind, Tove",12.5,\n"Moe, Odd",12.5,\n', "Berg, Anouk"),
        ('"Berg, Anouk",12.5,\n"Lind, Tove,12.5,\n"Moe, Odd",12.5,\n', "Lind, Tove"),
    ],
)
def test_an_open_quote_takes_in_no_row_of_a_name_with_a_comma(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], rows: str, broken: str
) -> None:
    names = ("Berg, Anouk", "Lind, Tove", "Moe, Odd")
    room = classroom(tmp_path, capsys)
    (room.folder / "class.csv").write_text("name\n" + "".join(f'"{name}"\n' for name in names))
    room.enrol()
    room.hand_in("table.csv", f"name,1,2\n{rows}")
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert "has a quote that is not closed" in err
    assert {name: room.marks(name)["task 1"] for name in names} == {
        name: "" if name == broken else "100" for name in names
    }


def test_a_cell_of_several_lines_stays_one_where_no_row_begins_in_it() -> None:
    content = b'name,note\nTove,"one\nAnouk\nand Odd, too"\n'
    (only,) = read_rows(content, "t.csv", lambda cells: bool({"Anouk", "Odd"} & set(cells))).rows
    assert only.cells == {"name": "Tove", "note": "one\nAnouk\nand Odd, too"}
    assert only.fault is None


@pytest.mark.parametrize("row_of_nobody", [",12.5,", '"Lind, A,12.5,', "Lind, A,12.5,3"])
def test_a_row_that_nobody_can_be_told_by_may_be_anybody_s_who_has_none(room: Classroom, row_of_nobody: str) -> None:
    room.hand_in("table.csv", f"name,1,2\nTove,12.5,\n{row_of_nobody}\nOdd,12.5 cm,\n")
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert row(room, "Mirjam") == FIRST_ALONE
    assert "nothing else handed in; table.csv: line 3" in room.marks("Anouk")["note"]
    assert (row(room, "Tove"), room.marks("Tove")["note"]) == (LEFT_OUT, "")


# What ends it.


def lines_kept(room: Classroom) -> list[str]:
    return [each["learner"] for each in room.table("marks.csv") if each["learner"].startswith("(")]


def test_a_table_put_right_ends_it(room: Classroom) -> None:
    room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    room.hand_in("table.csv", "name,1\nAnouk,12.5\n")
    assert room.mark()[::2] == (0, "")
    assert lines_kept(room) == []
    assert (row(room, "Mirjam"), row(room, "Anouk")) == (LEFT_OUT, LEFT_OUT)
    assert room.marks("Tove")["note"] == "nothing handed in"


def test_under_another_name_it_ends_for_those_whose_rows_are_marked(room: Classroom) -> None:
    table = room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    better = room.hand_in("better.csv", "name,1\nAnouk,12.5\n")
    assert room.mark(better)[::2] == (0, "")
    assert row(room, "Anouk") == LEFT_OUT
    assert row(room, "Mirjam") == FIRST_ALONE
    assert "table.csv could not be read" in room.marks("Tove")["note"]
    # A form of one's own is not that row.
    assert room.mark(room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT)))[0] == 0
    assert row(room, "Tove") == FIRST_ALONE
    # Taken away, nobody waits for it any more, and that is said.
    table.unlink()
    status, out, err = room.mark()
    assert (status, err) == (0, "")
    assert "table.csv, which could not be read, is gone: no task is left open for it any more" in out
    assert [row(room, name) for name in ("Tove", "Mirjam")] == [LEFT_OUT, LEFT_OUT]
    assert lines_kept(room) == []
    assert "is gone" not in room.mark()[1]


def test_a_table_taken_away_is_seen_to_be_gone_without_any_answers(room: Classroom) -> None:
    table = room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    homework = (room.folder / "homework.toml", "--out", room.out)
    assert room.run("mark", *homework)[0] == 1
    assert row(room, "Mirjam") == FIRST_ALONE
    table.unlink()
    status, out, err = room.run("mark", *homework)
    assert (status, err) == (0, "")
    assert "table.csv, which could not be read, is gone: no task is left open for it any more" in out
    assert (row(room, "Mirjam"), lines_kept(room)) == (LEFT_OUT, [])


def test_another_table_marked_before_ends_nothing(room: Classroom) -> None:
    first = room.hand_in("first.csv", "name,1\nAnouk,12.5\n")
    room.mark(first)
    room.hand_in("table.csv", BAD_BYTES)
    room.mark()
    room.mark(first)
    assert row(room, "Anouk") == FIRST_ALONE
