"""Number tasks about the arm and the cut edge: what is right, what a mistake leads to, and what is said."""

from __future__ import annotations

import io
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import FIGURES, JERSEY, small_lesson, written
from simulated_learners import out_of_bounds, simulate
from simulated_tally import table

from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.lesson.lesson import Lesson, block_of
from tutor.lesson.reading import check_lesson
from tutor.lesson.setting import Arm
from tutor.lesson.variants import drawn
from tutor.pattern.measures import measure
from tutor.practice.plain import run_plain
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.variants import variant_of
from tutor.units import Unit


@pytest.fixture
def figures(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=FIGURES)


@pytest.fixture
def jersey(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=JERSEY)


def at(lesson: Lesson, number: int, unit: Unit = Unit.CM) -> Session:
    session = Session(lesson, unit)
    session.go_to_task(number)
    return session


# The right figures by sums: 30 + 5, 30 + 5 - 33, 21 + 1.
@pytest.mark.parametrize(("number", "right"), [(1, "35.0 cm"), (2, "2.0 cm"), (3, "22.0 cm")])
def test_a_wanted_figure_is_worked_out_from_the_arm(figures: Lesson, number: int, right: str) -> None:
    session = at(figures, number)
    assert session.right_answer() == right
    assert session.answer(right).passed
    assert right in session.solution().steps[-1]


# Steiner: the parallel of a smooth curve is longer by offset times turning, in radians; here from the crown, where the
# tangent is level, down to the underarm, and on round the corner's mitre, which is straight: offset times tan of half.
def test_the_cut_edge_is_longer_by_allowance_times_turning(figures: Lesson) -> None:
    sleeve = block_of(figures).sleeve
    more = 0.0
    for before, after in ((sleeve.underarm_back, sleeve.cap_back), (sleeve.cap_front, sleeve.underarm_front)):
        corner = math.atan2(*reversed(parts(after.tangent(0) / before.tangent(float(len(before)), arriving=True))))
        more += 10 * math.tan(-corner / 2)
    cap = (sleeve.cap_front.tangent(float(len(sleeve.cap_front)), arriving=True)) / sleeve.cap_back.tangent(0)
    more += 10 * -math.atan2(cap.imag, cap.real)
    seam = measure(block_of(figures))["cap-seam"]
    assert at(figures, 4).answer(f"{seam + more} mm").total == 1
    assert at(figures, 5).answer(f"{more} mm").total == 1
    exact = at(figures, 4)._ground.right_figure()
    assert exact == pytest.approx(seam + more, abs=0.05)


def parts(number: complex) -> tuple[float, float]:
    return number.real, number.imag


# 4 cm of 26 cm are 2/13; 30 cm round a cloth that may stretch by a fifth is 30 / 1.2 = 25.
@pytest.mark.parametrize(("number", "right"), [(1, "28.0 cm"), (2, "25.0 cm"), (3, "15.4%")])
def test_jersey_may_be_smaller_than_the_arm(jersey: Lesson, number: int, right: str) -> None:
    session = at(jersey, number)
    assert session.right_answer() == right
    assert session.answer(right).passed


@given(st.floats(150, 500), st.floats(1, 150))
def test_a_sleeve_as_small_as_may_be_uses_all_the_stretch(girth: float, stretch: float) -> None:
    """By the definition of stretch, what is added over the length unstretched (ASTM D2594; from memory)."""
    arm = Arm(girth=Amount(girth), wearing_ease=Amount(0.0), stretch=stretch)
    smallest = Figure(measure="bicep-girth", around="arm", stretched=True).figure({}, arm)
    assert 100 * (girth - smallest) / smallest == pytest.approx(stretch)


