"""Usual mistakes: what each leads to, held to closed forms and examples; which one an answer shows; what is said.

The names of the mistakes and the rules for naming one are the tutor's own; sources of values stand beside each check.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Literal

import numpy as np
import pytest
from blocks import armhole, symmetric
from hypothesis import given, settings
from hypothesis import strategies as st
from lessons_for_tests import own_lessons, small_lesson
from msgspec import structs
from scipy.special import ellipe

from tutor.alteration.alter import alter
from tutor.alteration.plan import Answer, Landmark, Opening, Plan, Slash
from tutor.alteration.reach import OpeningAmount
from tutor.geometry.curve import Curve
from tutor.lesson.amount import Amount
from tutor.lesson.goal import AtLeast, AtMost, Figure, Goal, Keep, Reach, Sound
from tutor.lesson.reading import find_lesson
from tutor.lesson.recipe import Recipe, Sought
from tutor.lesson.setting import Arm
from tutor.lesson.task import NumberTask, PlanTask
from tutor.marking import mistakes
from tutor.marking.answers import mark_figure, mark_result
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.left_behind import untrued_kink
from tutor.marking.mistake import PlanAnswer
from tutor.marking.named import Confusion, clear_winner, confused
from tutor.marking.nearness import rounding, slack
from tutor.marking.recognise_number import candidates, number_confusions, recognise_number
from tutor.marking.recognise_plan import outcomes, plan_confusions, recognise_plan
from tutor.marking.usual import MISTAKES
from tutor.pattern.armhole import Armhole
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.units import Unit

INCH = 25.4
ARM = Arm(girth=Amount(320.0), wearing_ease=Amount(50.0))
HINTS = ("one", "two", "three")

SPECIFIED = {
    "armhole-forgotten",
    "back-only",
    "change-for-value",
    "crown-closed",
    "crown-wide-open",
    "cut-line",
    "depth-only",
    "front-only",
    "hem-widened",
    "hinge-at-wrong-end",
    "no-ease",
    "notches-left",
    "one-side",
    "parallel-for-hinged",
    "per-piece",
    "per-side",
    "slant-for-height",
    "straight-for-curve",
    "stretch-missed",
    "tenths-for-sixteenths",
    "unit-swap",
    "untrued",
    "width-only",
    "wrong-sign",
}


def test_every_specified_mistake_is_known_and_has_a_file_of_its_own() -> None:
    assert set(MISTAKES) >= SPECIFIED
    files = {path.stem for path in Path(mistakes.__path__[0]).glob("*.py")} - {"__init__"}
    assert files == {name.replace("-", "_") for name in MISTAKES}


# Asked for a figure.

GRAIN = Slash("grain", Landmark("crown"), Landmark("grain-hem"), True, True)
BICEP = Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
CROSSED = Plan((GRAIN, BICEP), (Opening("grain", 30.0, where="bicep", toward="end"),))


def pattern(half: float = 170.0, cap: float = 140.0) -> Pattern:
    return Pattern(symmetric(half, cap), armhole("back"), armhole("front"))


def task(of: str, asks: Literal["value", "change"] = "value", tolerance: float = 2.0) -> NumberTask:
    """A question for a figure; the tolerance in mm or in the measure's own unit."""
    return NumberTask(title="t", ask="a", hints=HINTS, of=of, tolerance=Amount(tolerance, tolerance), asks=asks)


def number(
    of: str,
    plan: Plan | None = None,
    asks: Literal["value", "change"] = "value",
    on: Pattern | None = None,
    recipe: Recipe | None = None,
    tolerance: float = 2.0,
) -> NumberCase:
    return NumberCase(on or pattern(), ARM, plan, recipe, 10.0, task=task(of, asks, tolerance))


def values(case: NumberCase, mistake: str, unit: Unit = Unit.CM) -> list[float]:
    """What a mistake leads to from exact figures."""
    return sorted(each.value for each in candidates(case, unit) if each.mistake == mistake and not each.again)


def said(case: NumberCase, answer: float, unit: Unit = Unit.CM) -> str:
    return " ".join(mark_figure(case, unit, answer).feedback)


def widened(girth: float, on: Pattern | None = None) -> tuple[Plan, Recipe]:
    """Crossed slashes solved for a girth, and what they were solved from."""
    figure = Figure(measure="bicep-girth", value=Amount(girth))
    recipe = Recipe(CROSSED.with_amounts(0.0), (Sought(OpeningAmount(0), "bicep-girth", figure),))
    return recipe.solved(on or pattern(), ARM, {}), recipe


def height(gain: float) -> float:
    """The cap height left when the girth of the 170, 140 cap grows: the slant is kept (plane geometry, Pythagoras)."""
    return math.sqrt(140**2 + 170**2 - (170 + gain / 2) ** 2)


