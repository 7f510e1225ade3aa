"""A tape measure laid between two places: by Pythagoras, and along polygons of the seams."""

from __future__ import annotations

import io
import math
import re

import numpy as np
import pytest
from tutor_driving import driven

from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.lesson.lesson import block_of
from tutor.lesson.reading import find_lesson
from tutor.practice.plain import run_plain
from tutor.practice.session import Session
from tutor.practice.taping import taped, taped_words
from tutor.units import Unit

SLEEVE = block_of(find_lesson("1")).sleeve


def polygon(seam: Curve) -> float:
    """The length of a seam by many short straight steps, mm."""
    points = np.array([seam.point(u) for u in np.linspace(0, len(seam), 4001)])
    return float(np.abs(np.diff(points)).sum())


def read(text: str) -> list[float]:
    """The lengths that a tape reads, mm."""
    return [10 * float(cm) for cm in re.findall(r"(-?\d+\.\d) cm", taped_words(text, SLEEVE, Unit.CM))]


@pytest.mark.parametrize(
    ("words", "ends", "seam"),
    [
        ("crown to back underarm", (SLEEVE.cap_back.end, SLEEVE.cap_back.start), SLEEVE.cap_back),
        ("from the front underarm to the crown", (SLEEVE.cap_front.end, SLEEVE.cap_front.start), SLEEVE.cap_front),
        ("front hem to front underarm", (SLEEVE.hem.start, SLEEVE.underarm_front.start), SLEEVE.underarm_front),
    ],
)
def test_between_two_corners(words: str, ends: tuple[complex, complex], seam: Curve) -> None:
    """Straight by Pythagoras, along by a polygon of the seam; shown to a tenth of a cm, so within 0.5 mm."""
    straight, across, up, along = read(words)
    apart = ends[1] - ends[0]
    assert straight == pytest.approx(abs(apart), abs=0.51)
    assert (across, up) == pytest.approx((abs(apart.real), abs(apart.imag)), abs=0.51)
    assert along == pytest.approx(polygon(seam), abs=0.52)
    assert straight < along or seam is SLEEVE.underarm_front


def test_the_way_round_is_the_shorter_one() -> None:
    assert read("back underarm to front underarm")[3] == pytest.approx(
        polygon(SLEEVE.cap_back) + polygon(SLEEVE.cap_front), abs=0.52
    )


def test_a_place_inside_is_read_straight_and_has_no_way_along_the_edge() -> None:
    said = taped_words("crown to point 0, 0", SLEEVE, Unit.CM)
    assert "along the edge" not in said
    assert f"{SLEEVE.crown.imag / 10:.1f} cm down" in said
    assert f"{SLEEVE.crown.imag / 10:.1f} cm up" in taped_words("point 0, 0 to crown", SLEEVE, Unit.CM)


@pytest.mark.parametrize("turn", [0.0, 0.3, math.pi / 2, -1.2])
def test_across_and_up_go_by_the_grain(turn: float) -> None:
    """A sleeve turned with its grain reads the same."""
    by = complex(math.cos(turn), math.sin(turn))
    tape = taped(0j, (30 + 40j) * by, None, 1j * by)
    assert (tape.straight, tape.across, tape.up) == pytest.approx((50, 30, 40))
    back = taped((30 + 40j) * by, 0j, None, 1j * by)
    assert (back.straight, back.across, back.up) == pytest.approx((50, 30, -40))


@pytest.mark.parametrize("unit", list(Unit))
def test_what_is_level_to_the_eye_goes_neither_way(unit: Unit) -> None:
    assert taped(0j, 100 - 0.01j, None).words(unit) == taped(0j, 100 + 0.01j, None).words(unit)
    assert " down" in taped(0j, 100 - 20j, None).words(unit)
    assert " up" in taped(0j, 100 + 20j, None).words(unit)


@pytest.mark.parametrize("words", ["", "crown", "crown to", "to crown", "crown to mars", "99 cm along hem to crown"])
def test_what_is_no_two_places_is_told(words: str) -> None:
    with pytest.raises(Fault):
        taped_words(words, SLEEVE, Unit.CM)


def plain(*lines: str) -> str:
    output = io.StringIO()
    run_plain(Session(find_lesson("1"), Unit.CM), io.StringIO("\n".join([*lines, "quit", ""])), output)
    return " ".join(output.getvalue().split())


def test_line_by_line_a_girth_is_read_by_measuring() -> None:
    said = plain("task 5", "figure", "measure back underarm to front underarm", "answer 34 cm")
    assert "lay a tape measure between two places, as in measure crown to back underarm." in said
    assert "34.0 cm straight, 34.0 cm across, 0.0 cm up" in said
    assert "Mark: 100 of 100" in said


def test_where_a_place_is_asked_for_no_place_has_a_name() -> None:
    assert "places have no names while one is asked for" in plain("task 1", "measure crown to hem")


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_on_the_screen_a_tape_is_laid_by_keys(size: tuple[int, int]) -> None:
    async with driven("1", size) as tutor:
        await tutor.press("n enter n enter n enter n enter")
        await tutor.press("m")
        assert tutor.lesson.say.words.startswith("The tape starts where the marker @ stands: the crown.")
        await tutor.press("N N N enter")
        assert tutor.lesson.say.words.startswith("The tape is held at the back underarm point.")
        await tutor.press("n n n")
        assert tutor.lesson.say.words.startswith("From the back underarm point to the crown: 22.3 cm straight")
        await tutor.press("g")
        await tutor.write("front under")
        await tutor.press("enter")
        assert "34.0 cm straight, 34.0 cm across, 0.0 cm up, 46.0 cm along the edge." in tutor.lesson.say.words
        await tutor.press("escape")
        assert tutor.lesson.say.words.endswith("46.0 cm along the edge. Enter: your answer.")
        await tutor.press("enter")
        # While the answer is written, what the tape read can still be read.
        assert "From the back underarm point to the front underarm point: 34.0 cm straight" in " ".join(
            tutor.text.replace("│", " ").split()
        )
        await tutor.write("34")
        await tutor.press("enter")
        assert tutor.lesson.session.standing() == "passed"


async def test_by_mouse_each_click_holds_the_tape() -> None:
    async with driven("1") as tutor:
        await tutor.press("n enter n enter n enter n enter m")
        await tutor.click(SLEEVE.underarm_point_back)
        assert tutor.lesson.placing is not None
        assert tutor.lesson.placing.first == tutor.lesson.placing.marker
        await tutor.press("g")
        await tutor.write("front under")
        await tutor.press("enter")
        assert "34.0 cm straight" in tutor.lesson.say.words


async def test_a_tape_that_lies_is_there_again_after_leaving() -> None:
    async with driven("1") as tutor:
        await tutor.press("n enter n enter n enter n enter m enter n")
        words = tutor.lesson.say.words
        tutor.lesson._recall(tutor.lesson._remembered())
        tutor.lesson.show()
        assert tutor.lesson.say.words == words
