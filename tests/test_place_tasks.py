"""Places shown on the edge of the pattern: found by walking, pointing or in words; marked along the edge."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import PLACES, small_lesson, written
from msgspec import structs
from simulated_learners import out_of_bounds, simulate
from simulated_places import points, walked
from simulated_tally import table
from test_quiz_screens import open_question, quizzing
from tutor_driving import driven

from tutor.alteration.edge import Edge
from tutor.alteration.outline import whole
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson, block_of
from tutor.lesson.reading import check_lesson, find_lesson
from tutor.marking.mark_place import roughly
from tutor.practice.plain import run_plain
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.variants import why_not
from tutor.quiz.asking import ask
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.forms import askings
from tutor.quiz.making import question_of
from tutor.quiz.plain import run_quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.record.record import open_record
from tutor.tui.marker import Marker
from tutor.tui.question_screen import QuestionScreen
from tutor.tui.seeking import seeking_of, seeking_words
from tutor.units import Unit, format_length, parse_length

NAMES = ("crown", "underarm-front", "notch-front", "elbow-back")
"""The landmarks that the lesson's first tasks ask for."""


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path, text=PLACES)


@pytest.fixture(scope="module")
def places(tmp_path_factory: pytest.TempPathFactory) -> Lesson:
    return small_lesson(tmp_path_factory.mktemp("places"), text=PLACES)


def at(lesson: Lesson, number: int, unit: Unit = Unit.CM, seed: int | None = None) -> Session:
    session = Session(lesson, unit, seed)
    session.go_to_task(number)
    return session


# The edge as one line.


def test_the_edge_is_as_long_as_its_seams_and_closes(lesson: Lesson) -> None:
    sleeve = block_of(lesson).sleeve
    edge = Edge(whole(sleeve))
    assert edge.length == pytest.approx(sum(curve.length() for curve in sleeve.curves()), abs=1e-9)
    assert edge.point(edge.length + 5) == pytest.approx(edge.point(5), abs=1e-9)
    assert abs(edge.point(edge.ends[0]) - sleeve.crown) < 1e-9


@given(st.floats(0, 5000), st.floats(-700, 700))
def test_the_way_is_the_shorter_one_and_leads_there(places: Lesson, start: float, far: float) -> None:
    edge = Edge(whole(block_of(places).sleeve))
    way = edge.way(start, start + far)
    assert abs(way) <= edge.length / 2 + 1e-6
    assert abs(edge.point(start + way) - edge.point(start + far)) < 1e-6
    assert edge.way(start + far, start) == pytest.approx(-way, abs=1e-6) or abs(abs(way) - edge.length / 2) < 1e-6


# What is right.


@pytest.mark.parametrize("seed", [None, 0, 1, 2])
@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_landmark_is_where_the_sleeve_has_it(lesson: Lesson, number: int, seed: int | None) -> None:
    session = at(lesson, number, seed=seed)
    point = points(session.pattern.sleeve)[NAMES[number - 1]]
    assert abs(session.edge.point(session.right_place()) - point) < 1e-6
    assert session.answer(f"point {point.real} mm, {point.imag} mm").total == 1


def test_a_place_along_a_seam_is_walked_and_not_measured_straight(lesson: Lesson) -> None:
    """By steps along a polygon of the seam; a straight line is shorter than the curve, so it reaches farther."""
    session = at(lesson, 5)
    seam = session.pattern.sleeve.cap_back
    point = walked(seam, 80, from_end=True)
    assert abs(session.edge.point(session.right_place()) - point) < 0.01
    assert session.answer("8 cm from end along cap-back").passed
    assert session.answer("8 cm along cap-back").mistake == "wrong-end"
    assert session.answer("8 cm along cap-front").mistake == "other-side"
    assert session.answer("8 in from end along cap-back").mistake == "unit-swap"
    assert session.answer(f"{80 / 2.54} mm from end along cap-back").mistake == "unit-swap"


