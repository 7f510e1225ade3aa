"""Whose a file is: nobody takes another's away, and what can't be read gets its learner no noughts."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path
from typing import Literal

import pytest
from class_for_tests import CAP_HEIGHT, PLAN, Classroom, classroom

from tutor.alteration.alter import alter
from tutor.alteration.plan_file import plan_of
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.toml_reading import read_toml

BROKEN = PLAN.replace("[[opening]]", "[[opening]")
"""The plan with one bracket missing."""


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class to which the homework is dealt, with its sheets."""
    room = classroom(tmp_path, capsys)
    assert room.sheet()[0] == 0
    return room


def with_learners(room: Classroom, *names: str) -> Classroom:
    """The same homework dealt to others."""
    (room.folder / "class.csv").write_text("\n".join(["name", *names]) + "\n")
    (room.out / "register.json").unlink()
    assert room.sheet("--force")[0] == 0
    return room


def dealt(room: Classroom, learner: str, task: int = 2) -> str:
    """The pattern that a learner was handed out."""
    return (room.out / "learners" / learner / f"{learner}-{task}-pattern.svg").read_text()


def altered(room: Classroom, learner: str) -> str:
    """That pattern with the plan carried out."""
    block = read_svg(room.out / "learners" / learner / f"{learner}-2-pattern.svg", "p.svg")
    return write_svg(alter(block, plan_of(read_toml(PLAN.encode(), "p.toml")).plan).after)


def named(room: Classroom, learner: str, key: str, name: str, task: int = 2) -> str:
    """A form whose one answer is a file."""
    return f'{room.form(learner)}[[answers]]\ntask = {task}\n{key} = "{name}"\n'


# A file that is another's by its name.


def test_nobody_takes_away_what_is_called_as_another_s(room: Classroom) -> None:
    room.hand_in("tove-2.toml", PLAN)
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    room.hand_in("anouk.toml", named(room, "Anouk", "plan", "tove-2.toml"))
    status, _, err = room.mark()
    assert status == 1
    assert err == (
        'sleeve-tutor: anouk.toml: line 5, answers 1, plan: "tove-2.toml" is called as a file of Tove\'s;'
        " give one of Anouk's own, called by learner and task\n"
    )
    assert room.marks("Tove")["mark"] == "100"
    assert (room.marks("Anouk")["task 2"], room.marks("Anouk")["mark"]) == ("", "")


def test_a_broken_form_that_another_names_keeps_its_own_line(room: Classroom) -> None:
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT).replace('"Tove"', '"Tove'))
    room.hand_in("anouk.toml", named(room, "Anouk", "plan", "tove.toml"))
    status, _, err = room.mark()
    assert status == 2
    assert len(err.splitlines()) == 2
    assert '"tove.toml" is called as a file of Tove\'s' in err
    assert "sleeve-tutor: tove.toml: line 2" in err
    assert room.marks("Tove")["note"] == "tove.toml could not be marked"


def test_a_row_takes_nothing_of_another_s_either(room: Classroom) -> None:
    room.hand_in("tove-2.toml", PLAN)
    room.hand_in("table.csv", "name,1,2\nAnouk,12.5,tove-2.toml\n")
    status, _, err = room.mark()
    assert status == 1
    assert 'table.csv: line 2, 2: "tove-2.toml" is called as a file of Tove\'s' in err
    assert room.marks("Tove")["task 2"] == "100"
    assert (room.marks("Anouk")["task 2"], room.marks("Anouk")["mark"]) == ("", "")


def test_a_file_without_a_learners_name_may_be_named_by_anybody(room: Classroom) -> None:
    room.hand_in("sleeve.toml", PLAN)
    room.hand_in("anouk.toml", named(room, "Anouk", "plan", "sleeve.toml"))
    assert room.mark()[0] == 0
    assert room.marks("Anouk")["task 2"] == "100"


# Neither 0 nor full marks.


