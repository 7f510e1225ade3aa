"""The pattern as a scene: what is drawn, and where, against constructions with ruler and compasses."""

import math

import numpy as np
import pytest

from tutor.alteration.alter import Altered, alter
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Plan, Slash
from tutor.geometry.curve import Curve
from tutor.geometry.region import area
from tutor.pattern.cap_walk import CapWalk
from tutor.pattern.drafting.armhole import draft_armhole
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Mark, Sleeve
from tutor.picture.looks import Look, Role, Sign
from tutor.picture.scene import Scene
from tutor.picture.sheet import Armholes, Pointing, View, cap_bounds, scene_of, slash_lines, underarm_bounds
from tutor.picture.walk import walk_bounds, walk_scene
from tutor.units import Unit

WIDTH, CAP, LENGTH, HEM = 170.0, 145.0, 430.0, 100.0


def block() -> Pattern:
    """A symmetric sleeve: girth 340, cap height 145, hem 430 below the bicep line, 200 wide; with armholes."""
    back = Curve.bezier(-WIDTH, -WIDTH / 2, complex(-WIDTH / 2, CAP), complex(0, CAP))
    hem_front, hem_back = complex(HEM, -LENGTH), complex(-HEM, -LENGTH)
    sleeve = Sleeve(
        back,
        back.mirrored().reversed(),
        Curve.line(WIDTH, hem_front),
        Curve.line(hem_front, hem_back),
        Curve.line(hem_back, -WIDTH),
        (
            Mark("notch-front", "cap-front", 0.6),
            Mark("elbow-front", "underarm-front", 0.5),
            Mark("elbow-back", "underarm-back", 0.5),
        ),
        (100j, -400j),
    )
    return Pattern(sleeve, draft_armhole("back", 225), draft_armhole("front", 215))


GRAIN = Slash("grain", Landmark("crown"), Landmark("grain-hem"), True, True)
BICEP = Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True)


def crossed(amount: float) -> Plan:
    return Plan((GRAIN, BICEP), (Opening("grain", amount, where="bicep", toward="end"),))


@pytest.fixture(scope="module")
def widened() -> Altered:
    return alter(block(), crossed(30))


def at(scene: Scene, sign: Sign) -> list[complex]:
    return [mark.at for mark in scene.marks if mark.sign is sign]


def lines(scene: Scene, look: Look) -> list[np.ndarray]:
    return [stroke.points for stroke in scene.strokes if stroke.look is look]


def test_uncut_paper_is_one_unbroken_line_with_its_guides() -> None:
    scene = scene_of(block())
    assert scene.roles() == {Look.AFTER, Look.GUIDE, Sign.UNDERARM, Sign.CROWN, Sign.NOTCH, Sign.GRAIN}
    # The grain is x = 0, and its sign stands inside the paper; the two sides are named where the seams begin.
    (grain,) = at(scene, Sign.GRAIN)
    assert grain.real == 0
    assert -LENGTH < grain.imag < 0
    sides = {mark.label: mark.at for mark in scene.marks if mark.sign is Sign.UNDERARM}
    assert sides == {"back": -WIDTH, "front": WIDTH}
    assert at(scene, Sign.CROWN) == [complex(0, CAP)]
    assert at(scene, Sign.UNDERARM) == [-WIDTH, WIDTH]
    # The elbow line lies half way down straight underarm seams: as wide as the mean of bicep and hem.
    levels = [line for line in lines(scene, Look.GUIDE) if line[0].imag == line[1].imag]
    widths = {round(line[0].imag, 6): abs(line[1] - line[0]) for line in levels}
    assert widths == pytest.approx({0.0: 2 * WIDTH, -LENGTH / 2: WIDTH + HEM})


def test_slashes_are_drawn_on_uncut_paper_before_anything_opens() -> None:
    scene = scene_of(block(), plan=crossed(0))
    assert {tuple(line) for line in lines(scene, Look.SLASH)} == {
        (complex(0, CAP), complex(0, -LENGTH)),
        (-WIDTH, WIDTH),
    }
    assert [mark.label for mark in scene.marks if mark.sign is Sign.HINGE] == ["grain", "", "bicep", ""]