# Full credit inside the tolerance, none beyond three times it, linear between (marking).
@pytest.mark.parametrize(("off", "credit"), [(0, 1), (5, 1), (10, 0.5), (12.5, 0.25), (15, 0), (400, 0)])
@pytest.mark.parametrize("way", [1, -1])
def test_credit_goes_by_the_way_along_the_edge(lesson: Lesson, off: float, credit: float, way: int) -> None:
    session = at(lesson, 1)
    session.show_place(session.right_place() + way * off)
    assert session.check().total == pytest.approx(credit, abs=1e-3)


@pytest.mark.parametrize(
    ("number", "given", "mistake", "said"),
    [
        (1, "front notch", "other-landmark", "That is the front notch."),
        (2, "back underarm", "other-side", "That is the back underarm point."),
        (2, "0 cm along hem", "other-landmark", "That is the front hem corner."),
        (3, "lower back notch", "other-side", "The back has two notches and the front has one"),
        (3, "upper back notch", "other-landmark", "That is the upper back notch."),
        (4, "elbow-front", "other-side", "That is the front elbow point."),
        (1, "25% along hem from start", None, "it is far off"),
    ],
)
def test_a_wrong_place_is_told_what_it_is(
    lesson: Lesson, number: int, given: str, mistake: str | None, said: str
) -> None:
    marked = at(lesson, number).answer(given)
    assert not marked.passed
    assert marked.mistake == mistake
    assert said in " ".join(marked.feedback)


def test_a_right_place_is_told_with_its_name_and_reason(lesson: Lesson) -> None:
    session = at(lesson, 1)
    session.show_place(session.right_place() + 9)
    near = session.check()
    assert not near.passed
    assert "a little way off" in near.feedback[0]
    session.show_place(session.right_place())
    assert session.check().feedback == ("Right: that is the crown.", "Both cap seams meet there.")


@pytest.mark.parametrize(
    ("off", "unit", "told"),
    [
        (40, Unit.CM, "off, about 3 cm along the edge."),
        (44, Unit.CM, "off, about 3 cm along the edge."),
        (46, Unit.CM, "off, about 6 cm along the edge."),
        (160, Unit.CM, "far off, about 15 cm along the edge."),
        (160, Unit.MM, "far off, about 150 mm along the edge."),
        (46, Unit.INCH, "off, about 1 1/2 in along the edge."),
        (57, Unit.INCH, "off, about 1 1/2 in along the edge."),
        (58, Unit.INCH, "off, about 3 in along the edge."),
        (28, Unit.CM, "a little way off, less than 3 cm along the edge."),
        (28, Unit.INCH, "a little way off, less than 1 1/2 in along the edge."),
    ],
)
@pytest.mark.parametrize("way", [1, -1])
def test_a_wrong_place_is_told_roughly_how_far_off_it_is(
    lesson: Lesson, off: float, unit: Unit, told: str, way: int
) -> None:
    """To the nearest 3 cm, or 1 1/2 inches of 25.4 mm: what is 1 cm off passes, and nothing beyond 3 cm has credit."""
    wide = structs.replace(lesson, tasks=(structs.replace(lesson.tasks[0], tolerance=10.0), *lesson.tasks[1:]))
    session = at(wide, 1, unit)
    session.show_place(session.right_place() + way * off)
    assert f"it is {told}" in session.check().feedback[0]


def test_half_a_step_off_is_told_as_one() -> None:
    assert roughly(5.0, 1.0, Unit.CM) == "about 1 cm"
    assert roughly(4.9, 1.0, Unit.CM) == "less than 1 cm"