@pytest.mark.parametrize(
    ("name", "content", "line"),
    [
        ("tove-2.toml", BROKEN, "is not TOML"),
        ("tove-2.csv", "line,x,y\nhem,1,2\n", "has no column called seam; write seam, x and y as headings"),
        ("tove-2.csv", "seam,x,y\nhem,1\n", "tove-2.csv: line 2"),
        ("tove-2.pdf", "%PDF", "is no answer known here; give TOML, CSV or SVG files"),
        ("tove-2.toml.txt", PLAN, "is no answer known here"),
        ("tove-2-pattern.svg", "<svg/>", "draws no line"),
        ("Tove-2.SVG", "<svg/>", "draws no line"),
    ],
)
def test_what_its_name_says_to_answer_a_task_leaves_that_task_open(
    room: Classroom, name: str, content: str, line: str
) -> None:
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    room.hand_in(name, content)
    status, _, err = room.mark()
    assert status == 1
    assert err.count("\n") == 1
    assert name in err
    assert line in err
    row = room.marks("Tove")
    assert (row["task 1"], row["task 2"], row["mark"]) == ("100", "", "")
    assert "could not be marked" in row["note"]
    assert "could not be marked" in (room.out / "feedback" / "tove.txt").read_text()


def test_a_link_called_as_an_answer_leaves_its_task_open(room: Classroom, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.svg").write_text("<svg/>")
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    (room.answers / "tove-2.svg").symlink_to(tmp_path / "elsewhere.svg")
    assert room.mark()[0] == 1
    assert [room.marks("Tove")[key] for key in ("task 1", "task 2", "mark")] == ["100", "", ""]


def test_another_task_is_left_out_all_the_same(room: Classroom) -> None:
    """What could not be read answers the second task by its name, and so the first was left out."""
    room.hand_in("tove-2.toml", BROKEN)
    assert room.mark()[0] == 2
    assert [room.marks("Tove")[key] for key in ("task 1", "task 2", "mark")] == ["0", "", ""]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("tove.toml.txt", "learner = 1"),
        ("tove.pdf", "%PDF"),
        ("tove.toml", "learner = "),
        ("tove.csv", "a,b\n1,2\n"),
        ("form.toml", 'learner = "Tove"\nextra = 1\n'),
        ("tove-1.toml", 'learner = "Tove\n'),
        ("table.csv", "name,1,units\nTove,12.5,ell\n"),
        ("table.csv", "name,1\nTove,12.5,x\n"),
    ],
)
def test_what_may_answer_any_task_leaves_all_of_them_open(room: Classroom, name: str, content: str) -> None:
    room.hand_in("tove-2.toml", PLAN)
    room.hand_in(name, content)
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert [room.marks("Tove")[key] for key in ("task 1", "task 2", "mark")] == ["", "100", ""]
    assert room.marks("Anouk")["note"] == "nothing handed in"


def test_an_answer_to_no_task_may_be_one_to_any(room: Classroom) -> None:
    room.hand_in("tove.toml", f'{room.form("Tove", CAP_HEIGHT)}[[answers]]\ntask = 9\nanswer = "3"\n')
    assert room.mark()[0] == 1
    assert [room.marks("Tove")[key] for key in ("task 1", "task 2", "mark")] == ["100", "", ""]


# A name that says two things.


def test_a_broken_plan_is_not_the_form_of_whoever_is_called_so(room: Classroom) -> None:
    with_learners(room, "Anna", "Anna 2")
    room.hand_in("anna.toml", room.form("Anna", CAP_HEIGHT))
    room.hand_in("anna-2.toml", BROKEN)
    room.hand_in("anna-2-1.toml", "[")
    room.hand_in("b.csv", "name,1\nAnna 2,12.5\n")
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 2)
    assert [room.marks("Anna")[key] for key in ("task 1", "task 2", "mark")] == ["100", "", ""]
    assert [room.marks("Anna 2")[key] for key in ("task 1", "task 2", "mark")] == ["100", "0", "25"]


def test_a_broken_form_is_that_of_whoever_is_called_so(room: Classroom) -> None:
    with_learners(room, "Anna", "Anna 2")
    room.hand_in("anna.toml", room.form("Anna", CAP_HEIGHT))
    room.hand_in("anna-2.toml", 'learner = "Anna 2\n')
    room.hand_in("anna-2-2.toml", PLAN)
    assert room.mark()[0] == 1
    assert room.marks("Anna")["mark"] == "25"
    assert [room.marks("Anna 2")[key] for key in ("task 1", "task 2", "mark")] == ["", "100", ""]


