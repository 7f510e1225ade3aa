"""The slash plans that lessons are about, each held to plane geometry: elbow wedge, length, gathers, flare, overlap."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from blocks import lopsided, pattern, symmetric
from hypothesis import given, settings
from hypothesis import strategies as st
from test_altering import check_sound

from tutor.alteration.alter import Altered, alter
from tutor.alteration.plan import Landmark, Opening, Place, Plan, Share, Slash
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve

CROWN, HEM = Landmark("crown"), Landmark("grain-hem")
ELBOW = Slash("elbow", Landmark("elbow-back"), Landmark("elbow-front"), False, True)


def changes(altered: Altered) -> dict[str, float]:
    before, after = measure(altered.before), measure(altered.after)
    return {name: after[name] - before[name] for name in after}


def across(name: str, down: float) -> Slash:
    """A slash straight across, a share of the way down both underarm seams, cut through."""
    return Slash(name, Share("underarm-back", 1 - down), Share("underarm-front", down))


# The bent arm: a wedge at the elbow.


def test_a_wedge_at_the_elbow_swings_the_forearm_forward() -> None:
    # Plane geometry: a wedge w on l turns what hangs on it by 2 asin(w / 2l); the bicep line and the cap don't move.
    altered = alter(pattern(), Plan((ELBOW,), (Opening("elbow", 30, share=0),)))
    girth = altered.measures_before["elbow-girth"]
    found = changes(altered)
    assert found["hem-tilt"] == pytest.approx(math.degrees(2 * math.asin(30 / (2 * girth))), abs=1e-9)
    for name in ("bicep-girth", "cap-height", "cap-seam", "grain-tilt", "crown-shift"):
        assert found[name] == pytest.approx(0, abs=1e-9)
    hem = altered.after.sleeve.hem
    was = altered.before.sleeve.hem
    assert ((hem.start + hem.end) / 2).real > ((was.start + was.end) / 2).real


def test_the_extra_of_the_back_seam_is_the_wedge() -> None:
    # What the back underarm seam is longer by is the width of the wedge, to be put into a dart or eased in.
    altered = alter(pattern(), Plan((ELBOW,), (Opening("elbow", 25, share=0),)))
    found = changes(altered)
    assert found["underarm-seam-back"] == pytest.approx(25, abs=0.5)
    assert found["underarm-seam-front"] == pytest.approx(0, abs=0.05)
    assert found["underarm-mismatch"] == pytest.approx(-25, abs=0.5)
    assert found["hem-seam"] == pytest.approx(0, abs=1e-9)
    assert altered.as_cut["underarm-seam-back"] == pytest.approx(altered.measures_before["underarm-seam-back"])


@given(st.floats(-20, 45).filter(lambda w: abs(w) > 0.1))
@settings(max_examples=25)
def test_elbow_wedges_of_any_width(width: float) -> None:
    altered = alter(pattern(), Plan((ELBOW,), (Opening("elbow", width, share=0),)))
    check_sound(altered)
    girth = altered.measures_before["elbow-girth"]
    assert changes(altered)["hem-tilt"] == pytest.approx(math.degrees(2 * math.asin(width / (2 * girth))), abs=1e-9)


# Longer and shorter.


@pytest.mark.parametrize("down", [0.2, 0.3, 0.7, 0.85])
def test_a_tapered_seam_gains_a_little_less_than_the_opening(down: float) -> None:
    # References: a seam 450 long, 60 across, lengthened by 30, gains 29.75 (Pythagoras). Drawn smooth, not with a
    # ruler from end to end, it is longer than that by a trace.
    altered = alter(Pattern(symmetric(170, 140, 450, 110)), Plan((across("a", down),), (Opening("a", 30),)))
    found = changes(altered)
    gain = math.hypot(480, 60) - math.hypot(450, 60)
    assert gain == pytest.approx(29.75, abs=5e-3)
    for side in ("back", "front"):
        assert gain <= found[f"underarm-seam-{side}"] < 30
        assert found[f"underarm-seam-{side}"] == pytest.approx(gain, abs=0.1)
    assert found["sleeve-length"] == pytest.approx(30, abs=1e-9)
    for name in ("bicep-girth", "hem-girth", "cap-height", "cap-seam", "underarm-mismatch"):
        assert found[name] == pytest.approx(0, abs=1e-9)


def test_the_elbow_stays_at_the_elbow_when_length_is_shared() -> None:
    above, below = across("above", 0.25), across("below", 0.75)
    found = changes(alter(pattern(), Plan((above, below), (Opening("above", 20), Opening("below", -12)))))
    assert found["crown-to-elbow"] == pytest.approx(20, abs=1e-9)
    assert found["sleeve-length"] == pytest.approx(8, abs=1e-9)
    assert found["elbow-girth"] == pytest.approx(0, abs=1e-9)


# Gathers and flare: several slashes.


def spread(sleeve: Sleeve, count: int) -> list[tuple[Place, Place]]:
    """So many lines straight down from the middle of the cap to the hem, the middle one on the grain."""
    cap = sleeve.cap_back.length(), sleeve.cap_front.length()
    places: list[tuple[Place, Place]] = []
    for k in range(count):
        x = (k - (count - 1) / 2) * 60 / count
        if x == 0:
            places.append((CROWN, HEM))
            continue
        seam, curve = ("cap-back", sleeve.cap_back) if x < 0 else ("cap-front", sleeve.cap_front)
        top = min(u for _, u in curve.line_crossings(complex(x, 0), complex(x, 1)))
        low = min(u for _, u in sleeve.hem.line_crossings(complex(x, 0), complex(x, 1)))
        share = curve.distance_at(top) / cap[seam == "cap-front"]
        places.append((Share(seam, share), Share("hem", sleeve.hem.distance_at(low) / sleeve.hem.length())))
    return places


def spread_plan(sleeve: Sleeve, count: int, each: float, *, at_hem: bool) -> Plan:
    """Slashes hinged at the hem and opened at the cap, or the reverse."""
    lines = spread(sleeve, count)
    slashes = tuple(Slash(f"s{k}", a, b, not at_hem, at_hem) for k, (a, b) in enumerate(lines))
    openings = tuple(Opening(f"s{k}", each, share=0.0 if at_hem else 1.0) for k in range(count))
    return Plan(slashes, openings)


@pytest.mark.parametrize("count", [1, 3, 5])
def test_a_gathered_cap_gains_every_opening_and_keeps_its_hem(count: int) -> None:
    # n slashes hinged at the hem: n openings at the cap; at the bicep line each is w l / S (similar triangles).
    altered = alter(pattern(symmetric()), spread_plan(symmetric(), count, 16, at_hem=True))
    check_sound(altered)
    found = changes(altered)
    # The cap is trued in one curve over what parted, and so gains a trace less than the openings.
    assert 0.93 * 16 * count < found["cap-seam"] < 16 * count
    assert found["hem-seam"] == pytest.approx(0, abs=0.02)
    assert found["bicep-girth"] == pytest.approx(16 * count * 430 / 575, rel=0.03)
    assert altered.measures_after["grain-tilt"] == pytest.approx(0, abs=0.05)
    assert altered.measures_after["ease-balance"] == pytest.approx(altered.measures_before["ease-balance"], abs=0.1)


def test_width_without_height_falls_flat_and_height_is_added_on_top() -> None:
    flat = spread_plan(symmetric(), 5, 16, at_hem=True)
    wide = changes(alter(pattern(symmetric()), flat))
    puffed = changes(alter(pattern(symmetric()), replace(flat, cap_raise=25)))
    assert wide["cap-height"] < 0.2 * wide["cap-seam"]
    assert puffed["cap-height"] - wide["cap-height"] == pytest.approx(25, abs=0.1)
    assert puffed["bicep-girth"] == pytest.approx(wide["bicep-girth"], abs=1e-9)
    assert puffed["hem-seam"] == pytest.approx(wide["hem-seam"], abs=1e-9)


@pytest.mark.parametrize("count", [1, 3, 5])
def test_a_flared_hem_is_drawn_in_one_curve(count: int) -> None:
    # Hinged at the cap: the cap seam stays, the hem gains every opening, the bicep line w H / S of each (similar
    # triangles; curriculum, lesson 23); a hem drawn straight across the parted pieces would have corners.
    altered = alter(pattern(symmetric()), spread_plan(symmetric(), count, 24, at_hem=False))
    check_sound(altered)
    found = changes(altered)
    assert found["cap-seam"] == pytest.approx(0, abs=0.3)
    assert found["hem-seam"] == pytest.approx(24 * count, rel=0.02)
    assert found["bicep-girth"] == pytest.approx(24 * count * 145 / 575, rel=0.12)
    hem = altered.after.sleeve.hem
    assert np.degrees(np.abs(hem.turns_at_joints())).max() < 0.01
    middle = hem.point(hem.nearest(complex(0, -1000))[0])
    assert middle.imag < min(hem.start.imag, hem.end.imag)


def test_gathers_at_the_cap_and_flare_at_the_hem_mirror_each_other() -> None:
    # The same opening at the other end: bicep line by l / S in the one, by H / S in the other (similar triangles).
    gathered = changes(alter(pattern(symmetric()), spread_plan(symmetric(), 1, 20, at_hem=True)))["bicep-girth"]
    flared = changes(alter(pattern(symmetric()), spread_plan(symmetric(), 1, 20, at_hem=False)))["bicep-girth"]
    assert flared / gathered == pytest.approx(145 / 430, rel=0.05)


# Less: overlap.


def test_an_overlap_takes_out_just_its_width() -> None:
    grain = Slash("grain", CROWN, HEM)
    altered = alter(pattern(symmetric()), Plan((grain,), (Opening("grain", -14),)))
    found = changes(altered)
    for name in ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth", "hem-seam"):
        assert found[name] == pytest.approx(-14, abs=1e-9)
    assert altered.areas[0] == pytest.approx(14 * 575, rel=5e-3)


@pytest.mark.parametrize(("level", "share"), [("bicep-girth", 145 / 575), ("hem-girth", 1.0)])
def test_an_overlapped_wedge_takes_out_more_the_farther_from_its_hinge(level: str, share: float) -> None:
    # Width at a level is the opening times its distance from the hinge over the length (similar triangles).
    grain = Slash("grain", CROWN, HEM, True, False)
    found = changes(alter(pattern(symmetric()), Plan((grain,), (Opening("grain", -20, share=1),))))
    assert found[level] == pytest.approx(-20 * share, abs=0.2)
    assert found["cap-seam"] == pytest.approx(0, abs=0.1)


# The cap higher by a slash across it.


@pytest.mark.parametrize("by", [-12.0, 8.0, 15.0])
def test_a_slash_across_the_cap_raises_it_as_redrawing_does(by: float) -> None:
    slash = Slash("across", Share("cap-back", 0.72), Share("cap-front", 0.28))
    sleeve = lopsided(170, 170, 140)
    cut = changes(alter(Pattern(sleeve), Plan((slash,), (Opening("across", by),))))
    drawn = changes(alter(Pattern(sleeve), Plan(cap_raise=by)))
    assert cut["cap-height"] == pytest.approx(by, abs=1e-9)
    assert cut["bicep-girth"] == pytest.approx(0, abs=1e-9)
    assert cut["cap-seam"] == pytest.approx(drawn["cap-seam"], rel=0.12)