# H' = sqrt(H^2 + b^2 - (b + W/2)^2), b 170, H 140: W 20 gives 126.886, W 40 gives 111.355 (the reference table).
def test_half_and_twice_the_width_are_those_of_pythagoras() -> None:
    plan, _ = widened(340 + 20)
    case = number("cap-height", plan)
    assert case.right == pytest.approx(126.886, abs=2e-3)
    assert values(case, "per-side") == pytest.approx([height(40), height(10)], abs=1e-6)
    assert values(case, "per-side")[0] == pytest.approx(111.355, abs=2e-3)


def test_overlapped_for_opened_is_that_of_pythagoras() -> None:
    # The opening is the same the other way round; the girth then shrinks by nearly as much as it was to grow.
    plan, _ = widened(340 + 20)
    case = number("cap-height", plan)
    shrunk = alter(case.pattern, plan.with_amounts(-plan.openings[0].amount))
    girth = shrunk.measures_after["bicep-girth"]
    assert values(case, "wrong-sign") == pytest.approx([height(girth - 340)], abs=1e-6)
    assert girth == pytest.approx(320, abs=0.5)


def test_without_ease_is_that_of_pythagoras() -> None:
    figure = Figure(measure="bicep-girth", arm_and_ease=True)
    recipe = Recipe(CROSSED.with_amounts(0.0), (Sought(OpeningAmount(0), "bicep-girth", figure),))
    case = number("cap-height", recipe.solved(pattern(), ARM, {}), recipe=recipe)
    assert case.right == pytest.approx(height(370 - 340), abs=1e-6)
    assert values(case, "no-ease") == pytest.approx([height(320 - 340)], abs=1e-6)


@pytest.mark.parametrize(
    ("cloth", "ease", "other", "girth"),
    [("knit", 0.0, None, 320 + 50.0), ("knit", 10.0, 40.0, 320 + 40.0), ("woven", 50.0, 5.0, 320 + 5.0)],
)
def test_the_other_cloths_ease_is_that_of_pythagoras(
    cloth: Literal["woven", "knit"], ease: float, other: float | None, girth: float
) -> None:
    """A woven has at least 2 in of ease, a knit little or none (Threads; Central Washington University, ch. 16)."""
    in_other = None if other is None else Amount(other)
    arm = Arm(girth=Amount(320.0), wearing_ease=Amount(ease), cloth=cloth, ease_in_other_cloth=in_other)
    figure = Figure(measure="bicep-girth", arm_and_ease=True)
    recipe = Recipe(CROSSED.with_amounts(0.0), (Sought(OpeningAmount(0), "bicep-girth", figure),))
    case = NumberCase(pattern(), arm, recipe.solved(pattern(), arm, {}), recipe, 10.0, task=task("cap-height"))
    assert values(case, "stretch-missed") == pytest.approx([height(girth - 340)], abs=1e-6)
    told = "a woven" if cloth == "knit" else "a knit"
    assert told in said(case, height(girth - 340))


def test_a_knit_without_ease_is_no_mistake() -> None:
    arm = Arm(girth=Amount(320.0), wearing_ease=Amount(0.0), cloth="knit")
    figure = Figure(measure="bicep-girth", arm_and_ease=True)
    recipe = Recipe(CROSSED.with_amounts(0.0), (Sought(OpeningAmount(0), "bicep-girth", figure),))
    case = NumberCase(pattern(), arm, recipe.solved(pattern(), arm, {}), recipe, 10.0, task=task("cap-height"))
    assert values(case, "no-ease") == []


# The sleeve of the crossed-slash table: girth 340, cap 145, hem hinge 430 below; s 30: g 0 gives 125.452 and g s/2
# 135.851 (the circle construction in closed form).
def test_the_crown_closed_is_that_of_the_circles() -> None:
    half_open = Plan(
        (replace(GRAIN, start_hinge=False), BICEP),
        (Opening("grain", 30.0, where="bicep", toward="end"), Opening("grain", 15.0, 0.0)),
    )
    case = number("cap-height", half_open, on=pattern(170, 145))
    assert case.right == pytest.approx(135.851, abs=2e-3)
    assert values(case, "crown-closed") == pytest.approx([125.452], abs=2e-3)


def test_the_crown_wide_open_gains_nearly_the_whole_opening() -> None:
    """The gap goes into the cap seam, and its halves keep their lengths: so g at the most, less what truing takes."""
    quarter = Plan(
        (replace(GRAIN, start_hinge=False), BICEP),
        (Opening("grain", 30.0, where="bicep", toward="end"), Opening("grain", 7.5, 0.0)),
    )
    case = number("cap-ease", quarter, on=pattern(170, 145))
    before = case.before["cap-ease"]
    assert values(case, "crown-wide-open") == pytest.approx([before + 30], abs=2)
    assert max(values(case, "crown-wide-open")) <= before + 30


def test_measured_straight_is_by_pythagoras() -> None:
    case = number("cap-seam")
    assert values(case, "straight-for-curve") == pytest.approx([2 * math.hypot(170, 140)], abs=1e-9)
    assert values(number("armhole-back"), "straight-for-curve") == pytest.approx(
        [abs(armhole("back").shoulder_tip - armhole("back").underarm_point)], abs=1e-9
    )


