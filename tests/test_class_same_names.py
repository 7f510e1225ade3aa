"""Files that are called alike and lie in several folders: each stands for itself, and for its folder's learner."""

from __future__ import annotations

import json

import pytest
from class_for_tests import CAP_HEIGHT, NAMES, PLAN, Classroom

BAD_BYTES = "name,1,2\nAnouk,12.5,\nRené,3,\n".encode("latin-1")
NOTHING = ["", "", ""]


def row(room: Classroom, learner: str) -> list[str]:
    return [room.marks(learner)[key] for key in ("task 1", "task 2", "mark")]


def lines_kept(room: Classroom) -> list[str]:
    return [each["note"] for each in room.table("marks.csv") if each["learner"].startswith("(")]


def test_tables_called_alike_that_can_t_be_read_both_stay(room: Classroom) -> None:
    room.hand_in("mon/table.csv", BAD_BYTES)
    room.hand_in("tue/table.csv", "name,first\nTove,12\n")
    room.hand_in("z/mirjam.toml", room.form("Mirjam", CAP_HEIGHT))
    status, _, err = room.mark(*(room.answers / name for name in ("mon", "tue", "z")))
    assert (status, err.count("\n")) == (1, 2)
    assert len(lines_kept(room)) == 2
    assert row(room, "Mirjam") == ["100", "", ""]
    # Read again, the one puts an end to its own trouble, and to that of the other not.
    room.hand_in("tue/table.csv", "name,1\nTove,12.5\n")
    room.mark(room.answers / "tue")
    assert [note.partition(";")[0] for note in lines_kept(room)] == ["not marked: table.csv: line 3: is not UTF-8 text"]
    assert row(room, "Mirjam") == ["100", "", ""]
    # From another folder it is the same file.
    room.hand_in("mon/table.csv", "name,1\nOdd,12.5\n")
    assert room.mark()[::2] == (0, "")
    assert lines_kept(room) == []
    assert [row(room, name)[1] for name in ("Mirjam", "Odd", "Tove")] == ["0", "0", "0"]


def test_rows_called_alike_that_can_t_be_read_both_stay(room: Classroom) -> None:
    room.hand_in("mon/table.csv", "name,1,2\nAnouk,12.5,x.toml\n")
    room.hand_in("tue/table.csv", "name,1,2\nTove,12.5,y.toml\n")
    room.mark(room.answers / "mon", room.answers / "tue")
    assert len(lines_kept(room)) == 2
    assert [row(room, name) for name in ("Anouk", "Tove")] == [["100", "", ""]] * 2


@pytest.mark.parametrize("each", [True, False])
def test_forms_called_alike_that_can_t_be_read_both_stay(room: Classroom, each: bool) -> None:
    for name in ("Anouk", "Tove"):
        form = room.form(name, CAP_HEIGHT).replace("learner =", "colour = 3\nlearner =")
        room.hand_in(f"{name.lower()}/form.toml", form)
        room.hand_in(f"{name.lower()}/{name.lower()}-2.toml", PLAN)
    folders = [room.answers / "anouk", room.answers / "tove"] if each else [room.answers]
    assert room.mark(*folders)[0] == 1
    for name in ("Anouk", "Tove"):
        assert row(room, name) == ["", "100", ""]
    # Tove's put right says nothing of Anouk's.
    room.hand_in("tove/form.toml", room.form("Tove", CAP_HEIGHT))
    assert room.mark(room.answers / "tove")[0] == 0
    assert [row(room, name)[0] for name in ("Anouk", "Tove")] == ["", "100"]
    assert len(lines_kept(room)) == 1


def test_a_table_that_was_moved_is_known_by_its_name(room: Classroom) -> None:
    room.hand_in("mon/table.csv", BAD_BYTES)
    room.mark()
    (room.answers / "mon").rename(room.answers / "monday")
    (room.answers / "monday" / "table.csv").write_text("name,1\nOdd,12.5\n")
    assert room.mark(room.answers / "monday")[0] == 0
    assert lines_kept(room) == []


def test_troubles_that_were_kept_without_their_place_are_known_by_their_name(room: Classroom) -> None:
    room.hand_in("mon/table.csv", BAD_BYTES)
    room.mark(room.answers / "mon")
    path = room.out / "kept" / "troubles.json"
    (kept,) = json.loads(path.read_text()).values()
    old = {"table.csv": {"line": kept["line"], "among": [name.lower() for name in NAMES], "path": ""}}
    path.write_text(json.dumps(old | {"anouk.toml": "anouk.toml: is empty", "tove.toml": {**TOVES, "task": 2}}))
    room.hand_in("z/mirjam.toml", room.form("Mirjam", CAP_HEIGHT))
    room.hand_in("z/tove.toml", room.form("Tove", CAP_HEIGHT))
    room.mark(room.answers / "z")
    assert [note.partition(";")[0] for note in lines_kept(room)] == [
        "not marked: anouk.toml: is empty",
        "not marked: table.csv: line 3: is not UTF-8 text",
    ]
    assert row(room, "Anouk") == NOTHING
    room.hand_in("tue/table.csv", "name,1\nOdd,12.5\n")
    room.hand_in("tue/anouk.toml", room.form("Anouk", CAP_HEIGHT))
    assert room.mark(room.answers / "tue")[0] == 0
    assert lines_kept(room) == []


