"""What was altered is told where a figure is asked after an alteration that nobody was asked to make."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from class_for_tests import Classroom, classroom
from lessons_for_tests import SMALL
from test_diagnose_class import words
from test_diagnose_quiz import question

from tutor.alteration.alter import alter
from tutor.alteration.plan import Answer
from tutor.cli import main
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import NumberTask
from tutor.practice.session import Session
from tutor.resources import lessons_folder
from tutor.units import Unit

TOLD = "It was altered like this."
UNDETERMINED = [("26", 4), ("28", 8), ("28", 9)]
"""Tasks that ask for a figure after an alteration whose limits leave many."""


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    return classroom(tmp_path, capsys)


@pytest.mark.parametrize(("lesson", "number"), UNDETERMINED)
def test_whoever_does_what_is_told_gets_the_figure_that_is_right(lesson: str, number: int) -> None:
    """The amounts are taken as they are told, in tenths of a centimetre."""
    asked = question(find_lesson(lesson), number)
    told = next(text for text in asked.story if text.startswith(TOLD))
    session = asked.session
    plan = session.ground(number).plan_asked_after()
    assert plan is not None
    assert len(plan.openings) == 1
    opened = re.findall(r"opened by ([\d.]+) cm", told)
    bodice = re.findall(r"move the side seam out by ([\d.]+) cm and lower the underarm by ([\d.]+) cm", told)
    assert len(opened) == 1
    assert len(bodice) == 2
    back, front = (Answer(10 * float(out), 10 * float(down)) for out, down in bodice)
    opening = replace(plan.openings[0], amount=10 * float(opened[0]))
    done = alter(session.pattern, replace(plan, openings=(opening,), back=back, front=front))
    task = session.task
    assert isinstance(task, NumberTask)
    asked.give(f"{done.measures_after[task.of]:.1f} mm")
    assert asked.mark().passed


def test_limits_alone_would_leave_more_than_one_figure() -> None:
    """Two alterations that pass the task before, and leave cap ease on the back half farther apart than is allowed."""
    session = Session(find_lesson("26"), Unit.CM)
    session.go_to_task(3)
    worked = session.solution().plan
    assert worked is not None
    eases = []
    for lower in (worked.back.lower, worked.back.lower - 4):
        session.adopt(replace(worked, back=replace(worked.back, lower=lower), front=replace(worked.front, lower=lower)))
        assert session.check().passed
        eases.append(alter(session.pattern, session.draft).measures_after["cap-ease-back"])
    task = session.tasks[3]
    assert isinstance(task, NumberTask)
    assert abs(eases[0] - eases[1]) > float(task.tolerance)


@pytest.mark.parametrize("lesson", ["4", "7", "10"])
def test_it_is_not_told_where_the_task_before_says_what_to_do(lesson: str) -> None:
    read = find_lesson(lesson)
    numbers = [number for number, task in enumerate(read.tasks, 1) if task.goes_on_from]
    assert numbers
    for number in numbers:
        assert TOLD not in " ".join(question(read, number).story)


@pytest.mark.parametrize("whole", [False, True], ids=["by itself", "with the task before"])
def test_a_sheet_tells_it_unless_it_asks_for_the_alteration_as_well(whole: bool, room: Classroom) -> None:
    text = (lessons_folder() / "26-no-height-to-give.toml").read_text(encoding="utf-8")
    (room.folder / "full.toml").write_text(text, encoding="utf-8")
    asked = "".join(f'[[tasks]]\nlesson = "full.toml"\ntask = {task}\n' for task in ((3, 4) if whole else (4,)))
    (room.folder / "homework.toml").write_text(f'title = "Home"\nunits = "cm"\n{asked}', encoding="utf-8")
    (room.folder / "class.csv").write_text("Name\nAnouk\n", encoding="utf-8")
    room.sheet()
    assert (TOLD in words(room, "anouk")) is not whole


def test_a_task_that_goes_on_from_none_has_none_to_tell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "small.toml"
    path.write_text(SMALL.replace('kind = "number"\n', 'kind = "number"\ntells-plan = true\n', 1), encoding="utf-8")
    assert main(["lessons", "check", str(path)]) == 1
    assert "tasks 2, tells-plan: there is no alteration of an earlier task to tell" in capsys.readouterr().out
