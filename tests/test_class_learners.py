"""Whose an answer is: who handed it in, to which homework, which variant, when."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from class_for_tests import CAP_HEIGHT, Classroom, classroom


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"learner": '"Hedda"'}, "is from Hedda, who is not in the class"),
        ({"homework": '"Another homework"'}, 'answers "Another homework"; this homework is "Small homework"'),
        ({"variant": '"ABCDEF"'}, "gives a variant that nobody was dealt, ABCDEF; Anouk was dealt"),
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