@given(off=st.floats(0.3, 400), unit=st.sampled_from(Unit), tolerance=st.floats(0.5, 40))
def test_how_far_off_is_told_no_finer_than_what_earns_credit(off: float, unit: Unit, tolerance: float) -> None:
    told = roughly(off, tolerance, unit)
    far = parse_length(told.removeprefix("about ").removeprefix("less than "), unit, "")
    if told.startswith("less"):
        assert off < far
    else:
        assert off >= 3 * tolerance - 1e-9
        assert abs(far - off) <= far / 2 + 1e-6
    # Told no finer than three tolerances, beyond which there is no credit.
    assert far >= 3 * tolerance - 1e-6


# What names the place does not show it.


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (1, "crown"),
        (1, "the top"),
        (1, "0 cm along cap-front from crown"),
        (1, "0 cm from the crown along cap-back"),
        (2, "front underarm point"),
        (3, "notch-front"),
        (4, "back elbow"),
    ],
)
def test_a_place_is_not_shown_by_its_own_name(lesson: Lesson, number: int, text: str) -> None:
    session = at(lesson, number)
    with pytest.raises(Fault, match="names the place, and does not show it"):
        session.answer(text)
    assert session.attempts() == ()


@pytest.mark.parametrize("text", ["", "nowhere", "90 cm along hem", "point 0, 0", "point 80 cm, 80 cm", "x" * 300])
def test_what_is_no_place_costs_nothing_and_lists_no_names(lesson: Lesson, text: str) -> None:
    session = at(lesson, 1)
    with pytest.raises(Fault) as fault:
        session.answer(text)
    assert "crown" not in str(fault.value)
    assert session.given is None


@given(st.text(max_size=40))
def test_no_text_ends_it(places: Lesson, text: str) -> None:
    try:
        marked = at(places, 3).answer(text)
    except Fault:
        return
    assert 0 <= marked.total <= 1


def test_the_edge_in_figures_names_nothing_but_seams(lesson: Lesson) -> None:
    for number in (1, 2, 3, 4):
        told = " ".join(at(lesson, number).edge_lines())
        for word in ("crown", "underarm point", "front notch", "elbow", "corner"):
            assert word not in told
        assert "a notch: 15.3 cm along cap-front" in told
        assert "cap-back (back cap seam), 23.5 cm long" in told


# What is kept.


def test_a_place_is_kept_and_marked_again_as_it_was(lesson: Lesson) -> None:
    session = at(lesson, 3, Unit.INCH, 4)
    session.show_place(session.right_place() + 9)
    marked = session.check()
    again = Session.load(lesson, json.loads(json.dumps(session.dump())))
    again.unit = Unit.CM
    assert again.shown_place == pytest.approx(session.right_place() + 9, abs=1e-3)
    given = again.attempts(3)[0].given
    assert isinstance(given, str)
    assert again.answer(given).total == pytest.approx(marked.total, abs=1e-3)


def test_a_solution_says_where_and_the_task_counts_as_shown(lesson: Lesson) -> None:
    session = at(lesson, 1)
    steps = session.solution().steps
    assert "The crown is where the back cap seam and the front cap seam meet" in steps[0]
    assert session.answer(session.right_answer()).passed
    assert session.standing() == "shown"
    assert "15.5 cm from the back underarm point and 8.0 cm from the crown" in at(lesson, 5).solution().steps[0]


