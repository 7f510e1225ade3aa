"""Choices: which of several plans or measures are right, worked out; and how they are answered on every face."""

from __future__ import annotations

import io
import json
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import CHOICES, small_lesson, written
from simulated_learners import simulate
from simulated_tally import table
from test_quiz_screens import quizzing
from tutor_driving import driven

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import check_lesson
from tutor.lesson.task import ChoiceTask
from tutor.marking.choice import ChoiceCase
from tutor.marking.mark_choice import mark_choice
from tutor.practice.plain import run_plain
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.variants import why_not
from tutor.practice.worked import case_of
from tutor.quiz.asking import ask
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.forms import askings
from tutor.quiz.making import question_of
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.record.record import open_record
from tutor.units import Unit

MEASURES = 'measures = ["cap-height", "cap-seam", "elbow-girth", "underarm-seam-back"]'
WEDGE = 'at = "to", for = { measure = "bicep-girth", arm-and-ease = true }'


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=CHOICES)


def at(lesson: Lesson, number: int, unit: Unit = Unit.CM, seed: int | None = None) -> Session:
    session = Session(lesson, unit, seed)
    session.go_to_task(number)
    return session


def case(lesson: Lesson, number: int) -> ChoiceCase:
    found = case_of(lesson, number)
    assert isinstance(found, ChoiceCase)
    return found


def letter(session: Session, name: str) -> str:
    return next(option.letter for option in session.options if option.name == name)


# What is right follows from plane geometry (common practice has it so too): halves of the cap that turn about the crown
# keep their seam; a cap set back keeps its height; a wedge hinged at the crown is widest at the hem.
@pytest.mark.parametrize(
    ("number", "right"), [(1, "crossed"), (2, "lifted"), (3, "cap-height"), (4, "cap-seam, hem-girth")]
)
def test_what_is_right_is_worked_out(lesson: Lesson, number: int, right: str) -> None:
    for seed in (None, 0, 1, 2):
        session = at(lesson, number, seed=seed)
        assert session.right_answer() == right
        assert session.answer(right).passed
        assert session.standing() == "passed"


def test_what_falls_falls_by_pythagoras(lesson: Lesson) -> None:
    """H' = sqrt(H^2 + b^2 - (b + W/2)^2), the slant kept; back and front of the block differ a little."""
    weighed = {each.name: each for each in case(lesson, 3).weighed}
    before, after = case(lesson, 3).before, weighed["cap-height"].after
    assert after is not None
    half = before["bicep-girth"] / 2
    left = math.sqrt(before["cap-height"] ** 2 + half**2 - (half + 15) ** 2)
    assert after["cap-height"] == pytest.approx(left, abs=0.5)
    assert [each.name for each in weighed.values() if each.right] == ["cap-height"]


def test_a_wrong_choice_is_told_by_its_own_figures_and_gives_nothing_away(lesson: Lesson) -> None:
    session = at(lesson, 1)
    marked = session.answer(letter(session, "lifted"))
    said = " ".join(marked.feedback)
    assert not marked.passed
    assert marked.total == 0
    assert "The cap lifted off and set back: it does what is asked of bicep girth and hem girth." in said
    assert "The cap seam grew by 2.2 cm; it should stay" in said
    assert "crossed" not in said.casefold()
    assert marked.notes == ()


def test_after_the_right_one_every_option_is_told_in_figures(lesson: Lesson) -> None:
    session = at(lesson, 1, Unit.INCH)
    marked = session.answer("crossed")
    assert len(marked.notes) == 3
    assert all("bicep girth 14 3/16 in (+1 3/16 in)" in note for note in marked.notes)
    assert marked.feedback == ("Right.", "The halves of the cap turn, and their seam stays.")


def test_one_that_would_do_but_is_not_the_best_is_told_so(lesson: Lesson) -> None:
    said = " ".join(at(lesson, 2).answer("crossed").feedback)
    assert "it would do, but leaves a cap height of 12.3 cm; another leaves more" in said