def test_the_slant_is_by_pythagoras_and_the_seam_by_quadrature() -> None:
    # The S cap b 170, H 140 is 463.72777 long in all (quadrature; the reference table).
    assert values(number("cap-height"), "slant-for-height") == pytest.approx(
        [math.hypot(170, 140)] * 2 + [463.72777 / 2] * 2, abs=1e-4
    )


def test_the_cut_edge_lies_the_allowance_outside() -> None:
    # Underarm seams lean by (170 - 105) / 430; square to them lies the allowance (plane geometry).
    lean = math.hypot(65, 430) / 430
    assert values(number("bicep-girth"), "cut-line") == pytest.approx([340 + 20 * lean], abs=0.05)
    assert values(number("cap-height"), "cut-line") == pytest.approx([150], abs=0.05)
    case = NumberCase(pattern(), ARM, None, None, 15.0, task=task("cap-height"))
    assert values(case, "cut-line") == pytest.approx([155], abs=0.05)


def quarter(side: str, radius: float = 150.0) -> Armhole:
    """An armhole that is a quarter of a circle, within 0.03 % (the usual cubic, k = 0.5522847498)."""
    sign = 1.0 if side == "back" else -1.0
    k = 0.5522847498 * radius
    seam = Curve.bezier(sign * radius, complex(sign * (radius - k), 0), complex(0, radius - k), complex(0, radius))
    return Armhole(side, seam, 1.0)


def test_the_cut_edge_of_an_armhole_is_short_by_allowance_times_turning() -> None:
    """Cut edge against seam line: 15 mm and 90 degrees on each of two pieces are 47.1 short (allowance x turning)."""
    on = Pattern(symmetric(), quarter("back"), quarter("front"))
    case = NumberCase(on, ARM, None, None, 15.0, task=task("armhole"))
    assert case.right - values(case, "cut-line")[0] == pytest.approx(47.1, abs=0.1)


def test_one_side_is_each_half_alone() -> None:
    case = number("cap-seam", on=pattern())
    halves = [case.before["cap-seam-back"], case.before["cap-seam-front"]]
    assert values(case, "one-side") == pytest.approx(sorted(halves), abs=1e-9)
    assert values(number("cap-seam-back"), "one-side") == []


@pytest.mark.parametrize("allowance", [6.0, 10.0, 15.0])
@pytest.mark.parametrize("of", ["bicep-girth", "elbow-girth", "hem-girth"])
def test_the_seam_allowance_at_one_edge_alone_is_half_of_what_both_add(of: str, allowance: float) -> None:
    """By the lean of a straight underarm seam, as above; a hem's corners are mitred, so that they lean as well."""
    asked = structs.replace(task(of), edge="cut")
    case = NumberCase(pattern(), ARM, None, None, allowance, task=asked)
    (found,) = values(case, "one-side")
    sleeve = pattern().sleeve
    down = sleeve.underarm_point_front - sleeve.hem.start
    assert found == pytest.approx(case.before[of] + allowance * abs(down) / abs(down.imag), abs=0.05)
    assert values(NumberCase(pattern(), ARM, None, None, allowance, task=task(of)), "one-side") == []


def test_the_seam_allowance_at_one_edge_is_named_in_lesson_1() -> None:
    """34 cm from seam to seam and 1 cm once are 35 cm; the seams hardly lean."""
    for seed, typed in ((None, "35"), (1, "37.5"), (2, "36.1")):
        session = Session(find_lesson("1"), Unit.CM, seed)
        session.go_to_task(8)
        marked = session.answer(typed)
        assert (marked.passed, marked.mistake) == (False, "one-side")
        assert "has the seam allowance at one edge alone" in " ".join(marked.feedback)
        assert not any(session.right_answer() in said for said in marked.feedback)


# 1 inch is 25.4 mm exactly (international yard and pound agreement of 1959).
def test_units_swapped_are_inches_and_centimetres() -> None:
    case = number("cap-height")
    assert values(case, "unit-swap") == pytest.approx([140 / 2.54, 140 * 2.54], abs=1e-9)
    assert values(number("kink"), "unit-swap") == []


# The specification's own example: 1.5 read as 1 5/16, or 1 5/16 as 1.5.
def test_tenths_and_sixteenths_are_taken_for_each_other() -> None:
    for right, wrong in ((1.5, 1 + 5 / 16), (1 + 5 / 16, 1.5)):
        curve_free = pattern(170, right * INCH)
        case = NumberCase(curve_free, ARM, None, None, 10.0, task=task("cap-height", tolerance=1.0))
        found = values(case, "tenths-for-sixteenths", Unit.INCH)
        assert any(value == pytest.approx(wrong * INCH, abs=1e-6) for value in found)
        assert values(case, "tenths-for-sixteenths", Unit.CM) == []
    marked = mark_figure(case, Unit.INCH, 1.5 * INCH)
    assert marked.mistake == "tenths-for-sixteenths"


