"""Amounts solved for a wanted result."""

from __future__ import annotations

import math

import pytest
from blocks import crossed, lopsided, pattern, symmetric
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.alteration.alter import alter
from tutor.alteration.plan import Answer, Landmark, Opening, Plan, Slash
from tutor.alteration.reach import AnswerAmount, OpeningAmount, reach
from tutor.alteration.refusal import LOCKED, Refusal
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern

INCH = 25.4


def measured(sleeve: Pattern, plan: Plan) -> dict[str, float]:
    return measure(alter(sleeve, plan).after)


def kept_seam_height(half: float, height: float, gain: float) -> float:
    """Two circles of the old crown distances about the new underarm points meet at this height (plane geometry)."""
    return math.sqrt(height**2 + half**2 - (half + gain / 2) ** 2)


# Plane geometry: b 170, H 140, bicep line to hem 450; H' = sqrt(H^2 + b^2 - (b + W/2)^2) to three decimals.
@pytest.mark.parametrize(("gain", "height"), [(20, 126.886), (30, 119.478), (40, 111.355), (50, 102.347)])
def test_crossed_slashes_of_a_given_gain_leave_the_height_of_the_circles(gain: float, height: float) -> None:
    sleeve = Pattern(symmetric(170, 140, 450))
    found = measured(sleeve, reach(sleeve, crossed(0), {"bicep-girth": 340 + gain}))
    assert found["bicep-girth"] == pytest.approx(340 + gain, abs=1e-8)
    assert found["cap-height"] == pytest.approx(height, abs=5e-4)
    assert found["cap-height"] == pytest.approx(kept_seam_height(170, 140, gain), abs=1e-6)


# The same in inches (b 6.75, H 5.5), to four decimals; the inch of 25.4 mm.
@pytest.mark.parametrize(("gain", "height"), [(1, 4.8218), (2, 3.9686)])
def test_the_same_in_inches(gain: float, height: float) -> None:
    sleeve = Pattern(symmetric(6.75 * INCH, 5.5 * INCH, 450))
    found = measured(sleeve, reach(sleeve, crossed(0), {"bicep-girth": (13.5 + gain) * INCH}))
    assert found["cap-height"] / INCH == pytest.approx(height, abs=5e-5)
    assert found["bicep-girth"] / INCH == pytest.approx(13.5 + gain, abs=1e-8)


def test_its_limit_is_where_the_cap_lies_flat() -> None:
    # Plane geometry: the two circles meet while W < 2 (sqrt(H^2 + b^2) - b), 100.45 for b 170, H 140.
    sleeve = Pattern(symmetric(170, 140, 450))
    limit = 2 * (math.hypot(170, 140) - 170)
    assert limit == pytest.approx(100.45, abs=5e-3)
    near = measured(sleeve, reach(sleeve, crossed(0), {"bicep-girth": 340 + limit - 0.05}))
    assert near["cap-height"] == pytest.approx(kept_seam_height(170, 140, limit - 0.05), abs=1e-5)
    with pytest.raises(Refusal, match="bicep girth"):
        reach(sleeve, crossed(0), {"bicep-girth": 340 + limit + 0.05})


@settings(max_examples=15)
@given(gain=st.floats(-20, 60))
def test_what_is_wanted_is_what_comes_out(gain: float) -> None:
    sleeve = Pattern(lopsided())
    before = measure(sleeve)["bicep-girth"]
    found = measured(sleeve, reach(sleeve, crossed(0), {"bicep-girth": before + gain}))
    assert found["bicep-girth"] == pytest.approx(before + gain, abs=1e-8)


def test_two_amounts_for_two_measures() -> None:
    sleeve = Pattern(symmetric(170, 145, 430))
    found = measured(sleeve, reach(sleeve, crossed(0, 1), {"bicep-girth": 369.793, "cap-height": 135.851}))
    assert found["bicep-girth"] == pytest.approx(369.793, abs=1e-8)
    assert found["cap-height"] == pytest.approx(135.851, abs=1e-8)


def test_two_amounts_are_those_of_the_closed_form() -> None:
    # Circle construction for girth 340, cap 145, hem hinge 430 below: opening 30, crown 15 open, give these figures.
    sleeve = Pattern(symmetric(170, 145, 430))
    plan = reach(sleeve, crossed(0, 1), {"bicep-girth": 369.793, "cap-height": 135.851})
    assert [opening.amount for opening in plan.openings] == pytest.approx([30, 15], abs=2e-3)


def test_only_the_amounts_named_are_changed() -> None:
    sleeve = Pattern(lopsided())
    plan = reach(sleeve, crossed(0, 7), {"bicep-girth": 360}, [OpeningAmount(0)])
    assert plan.openings[1].amount == 7
    assert measured(sleeve, plan)["bicep-girth"] == pytest.approx(360, abs=1e-8)


@pytest.mark.parametrize("share", [0, 0.3, 0.5, 1])
def test_an_armhole_is_solved_for_its_ease_with_the_share_asked_for(share: float) -> None:
    both = pattern()
    wanted = {"armhole-back": measure(both)["armhole-back"] + 9}
    plan = reach(both, Plan(), wanted, [AnswerAmount("back", share)])
    total = plan.back.widen + plan.back.lower
    assert plan.back.widen == pytest.approx(share * total)
    assert plan.front == Answer()
    assert measured(both, plan)["armhole-back"] == pytest.approx(wanted["armhole-back"], abs=1e-8)


def test_what_hinges_hold_shut_is_refused() -> None:
    grain = Slash("grain", Landmark("crown"), Landmark("grain-hem"), True, True)
    with pytest.raises(Refusal) as refused:
        reach(pattern(), Plan((grain,), (Opening("grain", 0),)), {"bicep-girth": 400})
    assert refused.value.kind == LOCKED
    assert refused.value.slash == "grain"


def test_what_the_slashes_do_not_touch_is_refused_and_says_what_they_come_to() -> None:
    with pytest.raises(Refusal, match=r"hem girth to 50\.0 cm.*come to \d"):
        reach(Pattern(symmetric()), crossed(0), {"hem-girth": 500})


def test_as_many_amounts_as_measures_are_needed() -> None:
    with pytest.raises(ValueError, match="2 wanted measures need as many amounts, not 1"):
        reach(pattern(), crossed(0), {"bicep-girth": 360, "cap-height": 130})


def test_a_measure_the_pattern_lacks_is_said() -> None:
    with pytest.raises(ValueError, match="no cap ease"):
        reach(Pattern(lopsided()), crossed(0), {"cap-ease": 20})
