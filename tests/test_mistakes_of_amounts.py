"""Usual mistakes with amounts that need no slash: half, double, the wrong way, one side alone, one thing left out.

The names of the mistakes are the tutor's own; what each leads to is worked out beside it.
"""

from __future__ import annotations

import pytest
from blocks import pattern
from test_mistakes import altering, feedback, number

from tutor.alteration.alter import alter
from tutor.alteration.amounts import AMOUNTS, PlanAmount
from tutor.alteration.plan import Answer, Landmark, Opening, Plan, SeamChange, Share, Shoulder, Slash
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Goal, Keep, Reach
from tutor.marking.answers import mark_figure
from tutor.marking.case import PlanCase
from tutor.marking.plan_parts import parts, sides, whole
from tutor.marking.recognise_number import candidates
from tutor.pattern.measures import measure
from tutor.units import Unit

WHOLE = pattern()
START = measure(WHOLE)


def reach(name: str, plan: Plan, tolerance: float = 2.0) -> Reach:
    """The goal that a measure comes out as a plan leaves it."""
    value = measure(alter(WHOLE, plan).after)[name]
    return Reach(measure=name, value=Amount(value, value), tolerance=Amount(tolerance, tolerance), must=True)


def case(plan: Plan, *names: str) -> PlanCase:
    """A task for which a plan is right, with goals for these measures."""
    goals: list[Goal] = [reach(name, plan) for name in names]
    return altering(*goals, Keep(measure="hem-tilt", tolerance=Amount(1.0, 1.0)), plan=plan, on=WHOLE)


GOALS = {
    "seam.back.bicep": "bicep-girth",
    "seam.front.bicep": "bicep-girth",
    "seam.back.elbow": "elbow-girth",
    "seam.front.elbow": "elbow-girth",
    "seam.back.hem": "hem-girth",
    "seam.front.hem": "hem-girth",
    "seam.back.up": "underarm-seam-back",
    "seam.front.up": "underarm-seam-front",
    "cap-raise": "cap-height",
    "pitch": "cap-seam-front",
    "crown-forward": "cap-seam-front",
    "shoulder.forward": "armhole-front",
    "shoulder.up": "armhole",
    "armhole.back.widen": "armhole-back",
    "armhole.back.lower": "armhole-back",
    "armhole.front.widen": "armhole-front",
    "armhole.front.lower": "armhole-front",
}


@pytest.mark.parametrize("amount", AMOUNTS, ids=lambda amount: str(amount.key))
@pytest.mark.parametrize(("factor", "mistake"), [(-1, "wrong-sign"), (0.5, "per-side"), (2.0, "per-side")])
def test_each_amount_half_double_and_the_wrong_way(amount: PlanAmount, factor: float, mistake: str) -> None:
    right = amount.put(Plan(), 14.0)
    asked = case(right, GOALS[amount.key])
    assert feedback(asked, right)[0] is None
    name, said = feedback(asked, amount.put(Plan(), 14.0 * factor))
    assert name == mistake
    assert " cm" in said


def test_what_one_half_gains_the_other_loses() -> None:
    asked = case(Plan(pitch=8), "cap-seam-front", "cap-seam-back")
    name, said = feedback(asked, Plan(pitch=16))
    assert name == "per-side"
    assert "The cap seam, front has changed by 1.6 cm. What one half gains the other loses" in said
    assert "Work out how much one half has to gain: so far it has to move." in said
    assert "Each half changes by all of it" in feedback(asked, Plan(pitch=4))[1]
    assert "that is the wrong way" in feedback(asked, Plan(pitch=-8))[1]


def test_a_pitch_asked_for_by_the_difference_of_the_eases_alone() -> None:
    asked = case(Plan(pitch=8), "ease-balance")
    assert feedback(asked, Plan(pitch=16))[0] == "per-side"
    assert feedback(asked, Plan(pitch=-8))[0] == "wrong-sign"
    assert feedback(asked, Plan(pitch=13))[0] is None


def test_a_height_that_goes_for_both_halves() -> None:
    asked = case(Plan(cap_raise=14), "cap-height", "bicep-girth")
    assert "an amount that goes for both is not shared between them" in feedback(asked, Plan(cap_raise=7))[1]
    assert "One amount goes for both halves; here it is there twice." in feedback(asked, Plan(cap_raise=28))[1]
    name, said = feedback(asked, Plan(cap_raise=-14))
    assert (name, "The cap height has shrunk by 1.4 cm: that is the wrong way." in said) == ("wrong-sign", True)


EDGES = Plan(seam_back=SeamChange(bicep=12), seam_front=SeamChange(bicep=12))


def test_one_edge_forgotten_and_the_whole_at_each() -> None:
    asked = case(EDGES, "bicep-girth", "cap-seam-back", "cap-seam-front")
    back = Plan(seam_back=EDGES.seam_back)
    name, said = feedback(asked, back)
    assert name == "back-only"
    assert "The front edge of the sleeve is as it was: only the other has changed." in said
    assert feedback(asked, Plan(seam_front=EDGES.seam_front))[0] == "front-only"
    both = SeamChange(bicep=24)
    name, said = feedback(asked, Plan(seam_back=both, seam_front=both))
    assert name == "per-side"
    assert "The bicep girth has changed by 4.8 cm. That is the whole for each side, so it is there twice." in said
    assert feedback(asked, Plan(seam_back=both, seam_front=EDGES.seam_front))[0] == "per-side"