def test_the_change_and_the_value_are_told_apart() -> None:
    plan, _ = widened(360)
    assert values(number("cap-height", plan), "change-for-value") == pytest.approx([140 - height(20)], abs=1e-6)
    assert values(number("cap-height", plan, "change"), "change-for-value") == pytest.approx([height(20)], abs=1e-6)


def walked(of: str, plan: Plan, asks: Literal["value", "change"] = "value") -> NumberCase:
    """A question that goes on from the learner's own alteration."""
    case = number(of, plan, asks)
    return replace(case, task=structs.replace(case.task, goes_on_from=1))


def test_what_the_tape_said_before_is_no_measure_of_the_altered_pattern() -> None:
    # The cap of 170, 140 is 140 high before; the crossed slashes bring it down by Pythagoras.
    plan, _ = widened(360)
    case = walked("cap-height", plan)
    assert values(case, "old-for-new") == pytest.approx([140], abs=1e-9)
    marked = mark_figure(case, Unit.CM, 140.0)
    assert marked.mistake == "old-for-new"
    assert "14.0 cm is the cap height as it was before the alteration." in marked.feedback
    # Where the change is asked for it is taken for that; and where nothing was altered yet, it is no such slip.
    assert values(walked("cap-height", plan, "change"), "old-for-new") == pytest.approx([140], abs=1e-9)
    assert values(number("cap-height", plan), "old-for-new") == []
    # What nothing changes keeps its figure, and a gain was nothing before it.
    assert values(walked("cap-seam", plan), "old-for-new") == []
    assert values(walked("bust-gain", ANSWERED), "old-for-new") == []


WALKED = [
    (lesson.name, number)
    for lesson in own_lessons()
    for number, task in enumerate(lesson.tasks, 1)
    if isinstance(task, NumberTask) and task.goes_on_from and task.after and task.measure != "bust-gain"
]


@pytest.mark.parametrize(("name", "number"), WALKED, ids=[f"{name}.{number}" for name, number in WALKED])
def test_the_old_figure_is_told_wherever_an_altered_pattern_is_measured(name: str, number: int) -> None:
    for seed, unit in ((None, Unit.CM), (0, Unit.INCH)):
        session = Session(find_lesson(name), unit, seed)
        earlier = session.lesson.tasks[number - 1].goes_on_from
        session.go_to_task(earlier)
        worked = session.solution().plan
        assert worked is not None
        session.adopt(worked)
        assert session.check().passed
        session.go_to_task(number)
        task = session.task
        assert isinstance(task, NumberTask)
        old = session.measures_before()[task.measure]
        assert session.answer(f"{old / (25.4 if unit is Unit.INCH else 10):.4f}").mistake == "old-for-new"


ANSWERED = Plan(back=Answer(8, 9), front=Answer(7, 10))


def test_pieces_and_directions_of_the_armholes() -> None:
    gain = 2 * (
        8 + 7
    )  # Side seams out on back and front, on either side of the body: 4a for equal a (common practice).
    case = number("bust-gain", ANSWERED)
    assert case.right == pytest.approx(gain)
    assert values(case, "per-piece") == pytest.approx([gain / 4, gain * 4])
    assert values(case, "per-side") == pytest.approx([gain / 2, gain * 2])
    assert values(case, "front-only") == pytest.approx([14])
    assert values(case, "back-only") == pytest.approx([16])
    case = number("armhole-back", ANSWERED, "change")
    assert values(case, "sum-for-seam") == pytest.approx([17])
    out, down = (alter(pattern(), Plan(back=answer)) for answer in (Answer(8, 0), Answer(0, 9)))
    start = case.before["armhole-back"]
    assert values(case, "width-only") == pytest.approx([out.measures_after["armhole-back"] - start])
    assert values(case, "depth-only") == pytest.approx([down.measures_after["armhole-back"] - start])


def test_a_round_armhole_takes_width_and_depth_as_an_ellipse_does() -> None:
    """A quarter circle stretched in width and depth is a quarter ellipse: a E(1 - b2/a2), by scipy's ellipe."""

    def gain(out: float, down: float) -> float:
        a, b = sorted((150 + out, 150 + down), reverse=True)
        return float(a * ellipe(1 - b * b / (a * a))) - 150 * math.pi / 2

    on = Pattern(symmetric(), quarter("back"), quarter("front"))
    case = number("armhole-back", Plan(back=Answer(12, 9)), "change", on=on)
    assert case.right == pytest.approx(gain(12, 9), abs=0.02)
    assert values(case, "width-only") == pytest.approx([gain(12, 0)], abs=0.02)
    assert values(case, "depth-only") == pytest.approx([gain(0, 9)], abs=0.02)


def test_the_armhole_forgotten_leaves_the_whole_ease() -> None:
    case = number("cap-ease", ANSWERED)
    assert values(case, "armhole-forgotten") == pytest.approx([case.before["cap-ease"]])


