"""Paper cut along slashes: the pieces against shapely's polygonize, and all that paper can't be cut by refused."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from blocks import lopsided, sleeves, sound_plans, symmetric, tried, wild_plans
from hypothesis import assume, given, settings
from numpy.typing import NDArray

from tutor.alteration.cutting import CutPaper, cut_paper
from tutor.alteration.outline import Outline, lower_part, whole
from tutor.alteration.plan import GREATEST, Along, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.alteration.refusal import (
    CROSSES_SEAM,
    CUT_TWICE,
    NOT_ON_OUTLINE,
    STOPS_INSIDE,
    Refusal,
)
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.sleeve import SEAMS, Sleeve

SLEEVE = lopsided()
CROWN, HEM = Landmark("crown"), Landmark("grain-hem")
BACK, FRONT = Landmark("underarm-back"), Landmark("underarm-front")


def cut(*slashes: Slash, sleeve: Sleeve = SLEEVE) -> CutPaper:
    return cut_paper(whole(sleeve), slashes)


def refused(*slashes: Slash, sleeve: Sleeve = SLEEVE) -> Refusal:
    with pytest.raises(Refusal) as caught:
        cut(*slashes, sleeve=sleeve)
    return caught.value


def polygon(ring: Complexes) -> shapely.Polygon:
    return shapely.Polygon(np.column_stack([ring.real, ring.imag]))


def drawn_faces(outline: Outline, paper: CutPaper) -> NDArray[np.object_]:
    """The faces that edge and slashes draw, by shapely.polygonize."""
    ring = shapely.LinearRing(np.column_stack([outline.ring.real, outline.ring.imag]))
    # A slash ends on the exact seam, the flattened one is up to 0.05 mm away: so it is made longer, enough to reach
    # that where it meets the seam at a slant. What sticks out draws no face.
    lines = []
    for a, b in paper.lines:
        beyond = (b - a) / abs(b - a)
        lines.append(shapely.LineString([((p := a - beyond).real, p.imag), ((q := b + beyond).real, q.imag)]))
    # On a grid, as GEOS loses faces whose corners differ but for rounding.
    drawn = shapely.union_all([ring, *lines], grid_size=1e-6)
    found: NDArray[np.object_] = shapely.get_parts(shapely.polygonize(shapely.get_parts(drawn)))
    return found


def faces(outline: Outline, paper: CutPaper) -> list[float]:
    """Areas of the faces that edge and slashes draw, largest first."""
    return sorted((face.area for face in drawn_faces(outline, paper)), reverse=True)


def strayed(outline: Outline, paper: CutPaper) -> float:
    """The area in mm2 between the edge and the slashes where those run outside; 0 where no slash does."""
    inside = polygon(outline.ring)
    outside = [face.area for face in drawn_faces(outline, paper) if not inside.contains(face.representative_point())]
    return sum(outside, 0.0)


def check(outline: Outline, paper: CutPaper) -> None:
    """What holds for any paper cut: pieces tile it, arcs go round it, and left is left."""
    pieces = [polygon(piece.ring) for piece in paper.pieces]
    total = polygon(outline.ring).area
    assert sum(piece.area for piece in pieces) == pytest.approx(total, rel=1e-3)
    # Where a slash runs over a dip of the edge, the piece above the dip is drawn twice over by what lies between.
    between = strayed(outline, paper)
    for piece in pieces:
        double = shapely.make_valid(piece).area - piece.area
        assert piece.is_valid or (between and double == pytest.approx(0, abs=2 * between + 0.01))
    assert len({piece.name for piece in paper.pieces}) == len(pieces)
    assert all(math.isfinite(number) for piece in paper.pieces for point in piece.ring for number in (point.real,))
    _check_arcs(outline, paper)
    for each in paper.cuts:
        a, b = paper.along(each.slash, each.start), paper.along(each.slash, each.end)
        assert each.left != each.right
        if abs(b - a) < 1:
            continue
        aside = 1j * (b - a) / abs(b - a)
        for piece, sign in ((each.left, 1), (each.right, -1)):
            near = (a + b) / 2 + sign * 0.05 * aside
            assert pieces[piece].distance(shapely.Point(near.real, near.imag)) < 0.11


def _check_arcs(outline: Outline, paper: CutPaper) -> None:
    """Arcs follow each other round the whole edge, and their curves are parts of its seams."""
    lengths = np.zeros(len(outline.curves))
    for arc, following in zip(paper.arcs, [*paper.arcs[1:], paper.arcs[0]], strict=True):
        assert abs(arc.curve.end - following.curve.start) < 2e-6
        lengths[arc.seam] += arc.curve.length()
    for length, curve in zip(lengths, outline.curves, strict=True):
        assert length == pytest.approx(curve.length(), abs=1e-5)


def test_one_slash_makes_two_pieces() -> None:
    paper = cut(Slash("grain", CROWN, HEM))
    assert {piece.name for piece in paper.pieces} == {"the back half", "the front half"}
    [only] = paper.cuts
    assert (only.start, only.end) == (0, 1)
    # Walking from the crown down to the hem, the front lies to the left.
    assert (paper.pieces[only.left].name, paper.pieces[only.right].name) == ("the front half", "the back half")
    check(whole(SLEEVE), paper)


def test_crossed_slashes_make_four_pieces() -> None:
    paper = cut(Slash("grain", CROWN, HEM), Slash("bicep", BACK, FRONT))
    assert {piece.name for piece in paper.pieces} == {
        "the back cap",
        "the front cap",
        "the back lower part",
        "the front lower part",
    }
    assert len(paper.cuts) == 4
    assert [c.slash for c in paper.cuts] == [0, 0, 1, 1]
    assert paper.along(0, paper.cuts[0].end) == pytest.approx(0, abs=1e-9)
    check(whole(SLEEVE), paper)


def test_a_slash_may_run_over_a_dip_of_the_edge_but_no_farther() -> None:
    """From the underarm point of a cap that leaves it level.

    Such a cap starts as the parabola y = x^2 / 135, x from the underarm point, and the slash rises about 1 in 6: it
    would meet that again after 22.5 mm, with a sixth of 22.5^3 / 135, or 14 mm2, in between (Archimedes); less is left
    of that as the cap bends over.
    """
    back = Curve.bezier(-90, -45, -45 + 45j, 45j)
    sides = Curve.line(90, 90 - 150j), Curve.line(90 - 150j, -90 - 150j), Curve.line(-90 - 150j, -90)
    sleeve = Sleeve(back, back.mirrored().reversed(), *sides, (), (40j, -140j))
    outline = whole(sleeve)
    slash = Slash("over", Share("cap-back", 0), Share("cap-front", 0.5))
    over = cut(slash, sleeve=sleeve)
    check(outline, over)
    assert 8 < strayed(outline, over) < 14
    upper, lower = (polygon(piece.ring) for piece in over.pieces)
    assert not upper.is_valid
    assert lower.is_valid
    # A cap that is hollow for longer lies too far under such a slash, and one that is straight does not at all.
    hollow = replace(sleeve, cap_back=Curve.bezier(-90, -10, -10 + 45j, 45j))
    assert refused(slash, sleeve=hollow).kind == CROSSES_SEAM
    straight = replace(sleeve, cap_back=Curve.line(-90, 45j))
    assert strayed(whole(straight), cut(slash, sleeve=straight)) == 0


def test_no_slash_leaves_the_paper_whole() -> None:
    paper = cut()
    assert len(paper.pieces) == 1
    assert paper.cuts == ()
    check(whole(SLEEVE), paper)


@given(sleeves(), sound_plans())
@settings(max_examples=60)
def test_pieces_by_polygonize(sleeve: Sleeve, plan: Plan) -> None:
    outline = whole(sleeve)
    paper = tried(lambda: cut_paper(outline, plan.slashes))
    assume(not isinstance(paper, Refusal))
    assert isinstance(paper, CutPaper)
    check(outline, paper)
    ours = sorted((polygon(piece.ring).area for piece in paper.pieces), reverse=True)
    theirs = [area for area in faces(outline, paper) if area > 0.5]
    assert ours == pytest.approx(theirs, rel=1e-3, abs=5)


@given(sleeves(), wild_plans())
@settings(max_examples=100)
def test_any_slashes_are_cut_or_refused(sleeve: Sleeve, plan: Plan) -> None:
    outline = lower_part(sleeve) if plan.set_back else whole(sleeve)
    result = tried(lambda: cut_paper(outline, plan.slashes))
    if isinstance(result, Refusal):
        assert result.kind in (STOPS_INSIDE, NOT_ON_OUTLINE, CROSSES_SEAM, CUT_TWICE)
        assert result.slash in {slash.name for slash in plan.slashes}
        assert result.place is None or math.isfinite(abs(result.place))
        assert str(result).isprintable()
    else:
        check(outline, result)


def test_places_on_the_outline() -> None:
    outline = whole(SLEEVE)
    length = SLEEVE.cap_back.length()
    # Along a seam from its start or its end, and by share of its length: the same place said four ways.
    quarter = Along("cap-back", length / 4), Along("cap-back", 3 * length / 4, from_end=True), Share("cap-back", 0.25)
    spots = [outline.spot(place, "s") for place in quarter]
    spots.append(outline.spot(At(spots[0].point + 0.3 * 1j * SLEEVE.cap_back.tangent(spots[0].u)), "s"))
    for spot in spots:
        assert spot.seam == 0
        assert spot.u == pytest.approx(spots[0].u, abs=1e-4)
    assert SLEEVE.cap_back.distance_at(spots[0].u) == pytest.approx(length / 4, abs=1e-8)
    for name, point in SLEEVE.landmarks().items():
        assert outline.spot(Landmark(name), "s").point == pytest.approx(point, abs=1e-9)


@pytest.mark.parametrize("seam", SEAMS)
def test_the_ends_of_seams_are_corners(seam: str) -> None:
    outline = whole(SLEEVE)
    number = SEAMS.index(seam)
    following = (number + 1) % len(SEAMS)
    assert outline.spot(Share(seam, 0), "s") == outline.on_seam(number, 0)
    assert outline.spot(Share(seam, 1), "s") == outline.on_seam(following, 0)
    assert outline.spot(At(SLEEVE.seam(seam).end), "s").point == SLEEVE.curves()[following].start


# The five refusals that cutting gives, each with its slash and place.


def test_a_slash_that_stops_inside() -> None:
    refusal = refused(Slash("short", CROWN, At(10 - 100j)))
    assert (refusal.kind, refusal.slash, refusal.place) == (STOPS_INSIDE, "short", 10 - 100j)


def test_a_slash_that_ends_off_the_paper() -> None:
    refusal = refused(Slash("long", CROWN, At(10 - 600j)))
    assert (refusal.kind, refusal.slash, refusal.place) == (NOT_ON_OUTLINE, "long", 10 - 600j)


@pytest.mark.parametrize(
    "place",
    [
        Landmark("nose"),
        Share("collar", 0.5),
        Along("collar", 3),
        Share("hem", 1.2),
        Share("hem", -0.1),
        Along("hem", -1),
        Along("hem", 1000),
    ],
)
def test_places_there_are_none(place: Place) -> None:
    refusal = refused(Slash("odd", CROWN, place))
    assert (refusal.kind, refusal.slash) == (NOT_ON_OUTLINE, "odd")


def test_a_slash_that_crosses_the_seam_twice() -> None:
    # From the underarm to the cap: the hollow of the S lies between.
    refusal = refused(Slash("out", BACK, Share("cap-back", 0.6)))
    assert (refusal.kind, refusal.slash) == (CROSSES_SEAM, "out")
    assert refusal.place is not None
    assert whole(SLEEVE).nearest(refusal.place)[1] < 0.1


@pytest.mark.parametrize(
    ("start", "end"),
    [
        (FRONT, Landmark("hem-front")),
        (Share("underarm-back", 0.2), Share("underarm-back", 0.7)),
        (Share("hem", 0.0), Share("hem", 1.0)),
    ],
)
def test_a_slash_along_a_straight_seam(start: Place, end: Place) -> None:
    refusal = refused(Slash("edge", start, end))
    assert (refusal.kind, refusal.slash) == (CROSSES_SEAM, "edge")
    assert refusal.place is not None
    assert whole(SLEEVE).nearest(refusal.place)[1] < 0.1


def test_a_slash_of_no_length() -> None:
    assert refused(Slash("dot", CROWN, CROWN)).kind == CROSSES_SEAM
    assert refused(Slash("dot", CROWN, Landmark("grain-cap"))).kind == CROSSES_SEAM
    assert refused(Slash("dot", CROWN, At(0.3 + SLEEVE.crown))).kind == CROSSES_SEAM


@pytest.mark.parametrize("width", [1.05, 1.2])
def test_a_crumb_is_no_piece(width: float) -> None:
    corner = SLEEVE.hem.end
    across = Slash("tiny", At(corner + width), Share("underarm-back", width / SLEEVE.underarm_back.length()))
    assert refused(across).kind == CROSSES_SEAM


def test_slashes_that_lie_on_each_other() -> None:
    refusal = refused(Slash("one", CROWN, HEM), Slash("two", CROWN, HEM))
    assert (refusal.kind, refusal.slash) == (CUT_TWICE, "two")
    assert refusal.place == pytest.approx(SLEEVE.crown)
    partly = refused(Slash("one", CROWN, HEM), Slash("two", OnSlash("one", 0.3), HEM))
    assert (partly.kind, partly.slash) == (CUT_TWICE, "two")
    turned = refused(Slash("one", HEM, CROWN), Slash("two", CROWN, HEM))
    assert turned.kind == CUT_TWICE


def test_slashes_on_one_line_that_do_not_lie_on_each_other() -> None:
    across = Slash("across", Share("underarm-back", 0.5), Share("underarm-front", 0.5))
    lower = Slash("lower", OnSlash("across", 0.5), HEM)
    upper = Slash("upper", CROWN, OnSlash("across", 0.5))
    paper = cut(across, lower, upper, sleeve=symmetric())
    assert len(paper.pieces) == 4
    check(whole(symmetric()), paper)


# Slashes that end on slashes.


def test_an_end_on_another_slash_by_share_or_by_point() -> None:
    across = Slash("across", BACK, FRONT)
    by_share = cut(across, Slash("stem", CROWN, OnSlash("across", 176 / 339)))
    by_point = cut(across, Slash("stem", CROWN, At(0.3j)))
    by_order = cut(Slash("stem", CROWN, At(0.3j)), across)
    for paper in (by_share, by_point, by_order):
        assert len(paper.pieces) == 3
        assert len(paper.cuts) == 3
        check(whole(SLEEVE), paper)


def test_a_slash_on_a_slash_on_a_slash() -> None:
    first = Slash("first", Share("underarm-back", 0.5), Share("underarm-front", 0.5))
    second = Slash("second", CROWN, OnSlash("first", 0.5))
    third = Slash("third", Share("cap-front", 0.4), OnSlash("second", 0.6))
    for slashes in ((first, second, third), (third, second, first)):
        paper = cut(*slashes)
        assert len(paper.pieces) == 4
        check(whole(SLEEVE), paper)


def test_two_slashes_that_make_a_corner_inside() -> None:
    paper = cut(Slash("down", CROWN, At(-100j)), Slash("out", At(-100j), Share("underarm-front", 0.3)))
    assert len(paper.pieces) == 2
    check(whole(SLEEVE), paper)


@pytest.mark.parametrize(
    "slashes",
    [
        (Slash("self", CROWN, OnSlash("self", 0.5)),),
        (Slash("lost", CROWN, OnSlash("nothing", 0.5)),),
        (Slash("a", CROWN, OnSlash("b", 0)), Slash("b", OnSlash("a", 1), HEM)),
        (Slash("a", CROWN, OnSlash("b", 0.5)), Slash("b", HEM, OnSlash("a", 0.5))),
    ],
)
def test_slashes_that_hang_on_nothing(slashes: tuple[Slash, ...]) -> None:
    refusal = refused(*slashes)
    assert (refusal.kind, refusal.slash) == (STOPS_INSIDE, slashes[0].name)


def test_a_dangling_slash() -> None:
    refusal = refused(Slash("grain", CROWN, HEM), Slash("stub", OnSlash("grain", 0.5), At(40 - 150j)))
    assert (refusal.kind, refusal.slash, refusal.place) == (STOPS_INSIDE, "stub", 40 - 150j)


TRIANGLE = (
    Slash("a", At(-50j), At(40 - 150j)),
    Slash("b", At(40 - 150j), At(-40 - 150j)),
    Slash("c", At(-40 - 150j), At(-50j)),
)


def test_a_closed_triangle_inside_the_paper() -> None:
    refusal = refused(*TRIANGLE)
    assert refusal.kind == STOPS_INSIDE
    assert refusal.place in (-50j, 40 - 150j, -40 - 150j)


def test_a_triangle_on_one_leg() -> None:
    refusal = refused(*TRIANGLE, Slash("leg", At(-50j), CROWN))
    assert (refusal.kind, refusal.slash) == (STOPS_INSIDE, "leg")


def test_a_triangle_on_two_legs_is_cut() -> None:
    paper = cut(*TRIANGLE, Slash("leg", At(-50j), CROWN), Slash("foot", OnSlash("b", 0.5), HEM))
    assert len(paper.pieces) == 3
    check(whole(SLEEVE), paper)


# Near cases.


def test_a_slash_at_a_notch() -> None:
    paper = cut(Slash("notched", Landmark("notch-back-1"), HEM))
    assert paper.arcs[0].end == pytest.approx(0.36)
    check(whole(SLEEVE), paper)


def test_two_and_three_slashes_from_one_point() -> None:
    fan = [Slash(f"s{k}", CROWN, Share("hem", share)) for k, share in enumerate((0.2, 0.5, 0.8))]
    assert len(cut(*fan[:2]).pieces) == 3
    paper = cut(*fan)
    assert len(paper.pieces) == 4
    check(whole(SLEEVE), paper)


def test_a_slash_from_corner_to_corner() -> None:
    paper = cut(Slash("diagonal", BACK, Landmark("hem-front")), Slash("other", FRONT, Landmark("hem-back")))
    assert len(paper.pieces) == 4
    check(whole(SLEEVE), paper)


@pytest.mark.parametrize("off", [0, 1e-9, 1e-7])
def test_three_slashes_through_one_point(off: float) -> None:
    flat = symmetric()
    across = Slash("across", BACK, FRONT)
    slant = Slash("slant", At(-105 - 430j), At(complex(off, 0)))
    paper = cut(Slash("grain", CROWN, HEM), across, slant, sleeve=flat)
    assert len(paper.pieces) == 5
    check(whole(flat), paper)


@pytest.mark.parametrize("off", [1e-5, 1e-3, 0.1, 0.9])
def test_three_slashes_nearly_through_one_point(off: float) -> None:
    # They leave a crumb of a triangle between them, which nothing could hold.
    flat = symmetric()
    along = 0.6 + 0.8j
    beside = off * 1j * along
    start, end = (At(_onto(flat, beside + far * along, along)) for far in (-150, 100))
    slashes = Slash("grain", CROWN, HEM), Slash("across", BACK, FRONT), Slash("slant", start, end)
    assert refused(*slashes, sleeve=flat).kind == CROSSES_SEAM


def _onto(sleeve: Sleeve, point: complex, along: complex) -> complex:
    """The place of the edge nearest to a point, on the line through it."""
    hits = [curve.point(u) for curve in sleeve.curves() for _, u in curve.line_crossings(point, point + along)]
    return min(hits, key=lambda hit: abs(hit - point))


def test_a_slash_tangent_to_the_seam() -> None:
    # The level tangent at the crown only touches; from the crown it leaves the paper.
    assert refused(Slash("level", At(SLEEVE.crown - 100), At(SLEEVE.crown + 100))).kind == NOT_ON_OUTLINE
    assert refused(Slash("level", CROWN, At(SLEEVE.crown + 60))).kind == NOT_ON_OUTLINE


def test_the_bicep_line_leaves_the_level_underarm_along_its_tangent() -> None:
    # The cap seam starts level at the underarm point, as the bicep line does.
    paper = cut(Slash("bicep", BACK, FRONT))
    assert {piece.name for piece in paper.pieces} == {"the cap piece", "the lower piece"}
    check(whole(SLEEVE), paper)


def test_an_inner_corner_cuts_off_what_is_beyond() -> None:
    # A hem with a notch cut into it: a slash may pass its tip, but not go through air.
    straight = symmetric()
    hem = Curve.line(straight.hem.start, -300j, straight.hem.end)
    notched = straight.with_seams(dict(zip(SEAMS, straight.curves(), strict=True)) | {"hem": hem}, straight.marks)
    below = Slash("low", At(_onto(notched, 130 - 350j, 1)), At(_onto(notched, -130 - 350j, 1)))
    assert refused(below, sleeve=notched).kind == CROSSES_SEAM
    above = Slash("high", At(_onto(notched, 130 - 290j, 1)), At(_onto(notched, -130 - 290j, 1)))
    assert len(cut(above, sleeve=notched).pieces) == 2


def test_the_lower_part_has_a_bicep_line() -> None:
    outline = lower_part(SLEEVE)
    paper = cut_paper(outline, [Slash("grain", Landmark("grain-bicep"), HEM)])
    assert len(paper.pieces) == 2
    check(outline, paper)
    with pytest.raises(Refusal, match="no place on this paper"):
        cut_paper(outline, [Slash("grain", CROWN, HEM)])


# Numbers that are none are refused before anything is cut.

NO_NUMBERS = (math.nan, math.inf, -math.inf, 2 * GREATEST, 1e308)


@pytest.mark.parametrize("number", NO_NUMBERS)
def test_places_and_amounts_that_are_no_numbers(number: float) -> None:
    for make in (
        lambda: At(complex(number, 0)),
        lambda: At(complex(0, number)),
        lambda: Along("hem", number),
        lambda: Share("hem", number),
        lambda: OnSlash("a", number),
        lambda: Opening("a", number),
        lambda: Opening("a", 1, share=number),
    ):
        with pytest.raises(ValueError, match=r"10 m|0 to 1"):
            make()


@pytest.mark.parametrize("share", [-0.001, 1.001])
def test_shares_outside_the_slash(share: float) -> None:
    with pytest.raises(ValueError, match="0 to 1"):
        Opening("a", 1, share=share)
    with pytest.raises(ValueError, match="0 to 1"):
        OnSlash("a", share)


def test_slashes_need_names_of_their_own() -> None:
    with pytest.raises(ValueError, match="same name"):
        Plan((Slash("a", CROWN, HEM), Slash("a", BACK, FRONT)))


def test_a_slash_that_ends_where_another_meets_the_edge() -> None:
    stem = Slash("stem", CROWN, OnSlash("other", 0))
    other = Slash("other", Share("hem", 0.3), Share("cap-front", 0.5))
    for slashes in ((stem, other), (other, stem)):
        paper = cut(*slashes)
        assert len(paper.pieces) == 3
        check(whole(SLEEVE), paper)


# Places given by pointer: an end within 0.5 mm of another slash is on it, whatever order the slashes come in.


def _orders(*slashes: Slash) -> list[CutPaper]:
    return [cut(*order) for order in itertools.permutations(slashes)]


def test_an_end_near_a_slash_whose_own_end_was_near_another() -> None:
    start = SLEEVE.underarm_front.point(0.3)
    near = 0.45 - 100j
    grain = Slash("grain", CROWN, HEM)
    out = Slash("out", At(start), At(near))
    for stem_end in (At(near + 0.1 * (start - near)), OnSlash("out", 0.9)):
        for paper in _orders(grain, out, Slash("stem", Share("cap-front", 0.6), stem_end)):
            assert len(paper.pieces) == 4
            check(whole(SLEEVE), paper)


@pytest.mark.parametrize("miss", [0, 0.3, -0.3, 0.3j, -0.3j, 0.2 + 0.2j, -0.2 - 0.2j])
def test_a_corner_inside_whose_ends_miss_a_little(miss: complex) -> None:
    down, out = Slash("down", CROWN, At(-100j)), Slash("out", At(-100j + miss), Share("underarm-front", 0.3))
    papers = _orders(down, out)
    for paper in papers:
        assert len(paper.pieces) == 2
        check(whole(SLEEVE), paper)
    assert papers[0].lines == papers[1].lines[::-1]


def test_an_end_near_two_slashes_is_on_the_nearer() -> None:
    left, right = (Slash(name, CROWN, At(complex(x, -436))) for name, x in (("left", -2.0), ("right", 2.0)))
    # Half a millimetre from both somewhere below the crown; a little nearer to the right one.
    y = SLEEVE.crown.imag - 0.3 / (2 / 578)
    stem = Slash("stem", Share("underarm-back", 0.7), At(complex(0.1, y)))
    with_stem = [paper.lines[[s.name for s in paper.slashes].index("stem")][1] for paper in _orders(left, right, stem)]
    assert with_stem == pytest.approx([with_stem[0]] * 6)
