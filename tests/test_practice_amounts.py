"""Amounts that need no slash, in a learner's hands: set, undone, kept, told, typed line by line, and on the screen."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from blocks import amounts
from hypothesis import given
from lessons_for_tests import AMOUNTS as LESSON
from lessons_for_tests import small_lesson
from tutor_driving import driven

from tutor.alteration.amounts import AMOUNTS, BY_KEY, MEANS, PlanAmount, means_used
from tutor.alteration.plan import Answer, Landmark, Plan, SeamChange, Shoulder
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import PlanTask
from tutor.lesson.variants import drawn
from tutor.pattern.measures import measure
from tutor.practice.plain import run_plain
from tutor.practice.plain_commands import COMMANDS
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.stored import plan_from, stored_plan
from tutor.practice.variants import variant_of
from tutor.quiz.spotting import rounded
from tutor.units import Unit


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=LESSON)


@pytest.fixture
def session(lesson: Lesson) -> Session:
    made = Session(lesson, Unit.CM)
    made.next_task()
    return made


def talked(lesson: Lesson, script: str) -> str:
    """What is said when the second task is taken line by line, without line breaks."""
    output = io.StringIO()
    run_plain(lesson, io.StringIO(f"next\n{script}\n"), output, unit=Unit.CM)
    return " ".join(output.getvalue().split())


def test_the_lesson_is_sound(lesson: Lesson) -> None:
    assert prove(lesson, 3).faults == ()


def test_its_right_plan_is_solved_whatever_the_amounts_are_of(session: Session) -> None:
    plan = session.solution().plan
    assert plan is not None
    assert plan.seam_front.bicep == 5
    assert plan.back.widen * 3 == pytest.approx(plan.back.lower)
    session.adopt(plan)
    assert session.check().total == 1


def test_amounts_are_named_in_texts_and_vary(lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    assert "turns 0.5 cm and rises 1 cm" in session.ask
    values = drawn(lesson, 3).values
    assert {"turned pitch", "turned cap-raise"} <= set(values)
    assert not any(name.startswith("right") for name in values)
    variant = variant_of(lesson, 3)
    other = variant.lesson.plans["turned"].plan
    assert other.pitch == variant.values["turned pitch"]
    assert 5 <= other.cap_raise <= 15


def test_a_number_is_right_as_the_amounts_leave_the_pattern(lesson: Lesson) -> None:
    session = Session(lesson, Unit.CM)
    front = measure(session.pattern)["cap-seam-front"]
    assert float(session.right_answer().split()[0]) == pytest.approx((front + 5 + 7) / 10, abs=0.1)


@pytest.mark.parametrize("amount", AMOUNTS, ids=lambda amount: str(amount.key))
def test_every_amount_is_set_and_taken_back(session: Session, amount: PlanAmount) -> None:
    session.set_amount(amount, 6)
    assert session.draft == amount.put(Plan(), 6)
    session.set_amount(amount.key, -3.5)
    assert amount.read(session.draft) == -3.5
    assert session.undo()
    assert session.undo()
    assert session.plan is None
    assert session.redo()
    assert amount.read(session.draft) == 6


def test_amounts_beyond_belief_and_out_of_place_are_refused(session: Session) -> None:
    with pytest.raises(Fault, match="no amount for a sleeve"):
        session.set_amount("pitch", 1e4)
    with pytest.raises(Fault, match="does not allow slashes"):
        session.add_slash(Landmark("crown"), Landmark("hem-back"))
    session.go_to_task(1)
    with pytest.raises(Fault, match="this task does not allow turning the cap; it asks for a number"):
        session.set_amount("pitch", 1)
    assert session.amounts == ()


def test_a_plan_that_uses_what_is_not_allowed_is_not_taken_over(tmp_path: Path) -> None:
    text = LESSON.replace('may-use = ["pitch", "seams",', 'may-use = ["seams",')
    session = Session(small_lesson(tmp_path, text=text), Unit.CM)
    session.next_task()
    with pytest.raises(Fault, match="this task does not allow turning the cap; it is to be done with a change of the"):
        session.adopt(Plan(pitch=5))
    assert "pitch" not in {amount.key for amount in session.amounts}


def test_the_means_that_a_plan_uses() -> None:
    assert means_used(Plan()) == ()
    plan = Plan(set_back=True, pitch=1, shoulder=Shoulder(up=1), seam_back=SeamChange(hem=1))
    assert set(means_used(plan)) == {"set-back", "pitch", "shoulder", "seams"}
    assert {amount.means for amount in AMOUNTS} == set(MEANS) - {"slashes", "set-back"}


@given(amounts())
def test_plans_are_kept_and_read_back(plan: Plan) -> None:
    assert plan_from(json.loads(json.dumps(stored_plan(plan)))) == plan


def test_plans_kept_before_there_were_more_amounts_are_still_read() -> None:
    old = {"slashes": [], "openings": [], "set_back": False, "back": [8.0, 9.0], "front": [1.0, 2.0]}
    assert plan_from(old) == Plan(back=Answer(8, 9), front=Answer(1, 2))


@pytest.mark.parametrize("amounts", [{"depth": 1.0}, {"pitch": "wide"}, {"pitch": float("nan")}, [1.0], "pitch"])
def test_plans_kept_wrong_are_faults(amounts: object) -> None:
    with pytest.raises(Fault, match="stored plan"):
        plan_from(stored_plan(Plan()) | {"amounts": amounts})


def test_amounts_are_rounded_as_openings_are() -> None:
    plan = rounded(Plan(pitch=1.23456, shoulder=Shoulder(forward=2.00049), back=Answer(0.1234567, 0)))
    assert (plan.pitch, plan.shoulder.forward, plan.back.widen) == (1.235, 2.0, 0.123)


TYPED = [
    ("pitch forward 5 mm", {"pitch": 5}, "Cap turned forward 0.5 cm."),
    ("pitch back by 5 mm", {"pitch": -5}, "Cap turned back 0.5 cm."),
    ("crown forward 1/2 in", {"crown-forward": 12.7}, "Crown mark to the front 1.3 cm."),
    ("crown back 3", {"crown-forward": -30}, "Crown mark to the back 3.0 cm."),
    ("cap up 1", {"cap-raise": 10}, "Top of the cap up 1.0 cm."),
    ("cap down 1", {"cap-raise": -10}, "Top of the cap down 1.0 cm."),
    ("add back underarm 8 mm", {"seam.back.bicep": 8}, "Back edge: out at the underarm point 0.8 cm."),
    ("take front elbow 8 mm", {"seam.front.elbow": -8}, "Front edge: in at the elbow 0.8 cm."),
    (
        "add both hem 8 mm",
        {"seam.back.hem": 8, "seam.front.hem": 8},
        "Back edge: out at the hem 0.8 cm. Front edge: out at the hem 0.8 cm.",
    ),
    ("underarm front up 8 mm", {"seam.front.up": 8}, "Front edge: underarm point up 0.8 cm."),
    ("underarm back down 8 mm", {"seam.back.up": -8}, "Back edge: underarm point down 0.8 cm."),
    ("shoulder forward 8 mm", {"shoulder.forward": 8}, "Bodice: shoulder forward 0.8 cm."),
    ("shoulder back 8 mm", {"shoulder.forward": -8}, "Bodice: shoulder back 0.8 cm."),
    ("SHOULDER up 8 mm", {"shoulder.up": 8}, "Bodice: shoulder ends up 0.8 cm."),
    ("shoulder down 8 mm", {"shoulder.up": -8}, "Bodice: shoulder ends down 0.8 cm."),
    ("widen back 8 mm", {"armhole.back.widen": 8}, "Back bodice: side seam out 0.8 cm."),
    ("take-in front 8 mm", {"armhole.front.widen": -8}, "Front bodice: side seam in 0.8 cm."),
    (
        "lower both 8 mm",
        {"armhole.back.lower": 8, "armhole.front.lower": 8},
        "Back bodice: underarm down 0.8 cm. Front bodice: underarm down 0.8 cm.",
    ),
    ("raise back 8 mm", {"armhole.back.lower": -8}, "Back bodice: underarm up 0.8 cm."),
]


@pytest.mark.parametrize(("line", "set_to", "told"), TYPED, ids=[line for line, *_ in TYPED])
def test_amounts_typed_line_by_line(lesson: Lesson, line: str, set_to: dict[str, float], told: str) -> None:
    output = talked(lesson, f"{line}\nundo\nredo\nplan")
    assert output.count(told) == 3
    session = Session(lesson, Unit.CM)
    session.next_task()
    for key, mm in set_to.items():
        session.set_amount(key, mm)
    assert " ".join(output.split("> plan ")[1].split()).startswith(told)


def test_every_amount_can_be_typed_both_ways() -> None:
    words = [command.word for command in COMMANDS]
    assert len(set(words)) == len(words)
    assert {typed.split()[0] for amount in AMOUNTS for typed in amount.typed} <= set(words)
    typed = {line.split()[0] for line, *_ in TYPED}
    assert {form.split()[0] for amount in AMOUNTS for form in amount.typed} == {word.casefold() for word in typed}


UNREADABLE = [
    ("pitch 5 mm", "pitch: needs forward or back, and an amount; write such as pitch forward 0.8 cm."),
    ("pitch", "pitch: needs forward or back, and an amount"),
    ("pitch back", "pitch: needs an amount; write such as pitch back 0.8 cm."),
    ("add back knee 1", "add: needs underarm, elbow or hem, and an amount; write such as add back underarm 0.8 cm."),
    ("add 1 cm", "add: needs back, front or both, and an amount"),
    ("underarm back 1 cm", "underarm: needs up or down, and an amount"),
    ("cap up high", 'cap: "high" is not a length'),
    ("shoulder up 3 km", 'shoulder: "3 km" ends in no unit known here'),
    ("cap up 200 cm", "200 cm is no amount for a sleeve"),
]


@pytest.mark.parametrize(("line", "told"), UNREADABLE, ids=[line for line, _ in UNREADABLE])
def test_lines_that_set_no_amount(lesson: Lesson, line: str, told: str) -> None:
    said = talked(lesson, f"{line}\nplan")
    assert "Not read, and nothing lost:" in said
    assert told in said
    assert "The paper is as it was." in said


def test_what_there_is_no_room_for_is_told(lesson: Lesson) -> None:
    said = talked(lesson, "cap down 30 cm\nundo\nplan")
    assert "Paper can't follow this (no room): the cap can't be lowered by 30.0 cm" in said
    assert said.count("The paper is as it was.") == 2


def test_a_task_without_slashes_says_what_can_be_typed(lesson: Lesson) -> None:
    said = talked(lesson, "")
    assert "Type such as add back underarm 0.8 cm, add back elbow 0.8 cm" in said
    assert "and lower back 0.8 cm. figure tells the figure, tour how all goes, help lists all commands." in said


def test_the_worked_solution_goes_by_edges_and_pieces(session: Session) -> None:
    steps = session.solution().steps
    assert steps[0].startswith("On the back edge add 0.")
    assert steps[1] == "On the front edge add 0.5 cm at the underarm point."
    assert steps[2].startswith("Turn the cap forward: mark crown and notches 0.")
    assert steps[3].startswith("On the back bodice move the side seam out by 0.")
    assert " and lower the underarm by 0." in steps[3]


async def test_amounts_on_the_screen(lesson: Lesson) -> None:
    async with driven(lesson, (120, 40)) as tutor:
        await tutor.press("n enter")
        for amount in AMOUNTS:
            assert amount.line in tutor.text
        await tutor.press("pageup plus down down minus")
        assert tutor.lesson.session.draft.seam_back == SeamChange(bicep=6, hem=-1)
        await tutor.press("enter")
        await tutor.write("1/2 in")
        await tutor.press("enter x")
        assert tutor.lesson.session.draft.seam_back == SeamChange(bicep=6)
        await tutor.press("u")
        assert tutor.lesson.session.draft.seam_back == SeamChange(bicep=6, hem=12.7)
        await tutor.press(" ".join(["down"] * 7))
        assert tutor.lesson.chosen == "pitch"
        assert "+ Turn" in tutor.text
        assert "cap turned forward: 0.0 cm." in tutor.text
        await tutor.press("plus")
        assert BY_KEY["pitch"].read(tutor.lesson.session.draft) == 1


async def test_a_worked_solution_without_slashes_is_played(lesson: Lesson) -> None:
    async with driven(lesson, (120, 40)) as tutor:
        await tutor.press("n enter w y")
        assert "> 1. On the back edge add" in tutor.text
        await tutor.press("right right right")
        assert "> 4. On the back bodice move" in tutor.text
        await tutor.press("a c")
        assert "Every goal is met." in tutor.page


async def test_at_80_columns_the_sleeve_is_in_view_where_it_is_to_be_changed(lesson: Lesson) -> None:
    async with driven(lesson) as tutor:
        await tutor.press("n enter")
        assert isinstance(tutor.lesson.session.task, PlanTask)
        assert "◊" in tutor.text
        assert tutor.text.count("▴") == 1
