"""What the screen tells is so: which figures lie there, what a key does, how far a worked solution is laid."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lessons_for_tests import CHOICES, FOLDS, small_lesson
from quiz_driving import small_sitting
from tutor_driving import driven

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import Listed
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import NumberTask
from tutor.marking.figures import shown
from tutor.pattern.measures import measure
from tutor.practice.page import Page
from tutor.practice.plain_looking import resuming_lines
from tutor.practice.plain_talk import Talk
from tutor.practice.session import Session
from tutor.quiz.plain_text import time_left
from tutor.record.record import open_record
from tutor.toml_reading import parse_toml
from tutor.tui.guide import left_words
from tutor.units import Unit

AS_IT_LIES = "This is the cap before the change."


@pytest.fixture
def choices(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=CHOICES)


@pytest.mark.parametrize(("lesson", "task", "heading"), [("4", 3, "before"), ("15", 4, "before"), ("28", 4, "now")])
async def test_the_tape_says_whether_it_is_that_of_before_what_is_asked_about(
    lesson: str, task: int, heading: str
) -> None:
    async with driven(lesson) as tutor:
        tutor.lesson.session.go_to_task(task)
        tutor.lesson.show()
        await tutor.pilot.pause()
        assert next(row for row in tutor.rows if "tape, cm" in row).split()[-1] == heading


@pytest.mark.parametrize(("lesson", "task"), [("4", 3), ("15", 4)])
async def test_a_walk_of_the_cap_says_when_it_is_that_of_before(lesson: str, task: int) -> None:
    async with driven(lesson) as tutor:
        tutor.lesson.session.go_to_task(task)
        await tutor.press("f")
        assert AS_IT_LIES in tutor.text
        await tutor.press("n n n n n")
        assert AS_IT_LIES in tutor.text


async def test_options_are_chosen_by_the_number_that_stands_before_them(choices: Lesson) -> None:
    async with driven(choices) as tutor:
        session = tutor.lesson.session
        assert [f"( ) {k} {each.words}" in tutor.text for k, each in enumerate(session.options, 1)] == [True] * 3
        await tutor.press("2")
        assert [option.chosen for option in session.options] == [False, True, False]
        assert "Chosen: 2." in tutor.text
        await tutor.press("9")
        assert "Press 1 to 3 to choose." in tutor.text
        assert [option.chosen for option in session.options] == [False, True, False]


def test_a_number_is_read_for_a_letter_line_by_line_as_well(choices: Lesson) -> None:
    session = Session(choices, Unit.CM)
    session.give("2")
    assert session.options[1].chosen
    with pytest.raises(Fault, match="none of the options"):
        session.give("4")


async def test_causes_have_no_letters_that_do_other_things(tmp_path: Path) -> None:
    async with driven(small_lesson(tmp_path, text=FOLDS)) as tutor:
        assert all(f"( ) {each.words.split(',')[0]}" in tutor.text for each in tutor.lesson.session.options[:1])


async def test_a_worked_solution_is_laid_on_ones_own_paper_whole() -> None:
    async with driven("28", (120, 40)) as tutor:
        tutor.lesson.session.go_to_task(7)
        await tutor.press("w y a")
        session = tutor.lesson.session
        assert session.plan == session.solution().plan
        assert session.check().total == 1


@pytest.mark.parametrize(("task", "there"), [(1, False), (2, True)])
async def test_only_where_x_starts_a_task_over_it_is_said_to(task: int, there: bool) -> None:
    async with driven("4") as tutor:
        tutor.lesson.session.go_to_task(task)
        await tutor.press("R")
        assert ("press X" in tutor.page) is there


async def test_nothing_that_is_not_due_is_offered() -> None:
    async with driven() as tutor:
        await tutor.press("p")
        assert "Nothing is due" in tutor.text
        assert "Practise" not in tutor.rows[-1]


def test_an_answer_is_told_with_its_unit_whatever_the_unit_is_then() -> None:
    session = Session(find_lesson("1"), Unit.CM)
    session.go_to_task(5)
    session.give("66")
    assert session.answer_read == "66.0 cm"
    session.unit = Unit.INCH
    assert session.answer_read == shown("bicep-girth", 660.0, Unit.INCH)


def test_coming_back_to_an_open_task_does_not_send_one_past_it() -> None:
    session = Session(find_lesson("1"), Unit.CM)
    session.go_to_task(3)
    for number in (1, 2):
        session.go_to_task(number)
        session.solution()
    session.go_to_task(3)
    told = left_words(session)
    assert "; 6 tasks are still open, the first is task 3." in told
    assert "n goes on" not in told
    for number in (4, 5, 7):
        session.go_to_task(number)
        session.solution()
    session.go_to_task(3)
    assert "; tasks 3, 6 and 8 are still open." in left_words(session)


def test_a_lesson_come_back_to_line_by_line_tells_how_many_tasks_are_open_and_the_next() -> None:
    session = Session(find_lesson("1"), Unit.CM)
    for number in (1, 3, 4):
        session.go_to_task(number)
        session.solution()
    said = " ".join(resuming_lines(Talk(session, Page())))
    assert "at task 4 of 8. Tasks 1, 3 and 4 are shown." in said
    assert "5 other tasks are still to be passed, the next is task 5." in said
    session.go_to_task(8)
    said = " ".join(resuming_lines(Talk(session, Page())))
    assert "4 other tasks are still to be passed, the next is task 2." in said
    for number in (2, 5, 6, 7):
        session.go_to_task(number)
        session.solution()
    session.go_to_task(8)
    assert "still to be passed" not in " ".join(resuming_lines(Talk(session, Page())))


async def test_the_list_says_which_variant_is_open(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path)
    with open_record(tmp_path / "kept") as record:
        record.keep_setting("toured", True)
        async with driven(lesson, record=record) as tutor:
            await tutor.press("A enter escape")
            assert "begun, 0 of 2 tasks passed, variant 1" in " ".join(tutor.text.split())
            assert "Lesson 90 waits as you left it, at task 1 of variant 1" in tutor.text
            assert "Open in variant 1: another arm and block than here." in tutor.text
    known = [Listed.of(lesson)]
    with open_record(tmp_path / "kept") as record:
        assert record.variants_left() == {lesson.name: 1}
        async with driven(record=record, known=known) as tutor:
            assert "variant 1" in tutor.rows[1]
            await tutor.resize(60, 20)
            assert "variant 1" in tutor.rows[1]
            assert "A small lesson" in tutor.rows[1]
            await tutor.press("enter R w enter escape")
            assert "variant" not in tutor.text


async def test_another_arm_is_asked_for_twice_only_where_something_is_begun_and_not_done() -> None:
    async with driven("4") as tutor:
        await tutor.press("A enter")
        assert tutor.lesson.session.seed == 1
        tutor.lesson.session.answer("99 cm")
        await tutor.press("A")
        assert "what you have begun here is left behind" in tutor.page
        await tutor.press("enter")
        assert tutor.lesson.session.seed == 1
        await tutor.press("A y enter")
        assert tutor.lesson.session.seed == 2
        session = tutor.lesson.session
        assert session.answer(session.right_answer()).passed
        await tutor.press("A enter")
        assert tutor.lesson.session.seed == 3


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
async def test_how_to_lay_the_tape_anew_is_told_whatever_the_places_are_called(
    size: tuple[int, int], unit: Unit
) -> None:
    async with driven("4", size, unit=unit) as tutor:
        await tutor.press("m g")
        await tutor.write("lower back notch")
        await tutor.press("enter")
        assert " Enter Hold " in tutor.rows[-1]
        await tutor.press("enter g")
        await tutor.write("front underarm point")
        await tutor.press("enter")
        assert "From the lower back notch to the front underarm point" in tutor.text
        assert "along the edge." in tutor.text
        assert " Enter Anew " in tutor.rows[-1]


@pytest.mark.parametrize(("lesson", "keys"), [("4", "m"), ("4", "n enter s"), ("1", ""), ("4", "f")])
async def test_tab_goes_on_wherever_something_is_walked_and_n_is_told_for_tasks_alone(lesson: str, keys: str) -> None:
    async with driven(lesson) as tutor:
        await tutor.press(keys)
        assert " Tab Next " in tutor.rows[-1]
        assert " n " not in tutor.rows[-1]
        await tutor.press("question_mark")
        assert "Tab" in tutor.page


def test_a_figure_within_its_tolerance_is_not_said_to_be_the_very_one() -> None:
    session = Session(find_lesson("4"), Unit.CM)
    right = session.right_answer()
    near = session.answer("12.7 cm")
    assert near.passed
    assert near.feedback[0] == f"Right, near enough: it is {right}."
    assert session.answer(right).feedback[0] == f"Right: it is {right}."


@pytest.mark.parametrize(("lesson", "task"), [("2", 1), ("5", 3), ("8", 5)])
def test_the_way_to_a_difference_is_told_by_what_it_is_the_difference_of(lesson: str, task: int) -> None:
    """The cap ease, worked out again from the two seams in the worked solution's own sentence."""
    session = Session(find_lesson(lesson), Unit.CM)
    session.go_to_task(task)
    asked = session.task
    assert isinstance(asked, NumberTask)
    told = next(step for step in session.solution().steps if "take the one from the other" in step)
    cap, hole = map(float, re.findall(r"-?\d+\.\d", told))
    assert f"{cap - hole:.1f} cm" == session.right_answer()


def test_the_way_to_a_change_tells_before_and_after() -> None:
    session = Session(find_lesson("6"), Unit.CM)
    session.go_to_task(2)
    before = shown("cap-seam", measure(session.pattern)["cap-seam"], Unit.CM)
    assert session.solution().steps[0].startswith(f"The cap seam is {before} before, and ")


@pytest.mark.parametrize("text", ['a = "x\nb = 1\n', 'a = "x', "a = 'x\n"])
def test_a_quotation_mark_that_is_missing_is_named(text: str) -> None:
    with pytest.raises(Fault, match="a text has no closing quotation mark"):
        parse_toml(text, "own.toml")


def test_a_quiz_of_thirty_minutes_begins_with_thirty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sitting = small_sitting(tmp_path)
    monkeypatch.setattr(type(sitting.clock), "left", property(lambda clock: 1799.6))
    assert time_left(sitting).startswith("Time left: 30 min.")
