"""Truing: what is carried and what stays, smooth joints, marks on their seams, and the taper rows by Pythagoras."""

from __future__ import annotations

import math

import numpy as np
import pytest
from blocks import crossed, half_cap, lopsided, pattern, sleeves, sound_plans, symmetric, tried
from hypothesis import assume, given, settings

from tutor.alteration.alter import Altered, alter
from tutor.alteration.cutting import CutPaper, cut_paper
from tutor.alteration.outline import whole
from tutor.alteration.plan import Landmark, Opening, Plan, Share, Slash
from tutor.alteration.refusal import Refusal
from tutor.alteration.solving import Solution, solve
from tutor.alteration.truing import Trued, true
from tutor.geometry.curve import Curve
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Sleeve

CROWN, HEM = Landmark("crown"), Landmark("grain-hem")


def trued(sleeve: Sleeve, plan: Plan) -> tuple[CutPaper, Solution, Trued]:
    outline = whole(sleeve)
    paper = cut_paper(outline, plan.slashes)
    solution = solve(paper, plan.openings, (0, -200))
    return paper, solution, true(outline, paper.arcs, solution.moves)


def turns(curve: Curve) -> float:
    """The sharpest turn at an inner joint in degrees, by the control points (no handle is of length zero here)."""
    arriving = curve.controls[:-1, 3] - curve.controls[:-1, 2]
    leaving = curve.controls[1:, 1] - curve.controls[1:, 0]
    return float(np.degrees(np.abs(np.angle(leaving / arriving))).max(initial=0))


def lengthened(amount: float) -> Plan:
    across = Slash("elbow", Landmark("elbow-back"), Landmark("elbow-front"))
    return Plan((across,), (Opening("elbow", amount, share=0), Opening("elbow", amount, share=1)))


def wedge(amount: float) -> Plan:
    return Plan((Slash("grain", CROWN, HEM, False, True),), (Opening("grain", amount, share=0),))


@pytest.mark.parametrize("amount", [30.0, -30.0, 10.0])
def test_a_seam_on_a_taper(amount: float) -> None:
    # Pythagoras: 450 long, 60 across: 453.98; lengthened by 30: + 29.75.
    sleeve = lopsided(170, 170, 140, 450, 110, 110)
    altered = alter(Pattern(sleeve), lengthened(amount))
    before, after = altered.measures_before, altered.measures_after
    assert before["underarm-seam-front"] == pytest.approx(453.98, abs=5e-3)
    assert altered.as_cut["underarm-seam-front"] == pytest.approx(before["underarm-seam-front"], abs=1e-9)
    new = altered.after.sleeve
    straight = abs(new.underarm_point_front - new.hem.start)
    assert straight == pytest.approx(math.hypot(60, 450 + amount), abs=1e-9)
    if amount == 30:
        assert straight - before["underarm-seam-front"] == pytest.approx(29.75, abs=5e-3)
    # Two stretches of it lie as they were, so the trued seam is a little longer than one straight line.
    for side in ("front", "back"):
        assert straight <= after[f"underarm-seam-{side}"] <= straight + 0.1
    assert after["underarm-mismatch"] == pytest.approx(0, abs=1e-9)


def test_nothing_opened_changes_nothing() -> None:
    sleeve = lopsided()
    for plan in (crossed(0), crossed(0, 0), wedge(0), lengthened(0), Plan()):
        _, _, result = trued(sleeve, plan)
        for name in SEAMS:
            assert result.seams[name].length() == pytest.approx(sleeve.seam(name).length(), abs=1e-9)
            for u in np.linspace(0, len(result.seams[name]), 9).tolist():
                assert sleeve.seam(name).nearest(result.seams[name].point(u))[1] < 1e-9
        for mark, old in zip(result.marks, sleeve.marks, strict=True):
            assert result.seams[mark.seam].point(mark.u) == pytest.approx(sleeve.mark_point(old), abs=1e-9)


@pytest.mark.parametrize("amount", [12.0, -12.0, 60.0])
def test_parted_edges_meet_half_way(amount: float) -> None:
    sleeve = lopsided()
    paper, solution, result = trued(sleeve, wedge(amount))
    ends = [solution.moves[arc.piece](arc.curve.end) for arc in paper.arcs if arc.seam == 0]
    starts = [solution.moves[arc.piece](arc.curve.start) for arc in paper.arcs if arc.seam == 1]
    assert abs(ends[-1] - starts[0]) == pytest.approx(abs(amount), abs=1e-9)
    assert result.seams["cap-back"].end == pytest.approx((ends[-1] + starts[0]) / 2, abs=1e-9)
    assert result.seams["cap-front"].start == pytest.approx(result.seams["cap-back"].end, abs=1e-9)