def test_the_crown_mark_that_did_not_follow_the_shoulder() -> None:
    right = Plan(shoulder=Shoulder(forward=12), crown_forward=12)
    asked = case(right, "armhole-front", "cap-ease-front", "cap-ease-back")
    name, said = feedback(asked, Plan(shoulder=Shoulder(forward=12)))
    assert name == "part-left-out"
    assert "This is what comes of it without moving the crown mark." in said
    assert "without a change of the shoulder" in feedback(asked, Plan(crown_forward=12))[1]
    name, said = feedback(asked, Plan(shoulder=Shoulder(forward=12), crown_forward=-12))
    assert name == "wrong-sign"
    assert "The cap seam, front has grown by 1.2 cm: that is the wrong way." in said
    name, said = feedback(asked, Plan(shoulder=Shoulder(forward=-12), crown_forward=-12))
    assert name == "wrong-sign"
    assert "every amount goes the wrong way" in said


def test_the_armhole_forgotten_where_the_sleeves_underarm_went_up() -> None:
    up, raised = SeamChange(up=14), Answer(lower=-14)
    right = Plan(seam_back=up, seam_front=up, back=raised, front=raised)
    asked = case(right, "underarm-seam-back", "underarm-seam-front", "armhole-back", "armhole-front")
    assert feedback(asked, Plan(seam_back=up, seam_front=up))[0] == "armhole-forgotten"
    assert feedback(asked, Plan(back=raised, front=raised))[0] == "part-left-out"
    half = SeamChange(up=7)
    assert feedback(asked, Plan(seam_back=half, seam_front=half, back=raised, front=raised))[0] == "per-side"


def test_gathers_without_height() -> None:
    slashes = (
        Slash("a", Share("cap-back", 0.8), Share("hem", 0.6), False, True),
        Slash("b", Share("cap-front", 0.2), Share("hem", 0.4), False, True),
    )
    right = Plan(slashes, (Opening("a", 24, share=0), Opening("b", 24, share=0)), cap_raise=30)
    asked = case(right, "cap-seam", "cap-height", "bicep-girth")
    name, said = feedback(asked, Plan(right.slashes, right.openings))
    assert name == "part-left-out"
    assert "without redrawing the top of the cap" in said
    assert feedback(asked, Plan(right.slashes, right.openings, cap_raise=-30))[0] == "wrong-sign"
    assert feedback(asked, Plan(right.slashes, right.openings, cap_raise=60))[0] == "per-side"


def test_an_armhole_that_goes_down_only_has_no_other_direction_to_forget() -> None:
    right = Plan(back=Answer(lower=12), front=Answer(lower=12))
    asked = case(right, "side-seam-back", "side-seam-front")
    assert feedback(asked, Plan(back=Answer(widen=12), front=Answer(widen=12)))[0] is None


def test_figures_of_a_turned_cap_the_other_way_round() -> None:
    # The front half of a cap turned forward by x measures x more; turned back instead, x less.
    asked = number("cap-seam-front", Plan(pitch=20), on=WHOLE)
    answer = START["cap-seam-front"] - 20
    found = [each for each in candidates(asked, Unit.CM) if each.mistake == "wrong-sign"]
    assert [each.value for each in found] == pytest.approx([answer])
    marked = mark_figure(asked, Unit.CM, answer)
    assert marked.mistake == "wrong-sign"
    assert "with the cap turned back" in " ".join(marked.feedback)


def test_figures_with_one_side_or_one_thing_left_out() -> None:
    edges = number("bicep-girth", EDGES, on=WHOLE)
    found = [
        each.mistake for each in candidates(edges, Unit.CM) if each.value == pytest.approx(START["bicep-girth"] + 12)
    ]
    assert not {"back-only", "front-only"} & set(found)
    both = number("cap-height", Plan(cap_raise=20, seam_back=SeamChange(up=9), seam_front=SeamChange(up=9)), on=WHOLE)
    marked = mark_figure(both, Unit.CM, START["cap-height"] + 20)
    assert marked.mistake == "part-left-out"
    assert "without a change of the underarm seams" in " ".join(marked.feedback)


def test_the_parts_of_a_plan() -> None:
    grain = Slash("grain", Landmark("crown"), Landmark("grain-hem"), False, True)
    opening = Opening("grain", 20, share=0)
    plan = Plan((grain,), (opening,), cap_raise=10, seam_back=SeamChange(5, hem=3), back=Answer(4, 4))
    found = list(parts(plan))
    assert [part.tells for part in found] == ["bicep-girth", "bicep-girth", "bicep-girth", "hem-girth", "cap-height"]
    assert found[0].scaled(2).openings[0].amount == 40
    assert found[0].scaled(2).back == Answer(8, 8)
    assert found[1].scaled(2) == plan.with_amounts(40)
    assert found[2].scaled(0).seam_back == SeamChange(hem=3)
    assert list(sides(plan)) == []
    assert list(parts(Plan())) == []
    assert whole(EDGES).turned() == "the edges in at the underarm point"
    assert len(list(parts(EDGES))) == 1
    assert [part.side for part in sides(EDGES)] == ["back", "front"]
