"""Every measure of geometry.md, worked out anew with svgpathtools and shapely or by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from blocks import armhole, half_cap, lopsided, pattern, sleeves, symmetric
from hypothesis import given, settings
from hypothesis import strategies as st
from svgpathtools import CubicBezier, Path

from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole
from tutor.pattern.measures import FOREARM, MEASURES, Kind, kind_of, measure, words_for
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Mark, Sleeve, level_of


def by_svgpathtools(curve: Curve) -> float:
    """A seam's length by svgpathtools, to about 1e-9 of it."""
    return float(Path(*(CubicBezier(*row) for row in curve.controls.tolist())).length(error=1e-11))


def by_shapely(sleeve: Sleeve, y: float) -> float:
    """The width at a level: shapely's cut of the densely drawn outline with a level line."""
    t = np.linspace(0, 1, 801)[:-1]
    weights = np.array([math.comb(3, k) * t**k * (1 - t) ** (3 - k) for k in range(4)])
    ring = np.concatenate([(curve.controls @ weights).ravel() for curve in sleeve.curves()])
    outline = shapely.Polygon(np.column_stack([ring.real, ring.imag]))
    low, _, high, _ = shapely.intersection(outline, shapely.LineString([(-1000, y), (1000, y)])).bounds
    return float(high - low)


def down_the_grain(sleeve: Sleeve) -> tuple[float, float]:
    """The y of the hem and of the cap where the grain line, made longer, cuts the densely drawn outline: shapely's."""
    t = np.linspace(0, 1, 801)
    weights = np.array([math.comb(3, k) * t**k * (1 - t) ** (3 - k) for k in range(4)])
    grain = shapely.LineString([(0, -2000), (0, 2000)])
    found = []
    for curve in (sleeve.hem, sleeve.cap_back, sleeve.cap_front):
        points = (curve.controls @ weights).ravel()
        met = shapely.intersection(shapely.LineString(np.column_stack([points.real, points.imag])), grain)
        found += [] if met.is_empty else [met.bounds[1], met.bounds[3]]
    return min(found), max(found)


def test_the_straight_measures_by_hand() -> None:
    found = measure(pattern(lopsided(176, 163, 142, 436, 112, 104)), arm_girth=300)
    assert found["bicep-girth"] == 339
    assert found["cap-height"] == 142
    assert found["hem-girth"] == 216
    assert found["wearing-ease"] == 39
    assert found["crown-shift"] == pytest.approx((176 - 163) / 2)
    assert found["grain-tilt"] == pytest.approx(0, abs=1e-12)
    assert found["underarm-seam-back"] == pytest.approx(math.hypot(176 - 112, 436))
    assert found["underarm-seam-front"] == pytest.approx(math.hypot(163 - 104, 436))
    assert found["underarm-mismatch"] == pytest.approx(math.hypot(59, 436) - math.hypot(64, 436))
    # The elbow lies 0.48 of the way down straight underarm seams: so does the width there.
    assert found["elbow-girth"] == pytest.approx(339 + 0.48 * (216 - 339))
    assert found["forearm-girth"] == pytest.approx(339 + (0.48 + 0.52 * FOREARM) * (216 - 339))
    assert found["taper"] == 339 - 216
    assert found["sleeve-length"] == pytest.approx(142 + 436)
    assert found["crown-to-elbow"] == pytest.approx(142 + 0.48 * 436)
    assert found["kink"] == pytest.approx(0, abs=1e-9)
    assert found["side-seam-front"] == pytest.approx(math.hypot(5, 190))
    assert found["side-mismatch"] == pytest.approx(0, abs=1e-9)


def test_seams_and_eases_by_svgpathtools() -> None:
    whole = pattern()
    assert whole.armhole_back is not None
    assert whole.armhole_front is not None
    found = measure(whole)
    seams = {"back": whole.sleeve.cap_back, "front": whole.sleeve.cap_front}
    holes = {"back": whole.armhole_back.seam, "front": whole.armhole_front.seam}
    for side in ("back", "front"):
        cap, hole = by_svgpathtools(seams[side]), by_svgpathtools(holes[side])
        assert found[f"cap-seam-{side}"] == pytest.approx(cap, rel=1e-9)
        assert found[f"armhole-{side}"] == pytest.approx(hole, rel=1e-9)
        assert found[f"cap-ease-{side}"] == pytest.approx(cap - hole, abs=1e-6)
    assert found["cap-seam"] == pytest.approx(sum(map(by_svgpathtools, seams.values())), rel=1e-9)
    assert found["armhole"] == pytest.approx(sum(map(by_svgpathtools, holes.values())), rel=1e-9)
    ease = found["cap-seam"] - found["armhole"]
    assert found["cap-ease"] == pytest.approx(ease)
    assert found["cap-ease-percent"] == pytest.approx(100 * ease / found["armhole"])
    assert found["ease-balance"] == pytest.approx(found["cap-ease-front"] - found["cap-ease-back"])