def test_before_and_after_lie_over_each_other(widened: Altered) -> None:
    scene = scene_of(block(), widened)
    (before,), (after,) = lines(scene, Look.BEFORE), lines(scene, Look.AFTER)
    assert before.imag.max() == CAP
    # geometry's closed form for crossed slashes, crown closed: circles about the new underarm points.
    turn = math.asin(30 / (2 * LENGTH))
    under = complex(WIDTH, LENGTH) * complex(math.cos(turn), math.sin(-turn)) - 1j * LENGTH
    height = math.sqrt(WIDTH**2 + CAP**2 - under.real**2)
    assert after.imag.max() == pytest.approx(height, abs=1e-6)
    assert np.abs(after.real).max() == pytest.approx(under.real, abs=1e-6)


def test_the_overlay_can_be_taken_off(widened: Altered) -> None:
    shown = scene_of(block(), widened, view=View(before=False)).roles()
    assert shown == scene_of(block(), widened).roles() - {Look.BEFORE}


def test_gaps_and_overlaps_are_where_paper_is_missing_and_double(widened: Altered) -> None:
    scene = scene_of(block(), widened)
    patches = {look: [p for p in scene.patches if p.look is look] for look in (Look.GAP, Look.OVERLAP)}
    gap = sum(area(ring) for patch in patches[Look.GAP] for ring in patch.rings)
    overlap = sum(area(ring) for patch in patches[Look.OVERLAP] for ring in patch.rings)
    # Paper neither grows nor shrinks: the new outline holds the old area, less what lies double, and the gaps. Only
    # truing, which moves the seams by a few mm at their joints, adds or takes a little.
    old, new = (area(sleeve.outline()) for sleeve in (block().sleeve, widened.after.sleeve))
    assert new - old == pytest.approx(gap - overlap, abs=100)
    assert gap > 1000
    assert overlap > 1000


def test_hinges_stay_where_the_paper_holds(widened: Altered) -> None:
    scene = scene_of(block(), widened)
    sleeve = widened.after.sleeve
    held = at(scene, Sign.HINGE)
    for point in (sleeve.crown, sleeve.underarm_point_back, sleeve.underarm_point_front):
        assert min(abs(point - hinge) for hinge in held) < 1e-6
    assert at(scene, Sign.OPENING)[0].real == pytest.approx(0, abs=1e-9)


def test_amounts_are_written_in_the_unit_asked_for(widened: Altered) -> None:
    labels = {
        unit: [m.label for m in scene_of(block(), widened, unit=unit).marks if m.sign is Sign.OPENING]
        for unit in (Unit.CM, Unit.INCH, None)
    }
    assert labels == {Unit.CM: ["+3.0 cm"], Unit.INCH: ["+1 3/16 in"], None: [""]}


def test_pieces_are_shown_apart_without_covering_each_other(widened: Altered) -> None:
    scene = scene_of(block(), widened, view=View(apart=True))
    rings = lines(scene, Look.PIECE)
    assert len(rings) == 4
    # Paper neither grows nor shrinks: pulled apart, the pieces have the area of the uncut sleeve.
    assert sum(area(ring[:-1]) for ring in rings) == pytest.approx(area(block().sleeve.outline()), rel=1e-3)
    upper = min(ring.imag.min() for ring in rings if ring.imag.max() > 50)
    lower = max(ring.imag.max() for ring in rings if ring.imag.max() < 50)
    assert upper > lower


def test_a_set_back_cap_keeps_its_cut_edge() -> None:
    slash = Slash("grain", Landmark("grain-bicep"), Landmark("grain-hem"), False, True)
    altered = alter(block(), Plan((slash,), (Opening("grain", 30, share=0),), set_back=True))
    scene = scene_of(block(), altered)
    edge = next(line for line in lines(scene, Look.SLASH) if abs(line[0].imag - line[1].imag) < 1e-6)
    assert abs(edge[1] - edge[0]) == pytest.approx(2 * WIDTH)
    assert len(at(scene, Sign.THROUGH)) == 1


def test_armholes_stand_beside_the_cap_and_show_their_answer() -> None:
    plan = Plan(back=Answer(8, 10), front=Answer(8, 10))
    scene = scene_of(block(), alter(block(), plan), view=View(armholes=Armholes.BESIDE))
    sleeve = scene_of(block()).bounds()
    now, was = lines(scene, Look.ARMHOLE), lines(scene, Look.BEFORE)
    assert len(now) == len(was) == 4
    for line in (*now, *was):
        assert line.real.max() < sleeve.low.real or line.real.min() > sleeve.high.real
    # Underarm points: as before on the bicep line, now lowered by 10.
    assert sorted({round(line[0].imag, 6) for line in was}) == [0]
    assert sorted({round(line[0].imag, 6) for line in now}) == [-10]
    assert len(at(scene, Sign.UNDERARM)) == 4