@pytest.mark.parametrize("plan", [wedge(30), wedge(-20), crossed(30), crossed(30, 12), lengthened(25)])
def test_far_from_the_joints_the_seam_is_the_paper(plan: Plan) -> None:
    # Blend points lie about 60 mm, or four times the carry, from a joint: well beyond that all is rigid.
    sleeve = lopsided(220, 210, 180, 500)
    paper, solution, result = trued(sleeve, plan)
    for k, arc in enumerate(paper.arcs):
        before, after = paper.arcs[k - 1], paper.arcs[(k + 1) % len(paper.arcs)]
        length = arc.curve.length()
        reach = 1.7 * max(60.0, *(4 * abs(opening.amount) for opening in plan.openings))
        first = 0.0 if before.piece == arc.piece else reach
        last = length if after.piece == arc.piece else length - reach
        for distance in np.linspace(0, length, 25).tolist():
            if first <= distance <= last:
                point = solution.moves[arc.piece](arc.curve.point(arc.curve.at_distance(distance)))
                assert result.seams[SEAMS[arc.seam]].nearest(point)[1] < 1e-6


@given(sleeves(), sound_plans())
@settings(max_examples=80)
def test_smooth_seams_stay_smooth_and_corners_corners(sleeve: Sleeve, plan: Plan) -> None:
    found = tried(lambda: trued(sleeve, plan))
    assume(not isinstance(found, Refusal))
    assert not isinstance(found, Refusal)
    _, _, result = found
    assert tuple(result.seams) == SEAMS
    for name, following in zip(SEAMS, (*SEAMS[1:], SEAMS[0]), strict=True):
        seam, after = result.seams[name], result.seams[following]
        assert np.isfinite(seam.controls).all()
        assert abs(seam.end - after.start) < 1e-9
        assert turns(seam) < 1e-3
    crown = result.seams["cap-front"].tangent(0) / result.seams["cap-back"].tangent(
        len(result.seams["cap-back"]), arriving=True
    )
    assert math.degrees(abs(np.angle(crown))) < 1e-3


@given(sleeves(), sound_plans())
@settings(max_examples=80)
def test_marks_keep_their_seam_and_their_order(sleeve: Sleeve, plan: Plan) -> None:
    found = tried(lambda: trued(sleeve, plan))
    assume(not isinstance(found, Refusal))
    assert not isinstance(found, Refusal)
    _, _, result = found
    assert [(mark.name, mark.seam) for mark in result.marks] == [(mark.name, mark.seam) for mark in sleeve.marks]
    for name in SEAMS:
        places = [m.u for m in sleeve.marks if m.seam == name], [m.u for m in result.marks if m.seam == name]
        assert np.argsort(places[0]).tolist() == np.argsort(places[1]).tolist()
        assert all(0 <= u <= len(result.seams[name]) for u in places[1])


def test_marks_go_with_their_piece() -> None:
    # A wedge from crown to hem carries the elbow's ends and the notches rigidly: all are far from crown and hem.
    sleeve = lopsided(200, 190, 170, 500)
    paper, solution, result = trued(sleeve, wedge(10))
    pieces = {arc.seam: arc.piece for arc in paper.arcs}
    for old, new in zip(sleeve.marks, result.marks, strict=True):
        move = solution.moves[pieces[SEAMS.index(old.seam)]]
        assert result.seams[new.seam].point(new.u) == pytest.approx(move(sleeve.mark_point(old)), abs=1e-9)


@pytest.mark.parametrize("plan", [crossed(30), crossed(45, 20), wedge(40), lengthened(20)])
def test_both_lengths_are_reported(plan: Plan) -> None:
    altered = alter(pattern(), plan)
    for name in ("cap-seam", "cap-seam-back", "cap-seam-front", "underarm-seam-back", "underarm-seam-front"):
        assert altered.as_cut[name] == pytest.approx(altered.measures_before[name], abs=1e-9)
        # A smooth curve across a gap is as long as the gap at most, and what the edges turn.
        assert abs(altered.measures_after[name] - altered.as_cut[name]) < 60
    assert altered.measures_after["kink"] < 1


def test_crossed_slashes_leave_the_cap_seam_as_long_as_it_was() -> None:
    # geometry.md, plan 1: cap seam exactly kept as cut; trued it may differ by the smoothing at the crown alone.
    altered = alter(Pattern(symmetric()), crossed(30))
    assert altered.as_cut["cap-seam"] == pytest.approx(2 * half_cap(170, 145).length(), abs=1e-9)
    assert altered.measures_after["cap-seam"] == pytest.approx(altered.as_cut["cap-seam"], abs=2)
    assert altered.measures_after["kink"] < 1e-6


def test_a_parted_crown_adds_about_its_gap() -> None:
    # geometry.md, plan 2: the cap seam gains about g.
    for gap in (5.0, 10.0, 15.0):
        open_crown: Altered = alter(Pattern(symmetric()), crossed(30, gap))
        closed = alter(Pattern(symmetric()), crossed(30))
        gain = open_crown.measures_after["cap-seam"] - closed.measures_after["cap-seam"]
        assert gain == pytest.approx(gap, rel=0.25)


def test_a_slash_beside_a_corner_keeps_the_corner() -> None:
    # From just beside the underarm point: the corner between cap and underarm seam was there, and stays.
    sleeve = lopsided()
    plan = Plan(
        (Slash("low", Landmark("underarm-back"), Share("underarm-front", 0.3), False, True),),
        (Opening("low", 15, share=0),),
    )
    _, _, result = trued(sleeve, plan)
    cap, under = result.seams["cap-back"], result.seams["underarm-back"]
    corner = np.angle(cap.tangent(0) / under.tangent(len(under), arriving=True))
    assert abs(math.degrees(float(corner))) > 45