def test_hem_hinge_and_levels_of_a_wedge() -> None:
    """One wedge, hinged at the hem: width at a level goes by its distance from the hinge (intercept theorem)."""
    wedge = Plan((replace(GRAIN, start_hinge=False),), (Opening("grain", 20.0, 0.0),))
    case = number("hem-girth", wedge, "change")
    bicep = 20 * 430 / (140 + 430)
    assert case.right == pytest.approx(0, abs=0.3)
    assert values(case, "hem-widened") == pytest.approx([bicep], abs=0.1)
    assert values(case, "parallel-for-hinged") == pytest.approx([20], abs=1e-6)
    assert values(case, "hinge-at-wrong-end") == pytest.approx([20], abs=0.1)


def test_the_corner_that_truing_would_take_away() -> None:
    """Two halves of a level crown that have turned about the hem by asin(s / 2L) each, apart: half the corner each."""
    wedge = Plan((replace(GRAIN, start_hinge=False),), (Opening("grain", 20.0, 0.0),))
    case = number("kink", wedge, tolerance=0.2)
    assert case.right == pytest.approx(0, abs=0.01)
    corner = math.degrees(math.asin(10 / 570))
    assert values(case, "untrued") == pytest.approx([corner], abs=1e-6)
    assert untrued_kink(alter(pattern(), Plan())) == 0


def walked_to(curve: Curve, point: complex) -> float:
    """The length of a seam up to the place nearest to a point, by walking it in very small steps."""
    points = curve.flatten(1e-5)
    steps = np.append(0, np.cumsum(np.abs(np.diff(points))))
    return float(steps[np.abs(points - point).argmin()])


def test_notches_left_stay_at_their_old_places() -> None:
    case = number("notch-mismatch-back-1", Plan(back=Answer(0, 12)))
    old, new = case.pattern, case.altered(Plan(back=Answer(0, 12)))
    assert new is not None
    assert old.armhole_back is not None
    assert new.after.armhole_back is not None
    mark, partner = old.sleeve.mark("notch-back-1"), old.armhole_back.mark("notch-back-1")
    assert mark is not None
    assert partner is not None
    up_cap = walked_to(old.sleeve.cap_back, old.sleeve.mark_point(mark))
    up_armhole = walked_to(new.after.armhole_back.seam, old.armhole_back.seam.point(partner.u))
    assert values(case, "notches-left") == pytest.approx([up_cap - up_armhole], abs=0.2)
    assert abs(case.right - (up_cap - up_armhole)) > 2


# Which one an answer shows.


def test_a_figure_that_passes_is_accused_of_nothing() -> None:
    case = number("cap-height", widened(342)[0])  # So little wider that half of it passes as well.
    for off in (-2.7, -1, 0, 0.5, 2.7):
        marked = mark_figure(case, Unit.CM, case.right + off)
        assert (marked.passed, marked.mistake) == (True, None)


@given(st.floats(-400, 800))
def test_a_mistake_is_named_only_beside_what_it_leads_to(answer: float) -> None:
    case = NUMBERS[0] if NUMBERS else number("cap-height", widened(370)[0])
    NUMBERS[:] = [case]
    for unit in (Unit.CM, Unit.INCH):
        named = recognise_number(case, unit, answer)
        if named is not None:
            # Half of what a figure may be rounded to, an eighth of an inch at the most, and half a millimetre.
            near = min(abs(answer - e.value) for e in candidates(case, unit) if e.mistake == named.mistake)
            assert near <= (0.625 if unit is Unit.CM else 25.4 / 16) + 0.5
            others = [e.value for e in candidates(case, unit) if e.mistake != named.mistake]
            assert min(abs(answer - value) for value in others) >= near + 0.5


NUMBERS: list[NumberCase] = []


@pytest.mark.parametrize(
    ("ranked", "winner"),
    [
        ([], None),
        ([(0.4, "a")], 0),
        ([(1.4, "a")], None),
        ([(0.4, "a"), (0.6, "b")], None),
        ([(0.4, "a"), (0.5, "a"), (2.0, "b")], 0),
        ([(3.0, "b"), (0.1, "a"), (0.61, "c")], 1),
    ],
)
def test_the_nearest_must_be_near_and_clearly_so(ranked: Sequence[tuple[float, str]], winner: int | None) -> None:
    assert clear_winner(ranked, 1.0, 0.5) == winner


def test_confusions_come_once_each() -> None:
    assert confused([("b", "a"), ("a", "b"), ("a", "right")]) == (Confusion("a", "b"), Confusion("a", "right"))


def test_figures_too_near_each_other_are_found() -> None:
    # Girth 340 to 360 about an arm of 320: without ease it is 320, the wrong way round 320 as well.
    figure = Figure(measure="bicep-girth", arm_and_ease=True)
    arm = Arm(girth=Amount(320.0), wearing_ease=Amount(40.0))
    recipe = Recipe(CROSSED.with_amounts(0.0), (Sought(OpeningAmount(0), "bicep-girth", figure),))
    case = NumberCase(pattern(), arm, recipe.solved(pattern(), arm, {}), recipe, 10.0, task=task("cap-height"))
    assert Confusion("no-ease", "wrong-sign") in number_confusions(case, Unit.CM)
    assert recognise_number(case, Unit.CM, height(-20)) is None
    assert len(mark_figure(case, Unit.CM, height(-20)).feedback) == 2