# What each mistake leads to, worked out by hand from the lesson's figures.
@pytest.mark.parametrize(
    ("number", "given", "mistake", "said"),
    [
        (1, "30 cm", "no-ease", "goes by the arm alone"),
        (1, "25 cm", "wrong-sign", "has the ease taken off"),
        (1, "2 cm", "change-for-value", "how far it moves"),
        (1, "17.5 cm", "per-side", "one side's share"),
        (2, "35 cm", "change-for-value", "what it comes to in the end"),
        (2, "-3 cm", "no-ease", "goes by the arm alone"),
        (3, "17 cm", "wrist-for-hand", "goes by the wrist"),
        (3, "21 cm", "no-ease", "goes by the hand alone"),
        (3, "20 cm", "wrong-sign", "has the room taken off"),
        (4, "46 cm", "cut-line", "is the seam line"),
    ],
)
def test_a_mistake_is_named_by_its_figure(figures: Lesson, number: int, given: str, mistake: str, said: str) -> None:
    marked = at(figures, number).answer(given)
    assert not marked.passed
    assert marked.mistake == mistake
    assert said in " ".join(marked.feedback)


# 20 % off 30 cm is 24 cm; 4 cm of the arm's 30 cm are 13.3 %; a woven's ease is 5 cm (the brief leaves it out).
@pytest.mark.parametrize(
    ("number", "given", "mistake"),
    [
        (1, "35 cm", "stretch-missed"),
        (1, "30 cm", "no-ease"),
        (1, "32 cm", "wrong-sign"),
        (2, "30 cm", "stretch-missed"),
        (2, "24 cm", "wrong-whole"),
        (3, "13.3", "wrong-whole"),
    ],
)
def test_a_mistake_in_jersey_is_named_by_its_figure(jersey: Lesson, number: int, given: str, mistake: str) -> None:
    assert at(jersey, number).answer(given).mistake == mistake


def test_the_way_to_the_figure_is_told_with_the_arms_own(jersey: Lesson, figures: Lesson) -> None:
    steps = " ".join(at(jersey, 2).solution().steps)
    assert "30.0 cm round" in steps
    assert "divided by 1.2" in steps
    assert "4.0 cm smaller than the arm" in at(jersey, 3).solution().steps[0]
    assert "21.0 cm round, the room 1.0 cm: 22.0 cm together" in at(figures, 3).solution().steps[0]


def test_what_is_asked_for_as_it_lies_is_nowhere_to_be_read(figures: Lesson, jersey: Lesson) -> None:
    assert at(jersey, 3).hidden == "stretch-used"
    assert "stretch-used" not in {row.measure for row in at(jersey, 3).tape()}
    assert at(figures, 1).hidden == ""
    assert at(figures, 4).hidden == ""


def test_texts_name_the_arms_girths_and_the_stretch(figures: Lesson, jersey: Lesson) -> None:
    assert at(figures, 1).brief == ("Odd's hand is 21 cm round and the wrist 16 cm.",)
    assert at(figures, 1, Unit.INCH).brief == ("Odd's hand is 8 1/4 in round and the wrist 6 5/16 in.",)
    assert at(jersey, 1).brief == ("The jersey may stretch by 20 per cent.",)


# Variants.


def test_girths_further_down_go_along_with_the_arm(figures: Lesson) -> None:
    """By the shares of their spread: half of the arm's difference at wrist and hand, 0.7 of it at the elbow."""
    for seed in range(40):
        values = drawn(figures, seed).values
        share = values["arm girth"] / 300 - 1
        for part, own, follows in (("wrist", 160, 0.5), ("hand", 210, 0.5), ("elbow", 270, 0.7)):
            assert values[f"arm {part}"] == pytest.approx(own * (1 + follows * share), rel=0.02 + 0.5 / own)
        assert drawn(figures, seed).lesson.arm.wrist == values["arm wrist"]


def test_the_stretch_is_drawn_where_it_has_a_span(jersey: Lesson, figures: Lesson) -> None:
    drawn_ones = {drawn(jersey, seed).lesson.arm.stretch for seed in range(60)}
    assert drawn_ones == {float(k) for k in range(16, 25)}
    assert "arm stretch" not in drawn(figures, 1).values