def test_a_place_on_ones_own_altered_pattern_is_there(tmp_path: Path) -> None:
    """The notch of a cap that was opened lies where that pattern has it."""
    plan = """[plans.wider]
slash = [{ name = "grain", from = "crown", to = "grain-hem", hinge = [] }]
opening = [{ slash = "grain", at = "from", amount = 3 }, { slash = "grain", at = "to", amount = 3 }]

[[tasks]]
kind = "plan"
title = "Wider"
ask = "Wider."
solution = "wider"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
change = 3
tolerance = 0.3

[[tasks]]
kind = "place"
title = "The front underarm point"
ask = "Show it."
place = "underarm-front"
start = "wider"
goes-on-from = 1
tolerance = 0.5
hints = ["one", "two", "three"]

"""
    cut = PLACES.index("[[tasks]]")
    lesson = small_lesson(tmp_path, text=PLACES[:cut] + plan + PLACES[cut:])
    assert prove(lesson).faults == ()
    session = at(lesson, 1)
    wide = session.solution().plan
    assert wide is not None
    fresh = at(lesson, 1)
    fresh.adopt(wide)
    assert fresh.check().passed
    fresh.go_to_task(2)
    assert "your own work in task 1" in fresh.ask
    there = points(fresh.pattern.sleeve)["underarm-front"]
    assert there.real == pytest.approx(points(block_of(lesson).sleeve)["underarm-front"].real + 15, abs=0.01)
    assert abs(fresh.edge.point(fresh.right_place()) - there) < 1e-6


# Variants and learners.


def test_every_variant_is_fit_and_every_mistake_told(lesson: Lesson) -> None:
    assert prove(lesson, 8).faults == ()


def test_learners_are_understood(lesson: Lesson) -> None:
    tallies = simulate(lesson, range(12))
    told = "\n".join(table(tallies))
    assert out_of_bounds(tallies) == [], told
    assert all(sum(tally.made.values()) > 20 for tally in tallies), told


def test_a_place_half_way_can_be_measured_from_either_end_and_is_told_so(tmp_path: Path) -> None:
    from_crown = ('distance = 8, from = "crown"', 'share = 0.49, from = "crown"')
    half = small_lesson(tmp_path, from_crown, ("other-landmark", "cut-line"), text=PLACES)
    assert any("right" in remark and "wrong-end" in remark for remark in prove(half).remarks)
    assert why_not(half, half, task=5) is not None


# Line by line, on the screen, in a quiz.


def test_places_are_shown_line_by_line(lesson: Lesson) -> None:
    lines = ["places", "answer 0 cm along cap-front", "next", "0 cm along underarm-front", "next"]
    lines += ["answer 15.3 cm along cap-front", "next", "answer point -15 cm, -22.4 cm", "next"]
    lines += ["answer 15.5 cm along cap-back", "next"]
    out = io.StringIO()
    assert run_plain(lesson, io.StringIO("\n".join(lines)), out) == 0
    assert "Lesson 94 passed." in out.getvalue()


async def test_a_place_is_shown_by_keys(lesson: Lesson) -> None:
    async with driven(lesson) as tutor:
        session = tutor.lesson.session
        assert "Tab: next mark or corner" in tutor.text
        await tutor.press("tab tab tab enter")
        assert "Not passed yet" in tutor.page
        assert "That is the back elbow point" in tutor.page
        await tutor.press("enter")
        for _ in range(12):
            if abs(session.edge.way(tutor.lesson.seeking_now().marker.along, session.right_place())) < 1:
                break
            await tutor.press("tab")
        await tutor.press("comma comma c")
        assert "Passed: 100 of 100" in tutor.page
        await tutor.press("n enter")
        assert tutor.lesson.session.task_number == 2


async def test_a_place_is_pointed_at_and_said_by_key(lesson: Lesson) -> None:
    async with driven(lesson, (120, 40)) as tutor:
        session = tutor.lesson.session
        await tutor.click(session.pattern.sleeve.crown)
        assert session.given is None
        await tutor.press("enter")
        assert "Passed: 100 of 100" in tutor.page


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("number", [1, 2, 3, 4])
async def test_nothing_on_the_screen_names_the_place(lesson: Lesson, number: int, size: tuple[int, int]) -> None:
    words = ("crown", "underarm point", "front notch", "elbow point", "back elbow")[number - 1]
    async with driven(lesson, size) as tutor:
        await tutor.press(" ".join(["n enter"] * (number - 1)))
        seen = [tutor.text]
        for key in ("tab", "tab", "z", "z", "v"):
            await tutor.press(key)
            seen.append(tutor.text)
        await tutor.press("y")
        seen.append(tutor.page)
        ask = tutor.lesson.session.ask
        title = tutor.lesson.session.task.title
        for text in seen:
            rest = text.replace(ask, "").replace(title, "").replace(title[:30], "")
            assert words not in rest.casefold()