TOVES = {"line": "tove.toml: is no answer", "learner": "tove"}


# What lies in a learner's own folder.


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("form.toml", "oops =\n"),
        ("form.toml", 'learner = "Anuok"\n\n[[answers]]\ntask = 1\nanswer = "12.5 cm"\n'),
        ("answers.docx", b"PK\x03\x04"),
        ("photo.svg", "<svg/>"),
        ("plan.toml", PLAN),
    ],
)
def test_what_can_t_be_read_in_a_learner_s_folder_is_that_learner_s(
    room: Classroom, name: str, content: str | bytes
) -> None:
    room.hand_in(f"anouk/{name}", content)
    room.hand_in("anouk/anouk-2.toml", PLAN)
    room.hand_in("tove/tove-2.toml", PLAN)
    for path in (room.answers, room.answers / "anouk"):
        status, _, err = room.mark(path)
        assert (status, err.count("\n")) == (1, 1)
        assert row(room, "Anouk") == ["", "100", ""]
        assert row(room, "Tove") == ["0", "100", "75"]


def test_a_link_in_a_learner_s_folder_is_that_learner_s(room: Classroom) -> None:
    room.hand_in("anouk/anouk-2.toml", PLAN)
    (room.folder / "elsewhere.toml").write_text(room.form("Anouk", CAP_HEIGHT))
    (room.answers / "anouk" / "form.toml").symlink_to(room.folder / "elsewhere.toml")
    assert room.mark()[0] == 1
    assert row(room, "Anouk") == ["", "100", ""]


# What is called as one learner's, and says that it is another's.


@pytest.mark.parametrize("name", ["anouk.toml", "anouk/form.toml"])
def test_a_form_called_as_another_s_is_taken_in_for_neither(room: Classroom, name: str) -> None:
    path = room.hand_in(name, room.form("Tove", CAP_HEIGHT))
    for learner in ("Anouk", "Tove", "Odd"):
        room.hand_in(f"{learner.lower()}-2.toml", PLAN)
    status, _, err = room.mark()
    called = "anouk.toml" if name == "anouk.toml" else "anouk/"
    what = f"{name}: is from Tove, but {called} is called as Anouk's; put right the name in it, or what it is called"
    assert (status, err) == (1, f"sleeve-tutor: {what}\n")
    assert [row(room, each) for each in ("Anouk", "Tove")] == [["", "100", ""]] * 2
    assert row(room, "Odd") == ["0", "100", "75"]
    for learner in ("anouk", "tove"):
        text = " ".join((room.out / "feedback" / f"{learner}.txt").read_text().split())
        assert "A file could not be taken in, and may hold answers of yours." in text
        assert "Your answer may be in a file that could not be taken in, so nobody knows it yet." in text
    # Called by its learner it counts, and Anouk has left hers out.
    path.rename(room.answers / "tove.toml")
    assert room.mark()[::2] == (0, "")
    assert [row(room, each)[0] for each in ("Anouk", "Tove")] == ["0", "100"]


@pytest.mark.parametrize("name", ["anouk.csv", "anouk/table.csv"])
def test_rows_of_others_in_a_learner_s_table_are_taken_in_for_neither(room: Classroom, name: str) -> None:
    room.hand_in(name, "name,1\nTove,12.5\nAnouk,12.5\nOdd,3\n")
    room.hand_in("mirjam-2.toml", PLAN)
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 2)
    assert f"{name}: line 2: is from Tove, but anouk" in err
    assert f"{name}: line 4: is from Odd, but anouk" in err
    assert row(room, "Anouk") == ["100", "", ""]
    assert [row(room, each) for each in ("Tove", "Odd")] == [NOTHING] * 2
    assert row(room, "Mirjam") == ["0", "100", "75"]


def test_a_name_that_may_be_either_learner_s_is_taken_in_for_the_one_it_says(room: Classroom) -> None:
    (room.folder / "class.csv").write_text("name\nAnna\nAnna 2\nAnna-Lena\n")
    (room.out / "register.json").unlink()
    room.enrol()
    room.hand_in("anna-2.toml", room.form("Anna 2", CAP_HEIGHT))
    room.hand_in("anna-lena.toml", room.form("Anna-Lena", CAP_HEIGHT))
    room.hand_in("anna.csv", "name,1\nAnna,12.5\n")
    # In another's folder its own name goes before.
    (room.answers / "anna").mkdir()
    (room.answers / "anna-lena.toml").rename(room.answers / "anna" / "anna-lena.toml")
    assert room.mark()[::2] == (0, "")
    assert [row(room, each)[0] for each in ("Anna", "Anna 2", "Anna-Lena")] == ["100"] * 3


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("anouk.toml", 'colour = 3\nlearner = "Tove"\n[[answers]]\ntask = 1\nanswer = "12.5 cm"\n'),
        ("anouk.csv", "name,1,units\nTove,12.5,ells\n"),
    ],
)
def test_what_has_a_fault_besides_may_be_either_learner_s(room: Classroom, name: str, content: str) -> None:
    room.hand_in(name, content)
    for learner in ("Anouk", "Tove", "Odd"):
        room.hand_in(f"{learner.lower()}-2.toml", PLAN)
    status, _, err = room.mark()
    assert (status, err.count("\n")) == (1, 1)
    assert [row(room, each)[0] for each in ("Anouk", "Tove", "Odd")] == ["", "", "0"]