@pytest.mark.parametrize(
    ("unit", "figure", "lost"),
    [
        (Unit.CM, 124.0, 0.5),  # 12.4 cm: half a millimetre.
        (Unit.CM, 48.75, 0.625),  # 4 7/8, typed beside "cm".
        (Unit.CM, 48.9, 0.5),
        (Unit.INCH, 4.875 * INCH, INCH / 16),  # 4 7/8 in: to the nearest eighth, for all that can be seen.
        (Unit.INCH, 4.8125 * INCH, INCH / 32),  # 4 13/16 in.
        (Unit.INCH, 12.4 * INCH, INCH / 20),  # 12.4 in.
        (Unit.INCH, 4.83 * INCH, INCH / 32),
        (Unit.MM, 12.0, 0.5),
    ],
)
def test_what_rounding_takes_is_half_the_division_that_a_figure_is_written_in(
    unit: Unit, figure: float, lost: float
) -> None:
    assert rounding("cap-height", figure, unit) == pytest.approx(lost)
    assert rounding("kink", figure, unit) == 0.05


def test_slack_lets_three_in_a_hundred_answers_at_random_by() -> None:
    """Answers spread evenly by ratio over a third to three times 100: one value at 100, slack s on either side of it,
    takes 2 s / (100 ln 9) of them; that is 0.03 for s = 3.296 (calculus)."""
    assert slack([100.0], 100.0, 10.0) == pytest.approx(3.296, abs=1e-3)
    assert slack([100.0], 100.0, 0.5) == 0.5
    assert slack([100.0, 50.0], 100.0, 10.0) == pytest.approx(3.296 / 3, abs=1e-3)
    assert slack([-100.0, 20.0, 301.0], 100.0, 10.0) == 10
    assert slack([], 0.0, 10.0) == slack([5.0], 0.0, 10.0) == 10


@pytest.mark.parametrize(("unit", "written"), [(Unit.CM, 232.0), (Unit.INCH, 9.125 * INCH)])
def test_a_figure_rounded_before_the_mistake_was_made_is_known_as_well(unit: Unit, written: float) -> None:
    """Half the S cap b 170, H 140 is 231.86385 (quadrature); written down first, 23.2 cm or 9 1/8 in, and doubled."""
    case = number("cap-seam-back")
    assert case.right == pytest.approx(231.86385, abs=1e-4)
    for twice in (2 * written, round(2 * case.right), 463.73):
        assert mark_figure(case, unit, twice).mistake == "per-side"
    assert mark_figure(case, unit, 2 * written + 2.1).mistake is None


def test_an_eighth_of_an_inch_is_fine_enough_to_be_understood() -> None:
    # 140 and 170 make 220.227 (Pythagoras): 8.670 in, to the nearest eighth 8 5/8.
    case = number("cap-height")
    assert mark_figure(case, Unit.INCH, 8.625 * INCH).mistake == "slant-for-height"
    # As sixteenths that would be 8 11/16; 8 9/16 is two away, and no rounding of it.
    assert mark_figure(case, Unit.INCH, 8.6875 * INCH).mistake == "slant-for-height"
    assert mark_figure(case, Unit.INCH, 8.5625 * INCH).mistake is None


def test_centimetres_typed_as_inches_and_the_reverse_are_read_as_they_were_meant() -> None:
    case = number("cap-seam-back")
    for meant in (23.1, 23.2):
        assert mark_figure(case, Unit.INCH, meant * INCH).mistake == ("unit-swap" if meant == 23.2 else None)
    assert mark_figure(case, Unit.CM, 91.25).mistake == "unit-swap"  # 9 1/8, bare.
    assert mark_figure(case, Unit.CM, 91.3).mistake == "unit-swap"  # 9.13.


def test_unnamed_mistakes_are_not_looked_for() -> None:
    quiet = structs.replace(task("cap-height"), unnamed=("slant-for-height",))
    assert values(NumberCase(pattern(), ARM, None, None, 10.0, task=quiet), "slant-for-height") == []
    assert values(number("cap-height"), "slant-for-height") != []


# What is said: the mistake, this pattern's figures in the learner's unit, the next step, and not the answer.
def test_what_is_said_of_a_figure() -> None:
    case = number("cap-height")
    told = said(case, math.hypot(170, 140))
    assert "22.0 cm is measured straight from crown to" in told
    assert "square down to the bicep line" in told
    assert "14.0" not in told
    assert "8 11/16 in" in said(case, math.hypot(170, 140), Unit.INCH)
    assert "Allowed is 0.2 cm" in told