async def test_the_marker_is_there_next_time(lesson: Lesson, tmp_path: Path) -> None:
    left = 0.0
    for first in (True, False):
        with open_record(tmp_path / "kept") as record:
            record.keep_setting("toured", True)
            async with driven(lesson, record=record, brief_closed=first) as tutor:
                if first:
                    await tutor.press("tab tab pagedown")
                    left = tutor.lesson.seeking_now().marker.along
                assert tutor.lesson.seeking_now().marker.along == pytest.approx(left)


async def test_a_solution_puts_the_marker_where_it_is(lesson: Lesson) -> None:
    async with driven(lesson) as tutor:
        await tutor.press("w y")
        assert "where the back cap seam and the front cap seam meet" in tutor.page
        await tutor.press("enter")
        seeking = tutor.lesson.seeking_now()
        assert abs(seeking.point - tutor.lesson.session.pattern.sleeve.crown) < 1e-6


def test_a_place_is_asked_in_a_quiz(lesson: Lesson) -> None:
    asking = next(each for each in askings(lesson) if each.task == 2)
    question = question_of(lesson, asking, 3)
    assert question is not None
    asked = ask(question, lesson, Unit.CM)
    asked.give("0 cm along underarm-front")
    kept = asked.given()
    assert asked.mark().passed
    assert kept is not None
    again = ask(question, lesson, Unit.INCH)
    again.take(kept)
    assert again.mark().passed


@pytest.mark.parametrize(("unit", "shown"), [(Unit.CM, "5.0 cm"), (Unit.INCH, "2 in")])
def test_a_place_is_answered_in_a_quiz_line_by_line(lesson: Lesson, unit: Unit, shown: str) -> None:
    """The place that is right is worked out from the landmarks of the sleeve that is asked about."""
    quiz = draw_quiz(QuizSpec(("small",), count=1, seed=3), {"small": lesson})
    sitting, output = Sitting(quiz, {"small": lesson}, unit), io.StringIO()
    session = sitting.asked.session
    far = parse_length(shown, unit)
    lines = ["help", "help show", "help places", f"{shown} along cap-back", f"show {shown} along hem", "question"]
    run_quiz(sitting, io.StringIO("\n".join([*lines, "finish", ""])), output)
    told = " ".join(output.getvalue().split())
    for name in session.edge.outline.names:
        assert re.search(rf"The seams are [^;]*\b{name}\b", told)
    assert f"such as answer {format_length(60, unit)} along hem" in told
    assert told.count("show PLACE: answer with a place") == 2
    assert told.count("places: the edge clockwise") == 2
    assert "Not read" not in told
    assert f"Your answer to question 1 is {format_length(far, unit)} along cap-back." in told
    assert f"Your answer is {format_length(far, unit)} along hem." in told
    right = re.search(r"Right is (.+?) along ([a-z-]+)\.", told)
    assert right is not None
    seam = session.edge.outline.curves[session.edge.outline.names.index(right[2])]
    point = seam.point(seam.at_distance(parse_length(right[1], unit)))
    assert abs(point - session.edge.point(session.right_place())) < 1
    assert " mm along" not in told


async def test_a_place_is_shown_in_a_quiz_on_the_screen_and_not_marked_before_its_end(lesson: Lesson) -> None:
    quiz = draw_quiz(QuizSpec(("small",), count=2, seed=3), {"small": lesson})
    sitting = Sitting(quiz, {"small": lesson}, Unit.CM)
    async with quizzing(sitting) as tutor:
        await open_question(tutor, 1)
        session = sitting.asked.session
        screen = tutor.app.screen
        assert isinstance(screen, QuestionScreen)
        screen.seeking = screen.seeking_now().at(Marker(session.right_place()))
        await tutor.press("enter")
        assert "Your place is shown." in tutor.text
        assert session.attempts() == ()
        assert "mm along" not in tutor.text
        assert sitting.asked.mark().passed