def test_the_folder_tells_whose_a_name_is_that_says_two_things(room: Classroom) -> None:
    with_learners(room, "Anna", "Anna 2")
    room.hand_in("anna/anna.toml", named(room, "Anna", "plan", "anna-2.toml"))
    room.hand_in("anna/anna-2.toml", PLAN)
    room.hand_in("anna-2/anna-2.toml", "[")
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert "anna-2/anna-2.toml" in err
    assert room.marks("Anna")["task 2"] == "100"
    assert room.marks("Anna 2")["note"] == "anna-2/anna-2.toml could not be marked"


@pytest.mark.parametrize("form", ["NFC", "NFD"])
def test_a_file_is_known_however_a_system_has_stored_its_name(room: Classroom, form: Literal["NFC", "NFD"]) -> None:
    with_learners(room, "Иван Йорк", "Ιωάννης")
    for name in ("иван-йорк", "ΙΩΆΝΝΗΣ"):
        room.hand_in(unicodedata.normalize(form, f"{name}-2.toml"), PLAN)
    assert room.mark()[::2] == (0, "")
    assert [room.marks(name)["task 2"] for name in ("Иван Йорк", "Ιωάννης")] == ["100", "100"]


def test_a_class_keeps_what_its_files_were_called(room: Classroom) -> None:
    """A register from when letters without a place in ASCII were dropped, and one with two long names alike."""
    register = json.loads((room.out / "register.json").read_text())
    for learner, (name, file) in zip(
        register["learners"],
        [("Łukasz", "ukasz"), ("王小明", "learner-2"), ("x" * 60, "x" * 40), ("X" * 59, f"{'x' * 40}-2")],
        strict=True,
    ):
        learner.update(name=name, file=file)
    (room.out / "register.json").write_text(json.dumps(register))
    room.hand_in("ukasz-2.toml", PLAN)
    room.hand_in("learner-2-2.toml", PLAN)
    room.hand_in(f"{'x' * 40}-2-2.toml", PLAN)
    assert room.mark()[::2] == (0, "")
    assert [room.marks(name)["task 2"] for name in ("Łukasz", "王小明", "X" * 59)] == ["100"] * 3
    (room.folder / "class.csv").write_text("name\nUkasz\nŁukasz\n", encoding="utf-8")
    assert room.sheet("--force")[0] == 0
    files = {each["name"]: each["file"] for each in room.register()["learners"]}
    assert (files["Łukasz"], files["Ukasz"]) == ("ukasz", "ukasz-2")


# What was handed out and comes back.


def test_what_was_handed_out_is_passed_over_in_silence(room: Classroom) -> None:
    status, _, err = room.mark(room.out / "learners")
    assert (status, err) == (0, "")
    assert {room.marks(name)["note"] for name in ("Anouk", "Tove", "Odd", "Mirjam")} == {"nothing handed in"}


def test_a_given_pattern_that_was_only_saved_anew_is_none_either(room: Classroom) -> None:
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    room.hand_in("tove-2-pattern.svg", dealt(room, "tove").replace("<title>", "<!-- an editor was here --><title>"))
    assert room.mark()[::2] == (0, "")
    assert room.marks("Tove")["mark"] == "25"


def test_a_given_pattern_that_was_altered_is_the_answer(room: Classroom) -> None:
    room.hand_in("tove-2-pattern.svg", altered(room, "tove"))
    assert room.mark()[::2] == (0, "")
    assert room.marks("Tove")["task 2"] == "100"
    # Under its own name it goes before what is still called as it was handed out.
    room.hand_in("odd-2-pattern.svg", altered(room, "odd").replace("<title>", "<!-- --><title>"))
    room.hand_in("odd-2.svg", altered(room, "odd"))
    status, _, err = room.mark()
    assert status == 1
    assert "odd-2-pattern.svg: is another answer of Odd to task 2 than that of odd-2.svg" in err
    assert room.marks("Odd")["task 2"] == "100"


# What ends a trouble.