def test_where_all_are_asked_for_each_counts(lesson: Lesson) -> None:
    session = at(lesson, 4)
    half = session.answer("cap-seam")
    assert half.total == pytest.approx(0.5)
    assert not half.passed
    assert half.feedback == ("You have 1 of the 2 that are right.",)
    assert session.answer("cap-seam, elbow-girth").total == 0
    assert session.answer("hem-girth cap-seam").passed


@pytest.mark.parametrize(
    ("number", "given", "said"),
    [
        (1, "z", '"z" is none of the options'),
        (1, "the third", '"the third" is none of the options; write a number from 1 to 3, or a letter from a to c'),
        (1, "a, the third", '"the" is none of the options'),
        (1, "a and b", "names 2 options; choose one of them"),
        (1, " ", "names none of the options; write a number from 1 to 3, or a letter from a to c"),
        (1, "x" * 500, "is none of the options"),
    ],
)
def test_what_is_no_choice_costs_nothing(lesson: Lesson, number: int, given: str, said: str) -> None:
    session = at(lesson, number)
    with pytest.raises(Fault) as fault:
        session.answer(given)
    assert said in str(fault.value)
    assert session.attempts() == ()
    assert session.answered is None


@pytest.mark.parametrize("text", ["crossed", "CROSSED.", "Slashes crossed, all ends hinged"])
def test_a_choice_is_meant_by_name_or_by_its_own_words(lesson: Lesson, text: str) -> None:
    assert at(lesson, 1).answer(text).passed


@given(st.text(max_size=40))
def test_no_text_ends_it(choices: Lesson, text: str) -> None:
    session = at(choices, 4)
    try:
        marked = session.answer(text)
    except Fault:
        return
    assert 0 <= marked.total <= 1


@pytest.fixture(scope="module")
def choices(tmp_path_factory: pytest.TempPathFactory) -> Lesson:
    return small_lesson(tmp_path_factory.mktemp("choices"), text=CHOICES)


def test_choosing_is_not_marking(lesson: Lesson) -> None:
    session = at(lesson, 1)
    session.choose("lifted")
    session.choose("wedge")
    assert list(session.chosen) == ["wedge"]
    session.choose("wedge")
    assert list(session.chosen) == []
    assert session.check().total == 0
    assert session.attempts() == ()
    session.go_to_task(4)
    for name in ("hem-girth", "elbow-girth", "cap-seam", "elbow-girth"):
        session.choose(name)
    assert session.chosen == ("cap-seam", "hem-girth")
    assert session.check().passed
    with pytest.raises(Fault):
        session.choose("leg")


def test_the_order_hangs_on_the_variant_alone(lesson: Lesson) -> None:
    orders = {tuple(option.name for option in at(lesson, 1, seed=seed).options) for seed in range(12)}
    assert len(orders) > 2
    again = {tuple(option.name for option in at(lesson, 1, unit, 3).options) for unit in (Unit.CM, Unit.INCH)}
    assert len(again) == 1
    assert len({tuple(option.name for option in at(lesson, number, seed=5).options) for number in (3, 4)}) == 2


def test_a_choice_is_kept_and_marked_again_as_it_was(lesson: Lesson) -> None:
    session = at(lesson, 4, seed=2)
    session.answer("cap-seam, bicep-girth")
    again = Session.load(lesson, json.loads(json.dumps(session.dump())))
    assert again.chosen == ("cap-seam", "bicep-girth")
    attempt = again.attempts(4)[0]
    assert attempt.given == "cap-seam, bicep-girth"
    assert mark_choice(case(again.lesson, 4), Unit.CM, ("cap-seam", "bicep-girth")).total == attempt.total
    assert [option.name for option in again.options] == [option.name for option in session.options]


def test_a_solution_tells_all_and_the_task_counts_as_shown(lesson: Lesson) -> None:
    session = at(lesson, 1)
    steps = session.solution().steps
    assert "Right is: Slashes crossed, all ends hinged." in steps
    assert session.answer("crossed").passed
    assert session.standing() == "shown"