@pytest.mark.parametrize("text", [FIGURES, JERSEY])
def test_every_variant_is_fit_and_every_mistake_told(tmp_path: Path, text: str) -> None:
    assert prove(small_lesson(tmp_path, text=text), 8).faults == ()


@pytest.mark.parametrize("text", [FIGURES, JERSEY])
def test_learners_are_understood(tmp_path: Path, text: str) -> None:
    tallies = simulate(small_lesson(tmp_path, text=text), range(20))
    told = "\n".join(table(tallies))
    assert [tally.failed + tally.accused for tally in tallies] == [0] * len(tallies), told
    assert out_of_bounds(tallies) == [], told


def test_variants_are_kept_with_the_arms_girths(figures: Lesson) -> None:
    session = Session(figures, Unit.CM, 3)
    again = Session.load(figures, session.dump())
    assert again.lesson.arm == session.lesson.arm == variant_of(figures, 3).lesson.arm


# Line by line.


def test_a_wanted_figure_is_answered_line_by_line(figures: Lesson) -> None:
    out = io.StringIO()
    lines = ["answer 35", "next", "answer 2", "next", "22 cm", "next", "48.2", "next", "2.2", "next"]
    assert run_plain(figures, io.StringIO("\n".join(lines)), out) == 0
    assert "Lesson 91 passed." in out.getvalue()


# What is broken: what is put for what, and what must be said.
BROKEN = [
    ("of a part not given", ('around = "hand"', 'around = "forearm"'), "[arm] gives no forearm"),
    ("no such part", ('around = "hand"', 'around = "neck"'), '"neck" is not known; write one of arm, elbow'),
    ("stretched with no stretch", ("plus = 1 }", "stretched = true }"), "[arm] gives no stretch"),
    ("plus round nothing", ('around = "hand", plus', "value = 20, plus"), "goes with a girth of the arm alone"),
    ("two wanted figures", ('around = "hand", plus = 1', "arm-and-ease = true, value = 2"), "gives 2 figures"),
    ("wanted and of", ("wanted = {", 'of = "cap-seam"\nwanted = {'), "asks for two figures"),
    ("neither wanted nor of", ('wanted = { measure = "bicep-girth", arm-and-ease = true }\ntol', "tol"), "asks for no"),
    ("no such edge", ('edge = "cut"', 'edge = "raw"'), '"raw" is not known; write one of seam, cut'),
    ("no cut edge there", ('of = "cap-seam"\nedge', 'of = "kink"\nedge'), "kink can't be measured at the cut edge"),
    ("wanted at the edge", ("wanted = {", 'edge = "cut"\nwanted = {'), "goes with a measure, not with a wanted figure"),
    ("wanted in degrees", ('measure = "hem-girth"', 'measure = "kink"'), "kink counts in degrees"),
    ("change of nothing", ('edge = "cut"\nasks', "asks"), "asks for a change, but of no plan"),
    ("no hand", ("hand = 21", "hand = 2"), "arm, hand: is no hand; write 5 to 100 cm"),
    ("no stretch of a cloth", ("hand = 21", "hand = 21\nstretch = 900"), "is no stretch of a cloth"),
    ("no arm left", ("wearing-ease = 5", "wearing-ease = -31"), "arm, wearing-ease: leaves nothing of the arm"),
]


@pytest.mark.parametrize(("change", "said"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN])
def test_a_broken_number_task_is_told_where_and_what(tmp_path: Path, change: tuple[str, str], said: str) -> None:
    assert change[0] in FIGURES
    faults = [str(fault) for fault in check_lesson(written(tmp_path, FIGURES.replace(*change, 1)))]
    assert any(said in fault for fault in faults), faults
    assert all(fault.startswith("small.toml: line") for fault in faults)