def lines_kept(room: Classroom) -> list[str]:
    """The rows of the table of marks that stand for what could not be read."""
    return [row["learner"] for row in room.table("marks.csv") if row["learner"].startswith("(")]


def with_a_broken_form(room: Classroom, name: str = "tove.toml") -> Path:
    path = room.hand_in(name, room.form("Tove", CAP_HEIGHT).replace('"Tove"', '"Tove'))
    assert room.mark()[0] == 2
    assert lines_kept(room) == [f"({name})"]
    assert room.marks("Tove")["mark"] == ""
    return path


def test_a_form_handed_in_right_under_another_name_ends_the_trouble(room: Classroom) -> None:
    with_a_broken_form(room).unlink()
    room.hand_in("tove2.toml", room.form("Tove", CAP_HEIGHT))
    assert room.mark()[::2] == (0, "")
    assert lines_kept(room) == []
    assert room.marks("Tove")["mark"] == "25"


@pytest.mark.parametrize("given", ["g1/tove.toml", "tove.toml", "g2/tove.toml"])
def test_a_form_read_by_another_way_to_it_ends_the_trouble(room: Classroom, given: str) -> None:
    path = with_a_broken_form(room, "g1/tove.toml")
    path.unlink()
    assert room.mark(room.hand_in(given, room.form("Tove", CAP_HEIGHT)))[::2] == (0, "")
    assert lines_kept(room) == []
    assert room.marks("Tove")["mark"] == "25"


def test_a_form_still_broken_has_one_line_by_whichever_way(room: Classroom) -> None:
    path = with_a_broken_form(room, "g1/tove.toml")
    assert room.mark(path)[0] == 2
    assert lines_kept(room) == ["(tove.toml)"]


def test_an_answer_marked_in_its_place_ends_the_trouble(room: Classroom) -> None:
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    room.hand_in("tove-2.pdf", "%PDF")
    assert room.mark()[0] == 1
    (room.answers / "tove-2.pdf").unlink()
    assert room.mark(room.hand_in("tove-2.toml", PLAN))[::2] == (0, "")
    assert lines_kept(room) == []
    assert room.marks("Tove")["mark"] == "100"


def test_what_is_still_unread_is_kept(room: Classroom) -> None:
    """Another learner's form of the same name, an answer to another task, or one that was there before ends nothing."""
    with_a_broken_form(room, "g1/tove.toml")
    room.hand_in("g1/form.toml", 'learner = "Odd')
    room.mark()
    (room.answers / "week").mkdir()
    room.hand_in("week/g2/form.toml", room.form("Anouk", CAP_HEIGHT))
    assert room.mark(room.answers / "week", room.hand_in("tove-2.toml", PLAN))[0] == 0
    assert lines_kept(room) == ["(g1/form.toml)", "(g1/tove.toml)"]
    assert [room.marks("Tove")[key] for key in ("task 1", "task 2", "mark")] == ["", "100", ""]
    assert room.mark(room.answers / "tove-2.toml")[0] == 0
    assert "(g1/tove.toml)" in lines_kept(room)
    # With an answer to every task nothing is left that the broken form could tell.
    assert room.mark(room.hand_in("table.csv", "name,1\nTove,12.5\n"))[0] == 0
    assert lines_kept(room) == ["(g1/form.toml)"]
    assert room.marks("Tove")["mark"] == "100"


def test_a_file_that_nobody_knew_is_known_once_a_form_names_it(room: Classroom) -> None:
    room.hand_in("sleeve.toml", PLAN)
    assert room.mark()[0] == 2
    room.hand_in("tove.toml", named(room, "Tove", "plan", "sleeve.toml"))
    assert room.mark()[::2] == (0, "")
    assert lines_kept(room) == []


def test_an_answer_taken_out_of_a_form_is_left_out(room: Classroom) -> None:
    room.hand_in("tove.toml", f'{room.form("Tove", CAP_HEIGHT)}[[answers]]\ntask = 2\nplan = "gone.toml"\n')
    assert room.mark()[0] == 1
    assert room.marks("Tove")["mark"] == ""
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT))
    assert room.mark()[::2] == (0, "")
    assert room.marks("Tove")["mark"] == "25"