def test_what_an_option_cuts_is_seen_and_what_it_leads_to_only_when_it_is_settled(lesson: Lesson) -> None:
    session = at(lesson, 1)
    assert session.option_plan("lifted") is not None
    assert all(row.now == row.before for row in session.option_tape("lifted"))
    at_three = at(lesson, 3)
    assert at_three.option_plan("cap-height") is None
    session.answer("crossed")
    seam = next(row for row in session.option_tape("lifted") if row.measure == "cap-seam")
    assert seam.now == pytest.approx(482, abs=1)


# What can't be told apart is not asked.


def test_figures_too_near_each_other_are_no_question(tmp_path: Path) -> None:
    """Cap heights of 14.2 and 12.3 cm where it takes 3 cm to tell."""
    near = small_lesson(tmp_path, ('most = "cap-height"', 'most = "cap-height"\napart = 3'), text=CHOICES)
    assert "neither clearly right" in case(near, 2).trouble
    assert any("neither clearly right" in str(fault) for fault in prove(near, 300).faults)
    assert "neither clearly right" in str(why_not(near, near))


def test_two_right_ones_are_no_question_for_one(tmp_path: Path) -> None:
    two = small_lesson(
        tmp_path, ('measure = "cap-seam"\ntolerance = 0.3', 'measure = "hem-girth"\ntolerance = 0.3'), text=CHOICES
    )
    assert case(two, 1).trouble == "2 of its options are right, where one should be"


def test_what_paper_refuses_is_wrong_and_says_why(tmp_path: Path) -> None:
    """Both ends of the one slash hinged: nothing can open (common practice)."""
    held = small_lesson(
        tmp_path,
        ('to = "grain-hem", hinge = "from" }', 'to = "grain-hem", hinge = ["from", "to"] }'),
        ('at = "to", for = { measure = "bicep-girth", arm-and-ease = true }', "at = 0.5, amount = 3"),
        text=CHOICES,
    )
    session = at(held, 1)
    marked = session.answer("wedge")
    assert "paper can't do it" in " ".join(marked.feedback)
    assert session.answer("crossed").passed


def test_every_variant_is_fit(lesson: Lesson) -> None:
    assert prove(lesson, 6).faults == ()


def test_learners_are_understood(lesson: Lesson) -> None:
    tallies = simulate(lesson, range(4))
    told = "\n".join(table(tallies))
    assert [tally.failed + tally.accused for tally in tallies] == [0] * len(tallies), told
    assert all(tally.right > 0 for tally in tallies), told


# A usual mistake among the options is named.


def test_a_plan_with_a_usual_mistake_in_it_is_told_as_that(tmp_path: Path) -> None:
    """The slash that makes the room, alone and hinged at the crown, opened by as much at the hem: see marking."""
    wrong = small_lesson(
        tmp_path,
        (WEDGE, 'at = "to", amount = "30.187 mm"'),
        text=CHOICES,
    )
    marked = at(wrong, 1).answer("wedge")
    assert marked.mistake == "hinge-at-wrong-end"
    assert "the end that should hold" in " ".join(marked.feedback)


# Carried on.


def test_a_choice_after_ones_own_work_is_about_that(tmp_path: Path) -> None:
    start = CHOICES.index("[[tasks]]")
    own = """[[tasks]]
kind = "plan"
title = "Open it"
ask = "Open it."
may-use = ["slashes", "set-back"]
solution = "crossed"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
arm-and-ease = true
tolerance = 0.3

"""
    text = CHOICES[:start] + own + CHOICES[start:].replace('which = "shrink"', 'which = "shrink"\ngoes-on-from = 1')
    lesson = small_lesson(tmp_path, text=text)
    session = at(lesson, 4)
    assert session.right_answer() == "cap-height"
    session.go_to_task(1)
    case_1 = at(lesson, 1).solution().plan
    assert case_1 is not None
    session.adopt(case_1)
    assert session.check().passed
    session.go_to_task(4)
    assert "your own work in task 1" in session.ask
    assert session.right_answer() == "cap-height"