def test_the_reason_of_a_tolerance_is_told() -> None:
    fine = NumberCase(pattern(), ARM, None, None, 10.0, task=task("cap-height", tolerance=0.1))
    assert "Allowed is 1/16 in: half the smallest division" in said(fine, 200, Unit.INCH)


# Asked to alter the pattern.

REACHED = Reach(measure="bicep-girth", value=Amount(370.0), tolerance=Amount(3.0), weight=3, must=True)
KEPT_SEAM = Keep(measure="cap-seam", tolerance=Amount(3.0), weight=3, must=True)
KEPT_HEM = Keep(measure="hem-girth", tolerance=Amount(3.0), weight=2, must=True)


def altering(*goals: Goal, plan: Plan, recipe: Recipe | None = None, on: Pattern | None = None) -> PlanCase:
    whole = PlanTask(title="t", ask="a", hints=HINTS, goals=goals, solution="x")
    return PlanCase(on or pattern(), ARM, plan, recipe, 10.0, task=whole)


def widening() -> PlanCase:
    plan, recipe = widened(370)
    return altering(REACHED, KEPT_SEAM, KEPT_HEM, Sound(), plan=plan, recipe=recipe)


def feedback(case: PlanCase, plan: Plan, unit: Unit = Unit.CM) -> tuple[str | None, str]:
    altered = alter(case.pattern, plan)
    marked = mark_result(case, unit, altered.measures_after, plan, altered)
    return marked.mistake, " ".join(marked.feedback)


def opened(mm: float, grain: Slash = GRAIN, bicep: Slash = BICEP, more: Sequence[Opening] = ()) -> Plan:
    return Plan((grain, bicep), (Opening("grain", mm, where="bicep", toward="end"), *more))


WRONGLY: dict[str, tuple[Plan, str]] = {
    "half": (opened(15), "per-side"),
    "twice": (opened(60), "per-side"),
    "centimetres for inches": (opened(30 * 2.54), "unit-swap"),
    "overlapped": (opened(-30), "wrong-sign"),
    "the hem cut through and opened": (
        opened(30, replace(GRAIN, end_hinge=False), more=[Opening("grain", 30.0, 1.0)]),
        "hem-widened",
    ),
    "the crown cut through": (opened(30, replace(GRAIN, start_hinge=False)), "crown-wide-open"),
    "the back underarm cut through": (opened(30, bicep=replace(BICEP, start_hinge=False)), "hinge-cut"),
    "the front underarm cut through": (opened(30, bicep=replace(BICEP, end_hinge=False)), "hinge-cut"),
    "a wedge from the hem": (
        Plan((replace(GRAIN, end_hinge=False),), (Opening("grain", 30.0, 1.0),)),
        "hinge-at-wrong-end",
    ),
    "opened all the way": (
        Plan(
            (Slash("grain", Landmark("crown"), Landmark("grain-hem")),),
            (Opening("grain", 30.0, 0.0), Opening("grain", 30.0, 1.0)),
        ),
        "parallel-for-hinged",
    ),
}


@pytest.mark.parametrize(("plan", "mistake"), WRONGLY.values(), ids=WRONGLY)
@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
def test_a_wrong_plan_is_known_by_its_result(plan: Plan, mistake: str, unit: Unit) -> None:
    assert feedback(widening(), plan, unit)[0] == mistake


def test_where_a_hinge_is_cut_is_told_and_how_far_the_paper_slid() -> None:
    plan = opened(30, bicep=replace(BICEP, start_hinge=False))
    altered = alter(pattern(), plan)
    moves = {piece.name: piece.move for piece in altered.pieces}
    corner = pattern().sleeve.underarm_point_back
    away = abs(moves["the back cap"](corner) - moves["the back lower part"](corner))
    told = feedback(widening(), plan)[1]
    assert f"The hinge at the back underarm point is cut through: the back cap has slid {away / 10:.1f} cm" in told
    assert "Leave the paper holding at the back underarm point" in told


def test_the_same_mistake_by_other_slashes_is_known_as_well() -> None:
    """Two wedges below the cap, half as wide as they should be: recognised by what they lead to."""
    session = Session(find_lesson("4"), Unit.CM)
    session.go_to_task(2)
    opened_wedges(session, 7.5)
    marked = session.check()
    assert (marked.passed, marked.mistake) == (False, "per-side")
    for name in ("one", "two"):
        session.set_opening(name, session.stations(name)[0], 15)
    marked = session.check()
    assert (marked.passed, marked.mistake) == (True, None)


def opened_wedges(session: Session, mm: float) -> None:
    """Lesson 4 by two wedges below the bicep line, each opened by so much, and one slash of the cap."""
    session.add_slash(Landmark("underarm-back"), Landmark("underarm-front"), True, True, "bicep")
    session.add_slash(Landmark("crown"), session.read_place("half way along bicep"), True, False, "cap")
    for name, up, down in (("one", "40%", "60%"), ("two", "60%", "40%")):
        start, end = session.read_place(f"{up} along bicep"), session.read_place(f"{down} along hem")
        session.add_slash(start, end, False, True, name)
        session.set_opening(name, session.stations(name)[0], mm)


