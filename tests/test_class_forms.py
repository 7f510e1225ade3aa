"""One form: what makes no sense is told with its place."""

from __future__ import annotations

import pytest
from class_for_tests import PLAN, Classroom


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