def test_armholes_by_themselves_lie_side_seam_to_side_seam() -> None:
    scene = scene_of(block(), view=View(armholes=Armholes.ALONE))
    back, front = (at(scene, Sign.UNDERARM)[k] for k in (0, 1))
    assert (front - back).imag == pytest.approx(0)
    assert 0 < (front - back).real < 100
    assert lines(scene, Look.AFTER) == []
    # The pieces lie outwards of their side seams, as they do on the body.
    tips = at(scene, Sign.CROWN)
    assert tips[0].real < back.real < front.real < tips[1].real


def test_what_is_pointed_at_is_seen() -> None:
    pointing = Pointing(marker=5j, candidate=(0j, 100 + 0j), refused=3 + 3j)
    scene = scene_of(block(), pointing=pointing)
    assert at(scene, Sign.MARKER) == [5j]
    assert at(scene, Sign.REFUSED) == [3 + 3j]
    assert [list(line) for line in lines(scene, Look.CANDIDATE)] == [[0, 100]]
    everything: set[Role] = {Sign.MARKER, Sign.REFUSED, Look.CANDIDATE}
    assert everything <= scene.roles()


def test_slashes_that_end_on_others_are_found_whatever_their_order() -> None:
    branch = Slash("branch", OnSlash("grain", 0.5), Along("underarm-front", 100))
    lost = Slash("lost", Landmark("nowhere"), At(0j))
    found = slash_lines(block().sleeve, Plan((branch, lost, GRAIN)))
    assert set(found) == {"branch", "grain"}
    assert found["branch"][0] == pytest.approx(complex(0, (CAP - LENGTH) / 2))
    assert abs(found["branch"][1] - WIDTH) == pytest.approx(100)


def test_closer_looks_hold_what_they_are_named_for() -> None:
    cap = cap_bounds(block().sleeve, 50)
    assert (cap.low, cap.high) == (complex(-WIDTH, -50), complex(WIDTH, CAP))
    for side, x in (("back", -WIDTH), ("front", WIDTH)):
        assert underarm_bounds(block().sleeve, side).centre == x


# The cap walked round the armhole.


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_cap_rolls_without_sliding(side: str) -> None:
    pattern = block()
    armhole = pattern.armhole(side)
    assert armhole is not None
    walk = CapWalk.of(pattern.sleeve, armhole)
    for share in (0.0, 0.2, 0.55, 0.9, 1.0):
        far = share * walk.most
        cap = walk.cap.moved(walk.rolled(far))
        here, there = cap.at_distance(far), armhole.seam.at_distance(far)
        # As much of the cap as of the armhole has been used up, they touch, and neither crosses the other there.
        assert abs(cap.point(here) - armhole.seam.point(there)) < 1e-6
        assert abs(cap.tangent(here) - armhole.seam.tangent(there)) < 1e-6
    assert sum(stretch.ease for stretch in walk.stretches) == pytest.approx(
        pattern.sleeve.seam(f"cap-{side}").length() - armhole.seam.length(), abs=1e-6
    )


def test_the_walk_stops_at_the_notches_of_both() -> None:
    pattern = block()
    front = pattern.armhole_front
    assert front is not None
    walk = CapWalk.of(pattern.sleeve, front)
    (cap_notch,) = walk.cap_notches
    (hole_notch,) = walk.armhole_notches
    # The armhole's notch lies a third of the way up (drafting); the cap's at u = 0.6 of a single cubic.
    assert hole_notch[1] == pytest.approx(215 / 3)
    assert cap_notch[1] == pytest.approx(pattern.sleeve.cap_front.part(0.6, 1).length())
    assert walk.stops == pytest.approx([0, *sorted((cap_notch[1], hole_notch[1])), walk.most])
    low, high = walk_bounds(walk).low, walk_bounds(walk).high
    for stop in walk.stops:
        for stroke in walk_scene(walk, stop).strokes:
            assert stroke.points.real.min() >= low.real - 40
            assert stroke.points.real.max() <= high.real + 40