def test_results_alone_show_what_was_left_undone() -> None:
    """A pattern handed in may be untrued or keep its old notches; a plan carried out here never does."""
    wedge = Plan((replace(GRAIN, start_hinge=False),), (Opening("grain", 60.0, 0.0),))
    girth = alter(pattern(), wedge).measures_after["bicep-girth"]
    smooth = Sound(weight=3, must=True)
    reached = Reach(measure="bicep-girth", value=Amount(girth), tolerance=Amount(3.0))
    case = altering(reached, smooth, plan=wedge)
    altered = alter(case.pattern, wedge)
    after = altered.measures_after | {"kink": untrued_kink(altered)}
    marked = mark_result(case, Unit.CM, after)
    assert marked.mistake == "untrued"
    assert "the corner where the pieces parted is still there" in " ".join(marked.feedback)
    assert mark_result(case, Unit.CM, altered.measures_after).passed


@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
def test_every_mistake_of_the_lessons_is_the_one_that_is_named(unit: Unit) -> None:
    """Each plan gone wrong, carried out and marked in a session, is told as itself, in the lessons as written."""
    for number_of, place in (("4", 2), ("5", 2), ("6", 1), ("7", 2)):
        session = Session(find_lesson(number_of), unit)
        session.go_to_task(place)
        case = case_of(session.lesson, place)
        assert isinstance(case, PlanCase)
        assert plan_confusions(case, unit) == ()
        for outcome in outcomes(case, unit):
            plan = outcome.wrong.made()
            altered = None if plan is None else alter(session.pattern, plan)
            marked = mark_result(case, unit, outcome.after, plan, altered)
            assert marked.mistake == outcome.mistake
            assert not marked.passed


def test_limits_of_height_and_ease_tell_the_crown() -> None:
    quarter_open = Plan(
        (replace(GRAIN, start_hinge=False), BICEP),
        (Opening("grain", 30.0, where="bicep", toward="end"), Opening("grain", 12.0, 0.0)),
    )
    height_kept = AtLeast(measure="cap-height", change=Amount(-13.0), tolerance=Amount(1.0), must=True)
    ease_kept = AtMost(measure="cap-seam", change=Amount(14.0), tolerance=Amount(1.0), must=True)
    case = altering(REACHED, height_kept, ease_kept, plan=quarter_open)
    closed = opened(30)
    open_wide = opened(30, replace(GRAIN, start_hinge=False), more=[Opening("grain", 30.0, 0.0)])
    assert feedback(case, closed)[0] == "crown-closed"
    assert feedback(case, open_wide)[0] == "crown-wide-open"
    assert feedback(case, quarter_open)[0] is None


def test_the_armhole_forgotten_by_somebody_who_changed_the_sleeve() -> None:
    both = replace(opened(30, replace(GRAIN, start_hinge=False), more=[Opening("grain", 20.0, 0.0)]), back=Answer(7, 7))
    right = replace(both, front=Answer(7, 7))
    after = alter(pattern(), right).measures_after
    ease = Reach(measure="cap-ease", value=Amount(after["cap-ease"]), tolerance=Amount(2.0), must=True)
    case = altering(REACHED, ease, plan=right)
    assert feedback(case, replace(right, back=Answer(), front=Answer()))[0] == "armhole-forgotten"
    assert feedback(case, both)[0] == "back-only"


@settings(max_examples=40)
@given(amount=st.floats(-40, 90), crown=st.booleans(), hem=st.booleans(), back=st.booleans())
def test_a_plan_that_passes_is_accused_of_nothing(amount: float, crown: bool, hem: bool, back: bool) -> None:
    case = PLANS[0] if PLANS else widening()
    PLANS[:] = [case]
    plan = opened(amount, replace(GRAIN, start_hinge=crown, end_hinge=hem), replace(BICEP, start_hinge=back))
    altered = case.altered(plan)
    if altered is None:
        return
    marked = mark_result(case, Unit.CM, altered.measures_after, plan, altered)
    assert not (marked.passed and marked.mistake)
    if marked.passed:
        assert recognise_plan(PlanAnswer(case, Unit.CM, altered.measures_after, plan, altered)) is None


PLANS: list[PlanCase] = []


def test_nothing_done_is_no_mistake() -> None:
    case = widening()
    marked = mark_result(case, Unit.CM, case.before)
    assert (marked.mistake, marked.untouched) == (None, True)


def test_session_and_marking_say_the_same(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path)
    session = Session(lesson, Unit.CM)
    session.adopt(opened(10))
    marked = session.check()
    case = case_of(lesson, 1)
    assert isinstance(case, PlanCase)
    altered = alter(session.pattern, session.draft)
    again = mark_result(case, Unit.CM, altered.measures_after, session.draft, altered)
    assert (marked.mistake, marked.total, marked.feedback) == (again.mistake, again.total, again.feedback)
    assert marked.mistake == "per-side"
    assert session.attempts()[0].mistake == "per-side"