def test_an_s_cap_by_quadrature() -> None:
    # The S cap (0,H),(b/2,H),(b/2,0),(b,0) of b 170, H 140: 463.72777 for the whole seam.
    assert measure(Pattern(symmetric(170, 140)))["cap-seam"] == pytest.approx(463.72777, abs=5e-6)


def test_notches_by_svgpathtools() -> None:
    whole = pattern()
    found = measure(whole)
    for side in ("back", "front"):
        hole = whole.armhole(side)
        assert hole is not None
        for mark in hole.marks:
            on_sleeve = whole.sleeve.mark(mark.name)
            assert on_sleeve is not None
            up = half_cap(176 if side == "back" else 163, 142)
            cubic = CubicBezier(*up.controls[0].tolist())
            # The front cap seam runs down from the crown: from the underarm it is 1 - u.
            sleeve = cubic.length(0, on_sleeve.u if side == "back" else 1 - on_sleeve.u, error=1e-11)
            lower = CubicBezier(*hole.seam.controls[0].tolist()).length(0, mark.u, error=1e-11)
            name = f"notch-mismatch-{mark.name.removeprefix('notch-')}"
            assert found[name] == pytest.approx(sleeve - lower, abs=1e-6)


def test_a_notch_without_a_partner_is_not_measured() -> None:
    sleeve = lopsided()
    alone = Pattern(replace(sleeve, marks=(*sleeve.marks, Mark("notch-extra", "cap-back", 0.7))), armhole("back"))
    found = measure(alone)
    assert "notch-mismatch-extra" not in found
    assert "notch-mismatch-front" not in found
    assert "notch-mismatch-back-1" in found


def test_a_notch_of_any_name_is_measured_and_named() -> None:
    sleeve, hole = lopsided(), armhole("front")
    named = Pattern(
        replace(sleeve, marks=(*sleeve.marks, Mark("notch-low", "cap-front", 0.9))),
        armhole_front=replace(hole, marks=(*hole.marks, Mark("notch-low", "armhole", 0.2))),
    )
    found = measure(named)
    assert "notch-mismatch-low" in found
    assert words_for("notch-mismatch-low") == "notch low"
    assert kind_of("notch-mismatch-low") is Kind.LENGTH


def test_what_there_is_not_is_not_measured() -> None:
    bare = replace(lopsided(), marks=())
    found = measure(Pattern(bare))
    assert not {name for name in found if "armhole" in name or "ease" in name or "notch" in name or "side-" in name}
    assert "elbow-girth" not in found
    assert "wearing-ease" not in found
    assert set(found) <= set(MEASURES)


@given(sleeves())
@settings(max_examples=30)
def test_girths_by_shapely(sleeve: Sleeve) -> None:
    found = measure(Pattern(sleeve))
    elbow = level_of(sleeve, "elbow")
    assert elbow is not None
    hem = (sleeve.hem.start.imag + sleeve.hem.end.imag) / 2
    assert found["elbow-girth"] == pytest.approx(by_shapely(sleeve, elbow), abs=1e-2)
    assert found["forearm-girth"] == pytest.approx(by_shapely(sleeve, elbow + (hem - elbow) / 3), abs=1e-2)
    assert found["hem-girth"] == pytest.approx(abs((sleeve.hem.start - sleeve.hem.end).real), abs=1e-9)


@given(sleeves(), st.floats(-40, 40))
@settings(max_examples=30)
def test_lengths_along_the_grain_by_shapely(sleeve: Sleeve, aside: float) -> None:
    beside = sleeve.moved(Move(1, aside))
    placed = replace(beside, grain=(complex(0, sleeve.grain[0].imag), complex(0, sleeve.grain[1].imag)))
    found, elbow = measure(Pattern(placed)), level_of(sleeve, "elbow")
    hem, cap = down_the_grain(placed)
    assert elbow is not None
    assert found["sleeve-length"] == pytest.approx(cap - hem, abs=1e-2)
    assert found["crown-to-elbow"] == pytest.approx(cap - elbow, abs=1e-2)


@given(sleeves())
@settings(max_examples=40)
def test_height_and_shift_by_the_triangle(sleeve: Sleeve) -> None:
    # Heron's formula gives the height over the bicep line, and Pythagoras its foot.
    found = measure(Pattern(sleeve))
    a = abs(sleeve.crown - sleeve.underarm_point_back)
    b = abs(sleeve.crown - sleeve.underarm_point_front)
    c = abs(sleeve.underarm_point_front - sleeve.underarm_point_back)
    half = (a + b + c) / 2
    height = 2 * math.sqrt(half * (half - a) * (half - b) * (half - c)) / c
    assert found["bicep-girth"] == pytest.approx(c)
    assert found["cap-height"] == pytest.approx(height, rel=1e-9)
    assert found["crown-shift"] == pytest.approx((a * a - b * b) / (2 * c), abs=1e-8)


