"""Folds as homework: drawn on the sheet to scale, signs and causes in words, answers marked as in the tutor."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from class_for_tests import Classroom, classroom
from lessons_for_tests import CHOICES, FIGURES, FOLDS, PLACES, own_lessons, small_lesson

from tutor.classwork.canvas import FOLD, Stroke
from tutor.classwork.folds_print import SCALE, folds_figure
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.right_answer import right_answer
from tutor.lesson.task import PlanTask
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.resources import lessons_folder
from tutor.units import Unit

HOMEWORK = """\
title = "Folds at home"
units = "cm"
variants = "each"

[[tasks]]
lesson = "folds.toml"
task = 1

[[tasks]]
lesson = "folds.toml"
task = 2
points = 2

[[tasks]]
lesson = "choices.toml"
task = 1
"""


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    room = classroom(tmp_path, capsys)
    (tmp_path / "folds.toml").write_text(FOLDS, encoding="utf-8")
    (tmp_path / "choices.toml").write_text(CHOICES, encoding="utf-8")
    (tmp_path / "homework.toml").write_text(HOMEWORK, encoding="utf-8")
    (tmp_path / "class.csv").write_text("Name\nAnouk\nTove\n", encoding="utf-8")
    return room


def words(room: Classroom, learner: str) -> str:
    """All words on the sheet of a learner."""
    pages = sorted((room.out / "learners" / learner).glob(f"{learner}-sheet-*.svg"))
    text = "".join(page.read_text(encoding="utf-8") for page in pages)
    return " ".join(re.sub(r"<[^>]+>", " ", text).replace("&apos;", "'").split())


def lettered(room: Classroom, learner: str, task: int, wanted: str) -> str:
    """The letter under which words stand on the sheet."""
    found = re.findall(rf"\b([a-h])\) {re.escape(wanted)}", words(room, learner).split(f"Task {task}.")[-1])
    assert found, wanted
    return str(found[0])


def test_a_sheet_has_the_folds_the_signs_and_the_causes(room: Classroom) -> None:
    status, _, _ = room.sheet("--pdf")
    assert status == 0
    said = words(room, "anouk")
    assert "The sleeve laid flat, a sixth of its size" in said
    assert "1. Pinch the cloth at the upper arm." in said
    assert "Off by -" in said
    assert ") too little room at the upper arm" in said
    assert "Signs that prove it:" in said
    assert ") Slashes crossed, all ends hinged" in said
    form = (room.out / "learners" / "anouk" / "anouk.toml").read_text(encoding="utf-8")
    assert "b by 1, 4" in form
    assert "That leaves" in (room.out / "key" / "key.txt").read_text(encoding="utf-8")
    assert "That leaves" not in said


def test_the_figure_is_the_sleeve_and_its_folds_a_sixth_of_their_size(tmp_path: Path) -> None:
    session = Session(small_lesson(tmp_path, text=FOLDS), Unit.CM)
    figure = folds_figure(session)
    strokes = [item for item in figure.items if isinstance(item, Stroke)]
    outline = max(strokes, key=lambda stroke: float(np.ptp(stroke.rows.imag)))
    sleeve = session.pattern.sleeve
    assert float(np.ptp(outline.rows[:, [0, 3]].imag)) == pytest.approx(
        SCALE * (sleeve.crown.imag - sleeve.hem.start.imag), rel=1e-3
    )
    folds = [stroke for stroke in strokes if stroke.style == FOLD]
    lengths = sorted(float(np.abs(stroke.rows[:, 3] - stroke.rows[:, 0]).sum()) for stroke in folds)
    assert lengths == pytest.approx(sorted(SCALE * fold.length for fold in session.folds), rel=1e-6)
    # Back lies to the left and the crown above: y goes down on a page.
    assert min(complex(stroke.rows[0, 0]).imag for stroke in folds) > float(outline.rows.imag.min())


def test_answers_are_marked_as_in_the_tutor(room: Classroom) -> None:
    room.sheet()
    signs = "1, 2, 3, 4"
    causes = ("an arm that hangs ahead", "an arm that hangs behind", "a cap too low")
    key = (room.out / "key" / "key.txt").read_text(encoding="utf-8")
    for learner, name in (("anouk", "Anouk"), ("tove", "Tove")):
        own = key.split(f": {name}\n")[1].split("\nVariant ")[0]
        first = "too little room at the upper arm" if "It is too little" in own else "a cap too high for the shoulder"
        second = next(cause for cause in causes if f"It is {cause}" in " ".join(own.split()))
        a, b = lettered(room, learner, 1, first), lettered(room, learner, 2, second)
        c = lettered(room, learner, 3, "Slashes crossed")
        one = f"{a} by 1 and 4" if name == "Anouk" else a
        text = room.form(name, homework='"Folds at home"')
        for task, answer in ((1, one), (2, f"{b} by {signs}"), (3, c)):
            text += f'\n[[answers]]\ntask = {task}\nanswer = "{answer}"\n'
        room.hand_in(f"{learner}.toml", text)
    status, _, _ = room.mark()
    assert status == 0
    rows = {(row["learner"], row["task"]): row for row in room.table("marks-by-answer.csv")}
    assert [float(rows["Anouk", task]["mark"]) for task in "123"] == [100, 100, 100]
    assert [float(rows["Tove", task]["mark"]) for task in "123"] == [50, 100, 100]


def test_what_a_choice_is_to_mend_is_told_unless_it_is_asked_and_a_change_of_it_counts(tmp_path: Path) -> None:
    text = (lessons_folder() / "25-drag-lines.toml").read_text(encoding="utf-8")
    homeworks = []
    for name, tasks, amount in (("one", (6,), "2.5"), ("two", (1, 6), "2.5"), ("three", (6,), "2.6")):
        folder = tmp_path / name
        folder.mkdir()
        changed = text.replace('cause = "girth-short"\namount = 2.5', f'cause = "girth-short"\namount = {amount}', 1)
        (folder / "drag.toml").write_text(changed, encoding="utf-8")
        asked = "".join(f'[[tasks]]\nlesson = "drag.toml"\ntask = {task}\n' for task in tasks)
        (folder / "homework.toml").write_text(f'title = "Home"\n{asked}', encoding="utf-8")
        homeworks.append(read_homework(folder / "homework.toml"))
    one, two, three = homeworks
    assert one.questions[0].stands_alone(one)
    assert not two.questions[1].stands_alone(two)
    assert one.fingerprint(one.questions[0]) == two.fingerprint(two.questions[1])
    assert one.fingerprint(one.questions[0]) != three.fingerprint(three.questions[0])


def test_an_answer_that_is_none_is_told_and_counts_neither_way(room: Classroom) -> None:
    room.sheet()
    text = room.form("Anouk", homework='"Folds at home"') + '\n[[answers]]\ntask = 1\nanswer = "z by 99"\n'
    room.hand_in("anouk.toml", text)
    status, _, err = room.mark()
    assert status == 2
    assert "none of the causes and none of the signs" in err
    assert "Traceback" not in err


def test_the_key_goes_by_the_letters_and_numbers_of_each_sheet(room: Classroom) -> None:
    room.sheet()
    key = " ".join((room.out / "key" / "key.txt").read_text(encoding="utf-8").split())
    for each in room.register()["learners"]:
        part = key.split(f"Variant {each['deal']}: ")[1].split("Variant ")[0]
        sheet = words(room, each["file"])
        causes, _, signs = part.split("Causes on the sheet: ")[1].split("Task 2.")[0].partition(" Signs on the sheet: ")
        for letter, cause in re.findall(r"([a-z])\) ([^;.]+)", causes):
            assert f"{letter}) {cause}" in sheet
        for number, sign in re.findall(r"(\d+)\. ([^;.]+)", signs.split(" First the folds")[0]):
            assert f"{number}. {sign}." in sheet
        for letter, option in re.findall(r"([a-c])\) ([^:]+):", part.split("Task 3.")[1]):
            assert f"{letter}) {option}" in sheet
        right = re.findall(r"In the answer form: ([a-z0-9, ]+?) (?=Task|$)", f"{part} ")
        assert len(right) == 3
        # What the key says is marked as right.
        name = each["name"]
        room.hand_in(f"{each['file']}.csv", "learner;1;2;3\n" + ";".join([name, *right]) + "\n")
    status, _, err = room.mark()
    assert (status, err) == (0, "")
    for each in room.register()["learners"]:
        row = room.marks(each["name"])
        assert [row[f"task {number}"] for number in (1, 2, 3)] == ["100", "100", "100"]


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("text", [CHOICES, FOLDS, PLACES, FIGURES])
def test_the_right_answer_of_the_key_passes(tmp_path: Path, text: str, unit: Unit) -> None:
    lesson = small_lesson(tmp_path, text=text)
    for number, task in enumerate(lesson.tasks, 1):
        session = Session(lesson, unit)
        session.go_to_task(number)
        answer = right_answer(session, case_of(lesson, number))
        assert (answer == "") is isinstance(task, PlanTask)
        assert not answer or session.answer(answer).passed, (lesson.name, number, answer)


def test_the_right_answers_of_the_own_lessons_pass() -> None:
    for lesson in own_lessons():
        for number, task in enumerate(lesson.tasks, 1):
            if not isinstance(task, PlanTask):
                session = Session(lesson, Unit.CM)
                session.go_to_task(number)
                assert session.answer(right_answer(session, case_of(lesson, number))).passed, (lesson.name, number)
