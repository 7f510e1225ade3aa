"""Goals: the bounds they come to for a pattern and an arm."""

from __future__ import annotations

import math

import pytest

from tutor.lesson.amount import Amount
from tutor.lesson.goal import Aim, AtLeast, AtMost, Balance, Keep, Reach, Sound
from tutor.lesson.setting import Arm

ARM = Arm(girth=Amount(300, 30), wearing_ease=Amount(50, 5))
START = {
    "bicep-girth": 330.0,
    "cap-height": 140.0,
    "cap-ease-percent": 4.0,
    "notch-mismatch-front": 2.0,
    "side-mismatch": 0.0,
    "underarm-mismatch": 0.0,
}


def only(aims: tuple[Aim, ...]) -> Aim:
    (aim,) = aims
    return aim


def test_the_arm_with_its_ease_is_the_sum() -> None:
    goal = Reach(measure="bicep-girth", arm_and_ease=True, tolerance=Amount(3))
    assert only(goal.aims(START, ARM)) == Aim("bicep-girth", 350, 350, 3)


def test_a_change_counts_from_the_start() -> None:
    goal = AtLeast(measure="cap-height", change=Amount(-10, -1), tolerance=Amount(1))
    assert only(goal.aims(START, ARM)) == Aim("cap-height", 130, math.inf, 1)


def test_keep_is_the_start() -> None:
    assert only(Keep(measure="cap-height", tolerance=Amount(2)).aims(START, ARM)) == Aim("cap-height", 140, 140, 2)


def test_per_cent_are_taken_as_written_and_not_as_lengths() -> None:
    goal = AtMost(measure="cap-ease-percent", value=Amount(50, 5), tolerance=Amount(10, 1))
    assert only(goal.aims(START, ARM)) == Aim("cap-ease-percent", -math.inf, 5, 1)
    with pytest.raises(ValueError, match="counts in %"):
        Amount(50).of("cap-ease-percent")


def test_balance_asks_for_every_part_that_the_pattern_has() -> None:
    goal = Balance(
        ease_front=(Amount(8), Amount(12)),
        ease_back=(Amount(9), Amount(13)),
        tolerance=Amount(1),
        notches=Amount(3),
        seams=Amount(2),
    )
    assert goal.aims(START, ARM) == (
        Aim("cap-ease-front", 8, 12, 1),
        Aim("cap-ease-back", 9, 13, 1),
        Aim("notch-mismatch-front", 0, 0, 3),
        Aim("underarm-mismatch", 0, 0, 2),
        Aim("side-mismatch", 0, 0, 2),
    )


def test_sound_is_a_degree_and_a_millimetre() -> None:
    kink, seams = Sound().aims(START, ARM)
    assert (kink.off(1.0), kink.tolerance) == (1.0, 1.0)
    assert (seams.off(-1.0), seams.tolerance) == (-1.0, 1.0)


@pytest.mark.parametrize(
    ("aim", "figure", "off", "centre"),
    [
        (Aim("cap-height", 8, 12, 1), 7, -1, 10),
        (Aim("cap-height", 8, 12, 1), 9, 0, 10),
        (Aim("cap-height", 8, 12, 1), 15, 3, 10),
        (Aim("cap-height", -math.inf, 12, 1), -50, 0, 12),
        (Aim("cap-height", 8, math.inf, 1), 5, -3, 8),
    ],
)
def test_off_is_signed_and_counts_from_the_nearer_bound(aim: Aim, figure: float, off: float, centre: float) -> None:
    assert (aim.off(figure), aim.centre) == (off, centre)