@given(sleeves(), st.floats(-3, 3), st.floats(-500, 500))
@settings(max_examples=40)
def test_measures_do_not_depend_on_where_the_sleeve_lies(sleeve: Sleeve, angle: float, shift: float) -> None:
    here = measure(Pattern(sleeve))
    there = measure(Pattern(sleeve.moved(Move.about(3 + 4j, angle, complex(shift, -shift))).framed()))
    assert there == pytest.approx(here, abs=1e-7)


@given(sleeves())
@settings(max_examples=40)
def test_mirrored_measures(sleeve: Sleeve) -> None:
    found, mirrored = measure(Pattern(sleeve)), measure(Pattern(sleeve.mirrored()))
    for name, value in found.items():
        if name in ("crown-shift", "grain-tilt", "underarm-mismatch"):
            assert mirrored[name] == pytest.approx(-value, abs=1e-7)
        else:
            swapped = name.replace("front", "?").replace("back", "front").replace("?", "back")
            assert mirrored[swapped] == pytest.approx(value, abs=1e-7)


def test_a_crown_towards_the_front_is_plus() -> None:
    # The back half is the wider one, so the middle of the bicep line lies behind the crown.
    assert measure(Pattern(lopsided(back=180, front=160)))["crown-shift"] == pytest.approx(10)
    assert measure(Pattern(lopsided(back=160, front=180)))["crown-shift"] == pytest.approx(-10)


@pytest.mark.parametrize("degrees", [-7.0, 0.0, 0.5, 12.0])
def test_a_grain_turned_anticlockwise_is_plus(degrees: float) -> None:
    sleeve = lopsided()
    turn = complex(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    tilted = replace(sleeve, grain=(100j * turn, -400j * turn))
    assert measure(Pattern(tilted))["grain-tilt"] == pytest.approx(degrees, abs=1e-9)
    # In its frame the grain stands and the bicep line leans: the angle between them is the same.
    assert measure(Pattern(tilted.framed()))["grain-tilt"] == pytest.approx(degrees, abs=1e-9)


def test_the_kink_is_the_sharpest_turn_of_the_cap() -> None:
    sleeve = symmetric()
    peak = Curve.bezier(-170, -100, -60 + 100j, 145j)
    pointed = replace(sleeve, cap_back=peak, cap_front=peak.mirrored().reversed())
    # The last handle rises by 45 in 60: the seam turns at the crown by twice that angle.
    assert measure(Pattern(pointed))["kink"] == pytest.approx(2 * math.degrees(math.atan2(45, 60)))
    bent = Curve.join([Curve.line(-170, -80 + 20j), Curve.bezier(-80 + 20j, -40 + 20j, -50 + 145j, 145j)])
    kinked = replace(sleeve, cap_back=bent, marks=())
    assert measure(Pattern(kinked))["kink"] == pytest.approx(math.degrees(math.atan2(20, 90)))
    short = replace(sleeve, cap_back=Curve.bezier(-170, -170, -85 + 145j, 145j), marks=())
    assert measure(Pattern(short))["kink"] == pytest.approx(0, abs=1e-6)


def test_the_order_and_the_words_of_measures() -> None:
    found = measure(pattern(), arm_girth=310)
    assert list(found) == [name for name in MEASURES if name in found]
    assert all(each.name == name for name, each in MEASURES.items())
    assert len({each.words for each in MEASURES.values()}) == len(MEASURES)


def test_side_seams_that_differ() -> None:
    longer = Curve.line(78, 73 - 200j)
    uneven = replace(pattern(), armhole_front=replace(armhole("front"), side_seam=longer))
    assert measure(uneven)["side-mismatch"] == pytest.approx(math.hypot(5, 200) - math.hypot(5, 190))


# What is no sleeve or armhole.


def test_seams_that_do_not_close() -> None:
    for k in range(5):
        a, b, c, d, e = (
            curve.moved(Move(1, 1e-3)) if k == number else curve for number, curve in enumerate(lopsided().curves())
        )
        with pytest.raises(ValueError, match="does not end where"):
            Sleeve(a, b, c, d, e)


@pytest.mark.parametrize("mark", [Mark("m", "collar", 0.5), Mark("m", "hem", -0.1), Mark("m", "hem", 1.1)])
def test_marks_on_no_seam(mark: Mark) -> None:
    with pytest.raises(ValueError, match="is not on the seam"):
        replace(lopsided(), marks=(mark,))


def test_what_is_no_armhole() -> None:
    hole = armhole("back")
    with pytest.raises(ValueError, match="does not start at the underarm point"):
        replace(hole, side_seam=Curve.line(0, -10j))
    for across in (0.0, 2.1, math.nan):
        with pytest.raises(ValueError, match="across-back point"):
            replace(hole, across=across)
    with pytest.raises(ValueError, match="a notch is not on"):
        Armhole("back", hole.seam, 1.0, marks=(Mark("n", "armhole", 3),))