# What is broken: what is put for what, and what must be said.
BROKEN = [
    ("no such landmark", ('place = "crown"', 'place = "crowm"'), "this pattern has no crowm; there are underarm-back"),
    ("no place", ('place = "crown"\n', ""), 'place: is missing; write a landmark such as "crown"'),
    ("a number", ('place = "crown"', "place = 3"), "is no place; write a landmark"),
    ("a point", ('place = "crown"', "place = { x = 0, y = 14 }"), "is no place on the edge of the pattern"),
    ("on a slash", ('place = "crown"', 'place = { slash = "a", share = 0.5 }'), '"a" is no slash of this plan'),
    ("no such seam", ('seam = "cap-back", distance', 'seam = "cap", distance'), '"cap" is no seam of the paper'),
    ("no end of it", ('from = "crown" }', 'from = "hem-back" }'), '"hem-back" is no end of cap-back'),
    ("from no end", (', from = "crown" }', " }"), "doesn't say from which end"),
    ("beyond the seam", ("distance = 8,", "distance = 80,"), "this pattern has no that place"),
    ("no tolerance", ("tolerance = 0.4", "tolerance = 0"), "tolerance: is not above 0"),
    ("a key too many", ("tolerance = 0.4", "tolerance = 0.4\nof = 3"), "of: is no key here"),
]


@pytest.mark.parametrize(("change", "said"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN])
def test_a_broken_place_task_is_told_where_and_what(tmp_path: Path, change: tuple[str, str], said: str) -> None:
    assert change[0] in PLACES
    faults = [str(fault) for fault in check_lesson(written(tmp_path, PLACES.replace(*change, 1)))]
    assert any(said in fault for fault in faults), faults
    assert all(fault.startswith("small.toml: line") for fault in faults)


# How to answer line by line.


def test_the_seams_that_can_be_typed_are_told_with_the_task(lesson: Lesson) -> None:
    output = io.StringIO()
    run_plain(at(lesson, 1), io.StringIO("quit\n"), output)
    told = " ".join(output.getvalue().split())
    for name in at(lesson, 1).edge.outline.names:
        assert re.search(rf"The seams are [^;]*\b{name}\b", told)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("show crown", "that names the place, and does not show it; write such as"),
        ("Show", "names no place; write such as"),
        ("show 0.1 cm along cap-front", "Mark: 100 of 100"),
        ("help show", "show PLACE: answer with a place, as answer does: show 6 cm along hem"),
        ("help Show:", "show PLACE: answer with a place"),
        ("help places", "places: the edge clockwise"),
        ("help plan", "plan: what you have built so far"),
    ],
)
def test_show_is_an_answer_or_told_how_to_be_one(lesson: Lesson, line: str, told: str) -> None:
    output = io.StringIO()
    run_plain(at(lesson, 1), io.StringIO(f"{line}\n"), output)
    flat = " ".join(output.getvalue().split())
    assert told in flat
    assert "The paper is as it was." not in flat


@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
@pytest.mark.parametrize("seed", [None, 1, 2, 3])
def test_the_marker_starts_where_its_line_does_not_show_the_figure_asked_for(unit: Unit, seed: int | None) -> None:
    """By the place asked for: 18 cm from the crown, on a hem of 24 cm of which a quarter leaves 18 cm."""
    session = at(find_lesson("1"), 4, unit, seed)
    words = seeking_words(seeking_of(session), unit)
    assert "is on the hem, " in words
    assert format_length(180, unit) not in words
    left = session.edge.outline.curves[0].length() - 180
    assert format_length(left, unit) not in words
