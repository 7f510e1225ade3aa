"""Marks: by what was done to the pattern, with credit as it is written down, and feedback that says what is missing."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import small_lesson

from tutor.alteration.plan import Answer, Plan
from tutor.alteration.refusal import LOCKED, Refusal
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Aim, AtLeast, AtMost, Balance, Goal, Keep, Reach, Sound
from tutor.lesson.setting import Arm
from tutor.lesson.task import NumberTask, PlanTask
from tutor.marking.credit import credit, tolerance_of
from tutor.marking.figures import bounds, shown
from tutor.marking.mark import mark_number, mark_plan, mark_refused
from tutor.marking.marked import Marked, Part
from tutor.marking.notes import armhole_notes, sleeve_notes
from tutor.marking.points import out_of_100
from tutor.marking.reasons import tolerance_reason, tolerance_reasons
from tutor.units import Unit

ARM = Arm(girth=Amount(300, 30), wearing_ease=Amount(50, 5))
BEFORE = {"bicep-girth": 330.0, "cap-height": 140.0, "cap-seam": 460.0, "kink": 0.0, "underarm-mismatch": 0.0}


def task(*goals: Goal, pass_mark: float = 0.8) -> PlanTask:
    return PlanTask(title="t", ask="a", hints=("1", "2", "3"), goals=goals, solution="x", pass_mark=pass_mark)


def marked(goals: tuple[Goal, ...], unit: Unit = Unit.CM, pass_mark: float = 0.8, **after: float) -> Marked:
    """The mark for measures that end as given, the others as they began; names with underscores for hyphens."""
    changed = {name.replace("_", "-"): value for name, value in after.items()}
    return mark_plan(task(*goals, pass_mark=pass_mark), ARM, unit, BEFORE, BEFORE | changed)


def reach(value: float, tolerance: float = 3, weight: float = 1, must: bool = False) -> Reach:
    return Reach(measure="bicep-girth", value=Amount(value), tolerance=Amount(tolerance), weight=weight, must=must)


def keep(name: str = "cap-seam", weight: float = 1, must: bool = False, why: str = "") -> Keep:
    return Keep(measure=name, tolerance=Amount(3), weight=weight, must=must, why=why)


# The rule of credit: full inside the tolerance, none beyond three times it, linear between.
@pytest.mark.parametrize(
    ("off", "worth"), [(0, 1), (3, 1), (-3, 1), (4.5, 0.75), (6, 0.5), (-7.5, 0.25), (9, 0), (-50, 0)]
)
def test_credit_is_full_linear_none(off: float, worth: float) -> None:
    assert credit(off, 3) == pytest.approx(worth, abs=1e-9)
    assert marked((reach(350),), bicep_girth=350 + off).total == pytest.approx(worth, abs=1e-9)


@given(st.floats(-100, 100), st.floats(-100, 100), st.floats(0.1, 10))
def test_nearer_is_never_worth_less(first: float, second: float, tolerance: float) -> None:
    near, far = sorted((first, second), key=abs)
    assert credit(near, tolerance) >= credit(far, tolerance)
    assert 0 <= credit(far, tolerance) <= 1


def test_weights_share_the_mark() -> None:
    goals = (reach(350, weight=3.0), keep(weight=1.0))
    assert marked(goals, bicep_girth=350, cap_seam=500).total == pytest.approx(0.75)
    assert marked(goals, bicep_girth=356, cap_seam=460).total == pytest.approx((3 * 0.5 + 1) / 4)


def test_the_pass_mark_and_what_must_be() -> None:
    assert marked((reach(350, weight=4.0), keep()), bicep_girth=350, cap_seam=500).passed
    assert not marked((reach(350, weight=4.0), keep(must=True)), bicep_girth=350, cap_seam=500).passed
    assert not marked((reach(350, weight=4.0), keep()), bicep_girth=350, cap_seam=500, pass_mark=0.9).passed


def test_a_goal_that_must_be_is_met_only_in_full() -> None:
    assert not marked((reach(350, must=True), keep(weight=9.0)), bicep_girth=353.5).passed
    assert marked((reach(350, must=True), keep(weight=9.0)), bicep_girth=353).passed


def test_nothing_changed_is_worth_nothing() -> None:
    found = marked((reach(350), keep(weight=9.0)))
    assert (found.total, found.passed) == (0, False)
    assert "changed" in found.feedback[0]


def test_limits_count_one_way_only() -> None:
    most = AtMost(measure="cap-seam", value=Amount(470), tolerance=Amount(1))
    least = AtLeast(measure="cap-height", change=Amount(-10), tolerance=Amount(1))
    assert marked((most, least), cap_seam=400, cap_height=200).total == 1
    assert marked((most, least), cap_seam=472, cap_height=128).total == pytest.approx(0.5)


def test_a_measure_that_is_gone_is_missed() -> None:
    after = {name: value for name, value in BEFORE.items() if name != "cap-seam"}
    found = mark_plan(task(keep()), ARM, Unit.CM, BEFORE, after | {"bicep-girth": 350.0})
    assert (found.total, found.passed) == (0, False)


def test_balance_is_as_good_as_its_worst_part() -> None:
    goal = Balance(
        ease_front=(Amount(8), Amount(12)),
        ease_back=(Amount(8), Amount(12)),
        tolerance=Amount(1),
        notches=Amount(3),
        seams=Amount(2),
    )
    before = {
        "cap-ease-front": 20.0,
        "cap-ease-back": 20.0,
        "notch-mismatch-front": 9.0,
        "underarm-mismatch": 0.0,
        "side-mismatch": 0.0,
    }
    right = before | {"cap-ease-front": 11.0, "cap-ease-back": 9.0, "notch-mismatch-front": -2.0}
    assert mark_plan(task(goal), ARM, Unit.CM, before, right).total == 1
    for name, value, worth in [
        ("cap-ease-front", 14.0, 0.5),
        ("cap-ease-back", 4.0, 0.0),
        ("notch-mismatch-front", -6.0, 0.5),
        ("underarm-mismatch", 5.0, 0.25),
        ("side-mismatch", -4.0, 0.5),
    ]:
        found = mark_plan(task(goal), ARM, Unit.CM, before, right | {name: value})
        assert found.total == pytest.approx(worth, abs=1e-9), name
        assert found.goals[0].worst.measure == name


@pytest.mark.parametrize(
    ("kink", "mismatch", "worth"), [(1.0, 1.0, 1), (0.2, -1.0, 1), (2.0, 0, 0.5), (3.5, 0, 0), (0, 2.0, 0.5)]
)
def test_sound_is_one_degree_and_one_millimetre(kink: float, mismatch: float, worth: float) -> None:
    found = marked((Sound(),), kink=kink, underarm_mismatch=mismatch, bicep_girth=350)
    assert found.total == pytest.approx(worth, abs=1e-9)


# Nobody fails for rounding: the floor is half of what people are asked to measure to.
@pytest.mark.parametrize(("unit", "floor"), [(Unit.CM, 0.5), (Unit.MM, 0.5), (Unit.INCH, 25.4 / 16)])
def test_the_tolerance_has_a_floor(unit: Unit, floor: float) -> None:
    assert tolerance_of(Aim("bicep-girth", 1, 1, 0.01), unit) == pytest.approx(floor)
    assert tolerance_of(Aim("bicep-girth", 1, 1, 9), unit) == 9
    assert tolerance_of(Aim("kink", 1, 1, 0.01), unit) == 0.01


@given(st.floats(0.1, 10), st.floats(1e-6, 1e-2))
def test_what_is_missed_by_a_hair_is_never_told_as_full_marks(tolerance: float, over: float) -> None:
    """A figure a hair beyond its tolerance is said to be too much, so its goal must not read 100 of 100 beside that."""
    found = credit(tolerance * (1 + over), tolerance)
    assert out_of_100(found) == 99
    assert out_of_100(credit(tolerance, tolerance)) == 100


@given(st.floats(200, 500))
def test_rounding_to_an_eighth_of_an_inch_is_full_credit(right: float) -> None:
    rounded = round(right / 25.4 * 8) / 8 * 25.4
    assert marked((reach(right, tolerance=0.01),), unit=Unit.INCH, bicep_girth=rounded).total == 1


def test_a_refused_plan_gets_its_refusal_and_no_marks() -> None:
    refusal = Refusal(LOCKED, "the slash grain can't open by 3.0 cm", slash="grain")
    found = mark_refused(task(keep()), refusal)
    assert (found.total, found.passed, found.refusal) == (0, False, refusal)
    assert "The slash grain can't open by 3.0 cm." in found.feedback[0]


def test_costs_are_what_changed_though_nobody_asked() -> None:
    after = BEFORE | {"bicep-girth": 350.0, "cap-height": 121.0, "cap-seam": 460.2}
    found = mark_plan(task(reach(350)), ARM, Unit.CM, BEFORE, after, ["cap-height", "cap-seam", "bicep-girth", "none"])
    assert [(cost.measure, cost.change) for cost in found.costs] == [("cap-height", -19.0)]


def feedback(goal: Goal, unit: Unit = Unit.CM, **after: float) -> str:
    return " ".join(marked((goal,), unit, **after).feedback)


def test_feedback_names_what_fell_by_how_much_and_what_was_allowed() -> None:
    goal = AtLeast(measure="cap-height", change=Amount(-3), tolerance=Amount(1))
    said = feedback(goal, cap_height=121)
    assert "cap height fell by 1.9 cm; the task lets it fall by 0.3 cm" in said
    assert "3/4 in" in feedback(goal, Unit.INCH, cap_height=121)


def test_feedback_on_what_should_stay() -> None:
    assert "cap seam grew by 1.5 cm; it should stay, within 0.3 cm" in feedback(keep(why="Why."), cap_seam=475)
    assert "Why." in feedback(keep(why="Why."), cap_seam=475)


def test_feedback_on_what_was_not_reached() -> None:
    said = feedback(reach(360), bicep_girth=345)
    assert "bicep girth is 34.5 cm, 1.5 cm too little; wanted is 36.0 cm" in said
    assert "1.5 cm too much" in feedback(reach(360), bicep_girth=375)


def test_feedback_on_a_limit_crossed_from_the_wrong_side() -> None:
    goal = AtMost(measure="cap-seam", value=Amount(440), tolerance=Amount(1))
    assert "cap seam is 45.5 cm, 1.5 cm too much; wanted is at most 44.0 cm" in feedback(goal, cap_seam=455)


@pytest.mark.parametrize(
    ("measure", "figure", "said"),
    [
        ("notch-mismatch-front", 9, "The front notch is off by 0.9 cm: underarm to notch is longer on the sleeve."),
        (
            "notch-mismatch-back-2",
            -9,
            "The upper back notch is off by 0.9 cm: underarm to notch is longer on the armhole.",
        ),
        ("side-mismatch", 9, "The side seams differ by 0.9 cm: the front is longer. They should meet within 0.2 cm."),
        ("underarm-mismatch", -9, "The underarm seams differ by 0.9 cm: the back is longer."),
    ],
)
def test_feedback_on_what_should_meet(measure: str, figure: float, said: str) -> None:
    goal = Reach(measure=measure, value=Amount(0), tolerance=Amount(2))
    found = mark_plan(task(goal), ARM, Unit.CM, BEFORE, BEFORE | {measure: float(figure)})
    assert said in found.feedback[0]


def test_feedback_says_when_the_marks_would_do_but_a_goal_must_be_met() -> None:
    said = marked((reach(350, must=True), keep(weight=9)), bicep_girth=353.2).feedback
    assert said[0].startswith("The bicep girth is 35.3 cm, a little more than 0.3 cm too much; wanted is 35.0 cm")
    assert said[1] == "The marks would do, but this goal must be met."


def test_feedback_tells_the_worst_first_and_counts_the_rest() -> None:
    goals = (keep("cap-height", weight=1.0), keep(weight=5.0), reach(390, weight=2.0), reach(400))
    said = marked(goals, bicep_girth=331, cap_height=100, cap_seam=500).feedback
    assert said[0].startswith("The cap seam grew")
    assert said[2] == "2 more goals are not met."


def test_feedback_when_all_is_well_or_nearly() -> None:
    assert marked((reach(350),), bicep_girth=350).feedback == ("Every goal is met.",)
    assert marked((reach(350), keep(weight=4.0)), bicep_girth=355).feedback[0] == "Passed, though not to the full."


def number(tolerance: float = 5, why: str = "Because.") -> NumberTask:
    return NumberTask(title="t", ask="a", hints=("1", "2", "3"), of="cap-height", tolerance=Amount(tolerance), why=why)


@pytest.mark.parametrize(
    ("answer", "passed", "said"),
    [
        (123, True, "Right: it is 12.3 cm."),
        (127, True, "Right"),
        (129, True, "Beyond the tolerance, but near enough to pass"),
        (134, False, "13.4 cm is a little too much."),
        (95, False, "9.5 cm is too little."),
        (500, False, "50.0 cm is far too much."),
    ],
)
def test_a_number_is_told_right_or_which_way(answer: float, passed: bool, said: str) -> None:
    found = mark_number(number(), Unit.CM, 123, answer)
    assert found.passed is passed
    assert found.feedback[0].startswith(said)
    assert ("Because." in found.feedback) is passed


@given(st.floats(1, 1000), st.floats(1, 1000))
def test_a_wrong_number_never_gives_the_right_one_away(right: float, answer: float) -> None:
    found = mark_number(number(), Unit.CM, right, answer)
    if not found.passed and shown("cap-height", answer, Unit.CM) != shown("cap-height", right, Unit.CM):
        assert shown("cap-height", right, Unit.CM) not in " ".join(found.feedback).split(" is ")


@pytest.mark.parametrize(
    ("aim", "said"),
    [
        (Aim("bicep-girth", 360, 360, 1), "36.0 cm"),
        (Aim("bicep-girth", 8, 12, 1), "0.8 cm to 1.2 cm"),
        (Aim("bicep-girth", -math.inf, 12, 1), "at most 1.2 cm"),
        (Aim("bicep-girth", 8, math.inf, 1), "at least 0.8 cm"),
        (Aim("kink", -math.inf, 0, 1), "at most 1.0°"),
        (Aim("cap-ease-percent", -math.inf, 5, 1), "at most 5.0%"),
    ],
)
def test_bounds_in_words(aim: Aim, said: str) -> None:
    assert bounds(aim, Unit.CM) == said


def test_what_rounds_to_nought_has_no_sign() -> None:
    for name in ("bicep-girth", "kink", "cap-ease-percent", "gap"):
        assert shown(name, -0.001, Unit.CM, signed=True).startswith("0.0")


def test_the_armhole_notes_set_the_sum_beside_what_is_computed() -> None:
    plan = Plan(back=Answer(8, 8))
    before, after = {"armhole-back": 225.0, "armhole-front": 215.0}, {"armhole-back": 237.4, "armhole-front": 215.0}
    told, rule = armhole_notes(plan, before, after, Unit.CM)
    assert (
        told
        == "The back armhole: 0.80 cm out and 0.80 cm down, 1.60 cm in all; computed, it gains 1.24 cm, 78% of that."
    )
    assert rule.startswith("Common practice")
    assert armhole_notes(Plan(), before, after, Unit.CM) == ()


def test_the_sleeve_notes_tell_how_far_the_cap_seam_falls_short() -> None:
    block = {"bicep-girth": 330.0, "cap-seam-back": 235.0, "cap-seam-front": 225.0}
    start = {"bicep-girth": 362.0, "cap-seam-back": 247.2, "cap-seam-front": 237.2}
    assert (
        sleeve_notes(block, start, Unit.CM)[0]
        == "The back cap seam was carried out by 1.60 cm and gained 1.22 cm, 76% of that."
    )
    assert sleeve_notes(block, block, Unit.CM) == ()


def test_a_lesson_s_goal_is_marked_on_its_own_arm(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path, ("value = 35\ntolerance", "arm-and-ease = true\ntolerance"))
    first = lesson.tasks[0]
    assert isinstance(first, PlanTask)
    goal, _ = first.goals
    assert goal.aims(BEFORE, lesson.arm)[0].low == 350


def part(measure: str, tolerance: float, own: float | None = None) -> Part:
    return Part(Aim(measure, 0, 0, tolerance if own is None else own), measure, 9, 9, tolerance, 0)


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (part("bicep-girth", 25.4 / 16, 0.5), "half the smallest division"),
        (part("kink", 1), "in the sewn seam"),
        (part("side-mismatch", 2), "sewn as equal"),
        (part("notch-mismatch-front", 3), "brought together"),
        (part("cap-ease-percent", 0.5), "on the finished sleeve"),
        (part("bicep-girth", 3), "comes no nearer"),
        (part("bicep-girth", 10), "not felt in wear"),
    ],
)
def test_every_tolerance_has_its_reason(found: Part, said: str) -> None:
    assert said in tolerance_reason(found, Unit.INCH)


def test_tolerances_with_one_reason_are_told_in_one_sentence() -> None:
    parts = [part("bicep-girth", 3), part("kink", 1), part("hem-girth", 2), part("elbow-girth", 3)]
    told = tolerance_reasons(parts, Unit.CM)
    assert told[0].startswith("Allowed are 0.3 cm and 0.2 cm: paper")
    assert [sentence.startswith("Allowed is 1.0°") for sentence in told] == [False, True]


def test_what_passes_in_part_is_told_what_was_allowed() -> None:
    said = marked((reach(350), keep(weight=4.0)), bicep_girth=355).feedback
    assert said[-1].startswith("Allowed is 0.3 cm: ")
    near, reason, why = mark_number(number(), Unit.CM, 123, 129).feedback
    assert near == "Beyond the tolerance, but near enough to pass: it is 12.3 cm."
    assert reason.startswith("Allowed is 0.5 cm: ")
    assert why == "Because."