# Line by line, on the screen, in a quiz, in the record.


def test_a_choice_is_made_line_by_line(lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    first = letter(session, "crossed")
    lines = [
        first,
        "next",
        "answer lifted",
        "next",
        "choose cap height",
        "next",
        "answer cap-seam and hem-girth",
        "next",
    ]
    out = io.StringIO()
    assert run_plain(session, io.StringIO("\n".join(lines)), out) == 0
    said = out.getvalue()
    assert "Lesson 93 passed." in said


async def test_options_have_the_same_numbers_line_by_line_and_on_the_screen(lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    out = io.StringIO()
    run_plain(session, io.StringIO(""), out)
    numbered = re.findall(r"^(\d)\) (.+)$", out.getvalue(), re.MULTILINE)
    assert [number for number, _ in numbered] == ["1", "2", "3"]
    assert "Type answer and one number, 1, 2 or 3." in out.getvalue()
    async with driven(lesson, brief_closed=True) as tutor:
        on_screen = re.findall(r"\( \) (\d)  (.{12})", "\n".join(tutor.rows))
    assert [(number, words[:12]) for number, words in numbered] == on_screen


def test_options_are_named_line_by_line_by_number_or_by_letter(lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    numbers = {option.name: option.number for option in session.options}
    right, wrong = numbers["crossed"], next(each for name, each in numbers.items() if name != "crossed")
    lines = [f"{wrong}.", "task 1", right, "task 4"]
    run_plain(session, io.StringIO("\n".join(lines)), io.StringIO())
    assert [attempt.passed for attempt in session.attempts(1)] == [False, True]
    several = {option.name: option for option in session.options}
    lines = [f"{several['cap-seam'].number}) and {several['hem-girth'].letter}"]
    run_plain(session, io.StringIO("\n".join(lines)), io.StringIO())
    assert session.standing(4) == "passed"


async def test_a_choice_is_made_by_keys_and_by_mouse(lesson: Lesson) -> None:
    async with driven(lesson, brief_closed=True) as tutor:
        session = tutor.lesson.session
        names = [option.name for option in session.options]
        await tutor.press(" ".join(["down"] * names.index("lifted") + ["enter"]))
        assert "(x)" in tutor.text
        assert "Chosen: " in tutor.text
        await tutor.press("c")
        assert "Not passed yet" in tutor.page
        await tutor.press("enter")
        row = next(k for k, text in enumerate(tutor.rows) if "Slashes crossed" in text)
        await tutor.pilot.click("#side", offset=(8, row - 1))
        assert session.chosen == ("crossed",)
        await tutor.press("c")
        assert "Passed: 100 of 100" in tutor.page
        assert "cap seam 48.2 cm (+2.2 cm)" in tutor.page
        await tutor.press("enter")
        assert "show what each of them does" in tutor.text
        before = tutor.text
        await tutor.press("up down up")
        assert tutor.text != before


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_every_option_is_in_view(lesson: Lesson, size: tuple[int, int]) -> None:
    async with driven(lesson, size, brief_closed=True) as tutor:
        for number, task in enumerate(lesson.tasks, 1):
            assert isinstance(task, ChoiceTask)
            assert tutor.lesson.session.task_number == number
            for option in tutor.lesson.session.options:
                assert option.words.split(",")[0][:20] in tutor.text
            await tutor.press("n enter" if number < len(lesson.tasks) else "b")


async def test_a_choice_begun_is_there_next_time(lesson: Lesson, tmp_path: Path) -> None:
    for chosen in ("", "wedge"):
        with open_record(tmp_path / "kept") as record:
            record.keep_setting("toured", True)
            async with driven(lesson, record=record, brief_closed=not chosen) as tutor:
                assert tutor.lesson.session.chosen == ((chosen,) if chosen else ())
                if not chosen:
                    names = [option.name for option in tutor.lesson.session.options]
                    await tutor.press(" ".join(["up"] * 3 + ["down"] * names.index("wedge") + ["space"]))


def test_a_choice_is_asked_in_a_quiz(lesson: Lesson) -> None:
    asking = next(each for each in askings(lesson) if each.task == 1)
    question = question_of(lesson, asking, 3)
    assert question is not None
    asked = ask(question, lesson, Unit.CM)
    task = lesson.tasks[0]
    assert isinstance(task, ChoiceTask)
    assert set(asked.options) == {option.title for option in task.options}
    asked.give("ABC"[asked.options.index("Slashes crossed, all ends hinged")])
    assert asked.mark().passed


async def test_a_choice_of_a_quiz_goes_by_the_numbers_on_the_screen_until_it_is_settled(lesson: Lesson) -> None:
    lessons = {lesson.name: lesson}
    sitting = Sitting(draw_quiz(QuizSpec((lesson.name,), count=1, seed=5), lessons), lessons, Unit.CM)
    async with quizzing(sitting) as tutor:
        await tutor.press("enter enter 2")
        second = sitting.asked.session.options[1]
        assert second.chosen
        assert f"Your answer is 2, {second.words}." in tutor.text
        await tutor.press("c y enter")
        given = sitting.asked.given()
        assert " c Mark " in tutor.rows[-1]
        await tutor.press("1 enter space")
        assert "settled by that" in tutor.text
        assert sitting.asked.given() == given


# What is broken: what is put for what, and what must be said.
BROKEN = [
    ("no such plan", ('{ plan = "wedge", title', '{ plan = "wedgy", title'), '"wedgy" is no plan of this lesson'),
    ("no title", (', title = "One wedge, hinged at the crown"', ""), "options 3, title: is missing"),
    ("same plan twice", ('{ plan = "wedge", title', '{ plan = "lifted", title'), "has lifted more than once"),
    (
        "nothing to choose",
        ('measures = ["cap-height", "cap-seam", "elbow-girth", "underarm-seam-back"]\n', ""),
        "gives nothing to choose among",
    ),
    (
        "one thing",
        (MEASURES, 'measures = ["cap-seam"]'),
        "has 1 to choose among; write 2 to 8",
    ),
    (
        "no such measure",
        (
            'measures = ["cap-height", "cap-seam", "elbow-girth", "und',
            'measures = ["cup-height", "cap-seam", "elbow-girth", "und',
        ),
        '"cup-height" is no measure',
    ),
    ("no plan asked about", ('after = "crossed"\nwhich = "shrink"', 'which = "shrink"'), "after: is missing"),
    ("no way to tell", ('most = "cap-height"\n', ""), "says not which options are right"),
    ("least and most", ('most = "cap-height"', 'most = "cap-height"\nleast = "cap-seam"'), "goes with no least"),
    ("least of nothing", ('most = "cap-height"', 'most = "cap"'), '"cap" is no measure'),
    (
        "goes another way",
        ('which = "shrink"', 'which = "fall"'),
        '"fall" is not known; write one of grow, shrink, stay',
    ),
    ("nought apart", ('most = "cap-height"', 'most = "cap-height"\napart = 0'), "apart: is not above 0"),
    (
        "measures and goals",
        ('which = "shrink"', 'which = "shrink"\nmost = "cap-seam"'),
        "goes with options, not with measures",
    ),
    ("right written", ('pick = "all"', 'pick = "all"\nright = ["cap-seam"]'), "right: is no key here"),
    (
        "solved for what no goal says",
        (WEDGE, 'at = "to", for = "cap-height"'),
        "is solved for cap-height, and no goal",
    ),
]


@pytest.mark.parametrize(("change", "said"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN])
def test_a_broken_choice_is_told_where_and_what(tmp_path: Path, change: tuple[str, str], said: str) -> None:
    assert change[0] in CHOICES
    faults = [str(fault) for fault in check_lesson(written(tmp_path, CHOICES.replace(*change, 1)))]
    assert any(said in fault for fault in faults), faults
    assert all(fault.startswith("small.toml: line") for fault in faults)
