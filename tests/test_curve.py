"""Chains of cubics and rigid moves: against svgpathtools, numpy's and scipy's solvers, dense samples and hand sums."""

import cmath
import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar
from svgpathtools import CubicBezier

from tutor.geometry import cubic
from tutor.geometry.carry import carry_end, carry_start
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import JOIN, Curve, flatten_all, flatten_rows, row_crossings
from tutor.geometry.move import Move

WAVE = Curve.join(
    [
        Curve.bezier(0, 40 + 30j, 60 + 90j, 100 + 100j),
        Curve.bezier(100 + 100j, 140 + 110j, 170 + 20j, 200 + 25j),
        Curve.bezier(200 + 25j, 230 + 30j, 240 - 40j, 260 - 90j),
    ]
)


def coordinates() -> st.SearchStrategy[float]:
    return st.integers(-3000, 3000).map(lambda tenths: tenths / 10)


def points() -> st.SearchStrategy[complex]:
    return st.builds(complex, coordinates(), coordinates())


@st.composite
def curves(draw: st.DrawFn, most: int = 3) -> Curve:
    """Chains of wild cubics: loops, cusps, folds, handles of length zero, but not shrunk to a point."""
    rows, start = [], draw(points())
    for _ in range(draw(st.integers(1, most))):
        rows.append([start, *(draw(points()) for _ in range(3))])
        start = rows[-1][3]
    controls = np.array(rows)
    assume(cubic.polygon_lengths(controls).min() > 1)
    return Curve(controls)


def dense(curve: Curve, each: int = 2000) -> Complexes:
    """Points along the curve, by the Bernstein polynomials written out."""
    t = np.linspace(0, 1, each + 1)
    weights = np.array([math.comb(3, k) * t**k * (1 - t) ** (3 - k) for k in range(4)])
    found: Complexes = (curve.controls @ weights).ravel()
    return found


def theirs(curve: Curve, u: float) -> complex:
    """The point at u by svgpathtools."""
    k = min(int(u), len(curve) - 1)
    return complex(CubicBezier(*curve.controls[k].tolist()).point(u - k))


def test_points_and_tangents_by_svgpathtools() -> None:
    for u in np.linspace(0, 3, 61).tolist():
        k = min(int(u), 2)
        segment = CubicBezier(*WAVE.controls[k].tolist())
        assert WAVE.point(u) == pytest.approx(complex(segment.point(u - k)), abs=1e-12)
        assert WAVE.tangent(u) == pytest.approx(complex(segment.unit_tangent(u - k)), abs=1e-12)


def test_ends_are_exact() -> None:
    assert (WAVE.start, WAVE.end) == (0, 260 - 90j)
    assert WAVE.point(0) == WAVE.start
    assert WAVE.point(3) == WAVE.end
    assert [WAVE.point(k) for k in (1, 2)] == [100 + 100j, 200 + 25j]


@given(curves(), st.floats(0, 1), st.floats(0, 1))
@settings(max_examples=60)
def test_parts_lie_on_the_curve(curve: Curve, a: float, b: float) -> None:
    start, end = sorted((a * len(curve), b * len(curve)))
    assume(end - start > 1e-6)
    part = curve.part(start, end)
    for share in np.linspace(0, 1, 9).tolist():
        u = start + share * (end - start)
        place = curve.within_part(u, start, end)
        assert abs(part.point(place) - theirs(curve, u)) < 1e-9
    assert part.start == pytest.approx(theirs(curve, start), abs=1e-10)
    assert part.end == pytest.approx(theirs(curve, end), abs=1e-10)


@given(curves(), st.lists(st.floats(0.01, 0.99), max_size=4, unique=True).map(sorted))
@settings(max_examples=60)
def test_pieces_joined_are_the_curve(curve: Curve, shares: list[float]) -> None:
    assume(all(b - a > 1e-6 for a, b in itertools.pairwise(shares)))
    pieces = curve.cut([share * len(curve) for share in shares])
    assert len(pieces) == len(shares) + 1
    assert pieces[0].start == curve.start
    assert pieces[-1].end == curve.end
    whole = Curve.join(pieces)
    assert whole.length() == pytest.approx(curve.length(), rel=1e-12)
    assert sum(piece.length() for piece in pieces) == pytest.approx(curve.length(), rel=1e-12)
    for u in np.linspace(0, len(curve), 7).tolist():
        assert whole.nearest(curve.point(u))[1] < 1e-6


def test_a_part_at_joints_has_no_crumbs() -> None:
    assert len(WAVE.part(1, 2)) == 1
    assert WAVE.part(1, 2) == Curve(WAVE.controls[1:2])
    assert WAVE.part(0, 3) == WAVE
    assert len(WAVE.part(0.5, 2)) == 2
    assert WAVE.within_part(2.0, 0.5, 2.0) == 2
    assert WAVE.within_part(1.0, 1.0, 2.5) == 0


@pytest.mark.parametrize(("start", "end"), [(1, 1), (2, 1), (math.nan, 1), (0, math.nan)])
def test_a_part_needs_some_length(start: float, end: float) -> None:
    with pytest.raises(ValueError, match="start < end"):
        WAVE.part(start, end)


@given(curves(), st.floats(0, 1))
@settings(max_examples=60)
def test_reversed_and_mirrored(curve: Curve, share: float) -> None:
    u = share * len(curve)
    assert abs(curve.reversed().point(len(curve) - u) - curve.point(u)) < 1e-9
    assert abs(curve.mirrored().point(u) + curve.point(u).conjugate()) < 1e-12
    assert curve.reversed().reversed() == curve
    assert curve.mirrored().mirrored() == curve
    assert hash(curve.reversed().reversed()) == hash(curve)
    assert curve.reversed().length() == pytest.approx(curve.length(), rel=1e-13)


@given(curves(), st.floats(-3.1, 3.1), points(), points(), st.floats(0, 1))
@settings(max_examples=60)
def test_rigid_moves(curve: Curve, angle: float, centre: complex, shift: complex, share: float) -> None:
    move = Move.about(centre, angle, shift)
    moved = curve.moved(move)
    u = share * len(curve)
    # By hand: about a centre, then shifted.
    expected = centre + cmath.rect(1, angle) * (curve.point(u) - centre) + shift
    assert abs(moved.point(u) - expected) < 1e-9
    assert abs(moved.length() - curve.length()) < 1e-9
    assert move.angle == pytest.approx(angle, abs=1e-12)
    there_and_back = move.inverse() @ move
    assert abs(there_and_back(expected) - expected) < 1e-9
    assert abs((move @ move)(centre) - move(move(centre))) < 1e-9


@given(curves(), st.floats(0, 1))
@settings(max_examples=60)
def test_a_place_at_a_distance(curve: Curve, share: float) -> None:
    total = curve.length()
    u = curve.at_distance(share * total)
    assert curve.distance_at(u) == pytest.approx(share * total, abs=1e-8)


def test_a_place_at_a_distance_by_scipy() -> None:
    for distance in np.linspace(0, WAVE.length(), 12)[1:-1].tolist():
        other = brentq(lambda u, d=distance: WAVE.part(0, u).length() - d, 1e-9, 3, xtol=1e-14)
        assert WAVE.at_distance(distance) == pytest.approx(other, abs=1e-11)
    assert WAVE.at_distance(0) == 0
    assert WAVE.at_distance(WAVE.length()) == pytest.approx(3, abs=1e-11)


def test_a_place_at_a_distance_past_a_cusp() -> None:
    cusp = Curve.bezier(0, 100 + 100j, 100j, 100)
    for share in (0.1, 0.4999999, 0.5, 0.5000001, 0.9):
        assert cusp.distance_at(cusp.at_distance(share * cusp.length())) == pytest.approx(
            share * cusp.length(), abs=1e-9
        )


@pytest.mark.parametrize("distance", [-1e-3, 1e6, math.nan, math.inf, -math.inf])
def test_a_distance_off_the_curve(distance: float) -> None:
    with pytest.raises(ValueError, match="is not on a curve"):
        WAVE.at_distance(distance)


@given(curves(), points())
@settings(max_examples=60)
def test_nearest_is_no_farther_than_any_sample(curve: Curve, point: complex) -> None:
    u, distance = curve.nearest(point)
    assert 0 <= u <= len(curve)
    assert abs(theirs(curve, u) - point) == pytest.approx(distance, abs=1e-9)
    # A dip between two samples can hide only where the curve nearly folds: hence the slack.
    assert distance <= np.abs(dense(curve) - point).min() + 0.05


def test_nearest_by_scipy() -> None:
    rng = np.random.default_rng(5)
    for point in (rng.uniform(-50, 300, 40) + 1j * rng.uniform(-150, 150, 40)).tolist():
        starts = np.linspace(0, 3, 61)
        found = [
            minimize_scalar(
                lambda u, p=point: abs(WAVE.point(float(u)) - p), bounds=(a, b), options={"xatol": 1e-12}
            ).fun
            for a, b in itertools.pairwise(starts)
        ]
        # scipy never quite reaches the ends of its bounds.
        found += [abs(end - point) for end in (WAVE.start, WAVE.end)]
        assert WAVE.nearest(point)[1] == pytest.approx(min(found), abs=1e-9)


def test_a_point_of_the_curve_is_its_own_nearest() -> None:
    for u in np.linspace(0, 3, 31).tolist():
        place, distance = WAVE.nearest(WAVE.point(u))
        assert distance < 1e-9
        assert place == pytest.approx(u, abs=1e-7)


@given(curves(), st.sampled_from([10.0, 1.0, 0.05, 0.002]))
@settings(max_examples=50)
def test_flattening_keeps_its_tolerance(curve: Curve, tolerance: float) -> None:
    flat = curve.flatten(tolerance)
    assert flat[0] == curve.start
    assert flat[-1] == curve.end
    a, b = flat[:-1, None], flat[1:, None]
    size = np.where(a == b, 1, b - a)
    for point in dense(curve, 61)[::3]:
        share = np.clip(((point - a) / size).real, 0, 1)
        assert np.abs(a + share * (b - a) - point).min() <= tolerance * (1 + 1e-9)


def test_flattening_many_is_flattening_each() -> None:
    each = [WAVE, Curve.line(0, 10, 20 + 5j), WAVE.reversed()]
    for flat, curve in zip(flatten_all(each), each, strict=True):
        np.testing.assert_array_equal(flat, curve.flatten())
    points, counts = flatten_rows(Curve.line(0, 1000).controls, 0.05)
    assert (points.tolist(), counts.tolist()) == ([0], [1])


@pytest.mark.parametrize("tolerance", [0, -1, math.nan])
def test_flattening_needs_a_tolerance(tolerance: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        WAVE.flatten(tolerance)


@given(curves(), points(), points())
@settings(max_examples=60)
def test_crossings_of_a_line(curve: Curve, a: complex, b: complex) -> None:
    assume(abs(b - a) > 1)
    found = curve.line_crossings(a, b)
    normal = 1j * (b - a) / abs(b - a)
    for s, u in found:
        assert abs(theirs(curve, u) - (a + s * (b - a))) < 1e-6
    # Every change of side in a dense walk is a crossing that was found.
    heights = ((dense(curve, 400) - a) * normal.conjugate()).real
    sides = np.sign(np.where(np.abs(heights) < 1e-7, 0, heights)).reshape(len(curve), -1)
    places = np.array([u for _, u in found])
    for k, row in enumerate(sides):
        for i in np.flatnonzero(row[:-1] * row[1:] < 0).tolist():
            low, high = k + i / 400 - 1e-9, k + (i + 1) / 400 + 1e-9
            assert ((places >= low) & (places <= high)).any()


def test_crossings_by_numpy() -> None:
    # numpy.roots on the height's coefficients, an eigenvalue method and not ours.
    rng = np.random.default_rng(11)
    for _ in range(200):
        c = rng.uniform(-100, 100, 4) + 1j * rng.uniform(-100, 100, 4)
        h0, h1, h2, h3 = c.imag
        roots = np.roots([h3 - 3 * h2 + 3 * h1 - h0, 3 * (h2 - 2 * h1 + h0), 3 * (h1 - h0), h0])
        expected = sorted(t.real for t in roots if abs(t.imag) < 1e-9 and 0 <= t.real <= 1)
        assert [t for _, _, t in row_crossings(c[None], 0, 1)] == pytest.approx(expected, abs=1e-9)


def test_crossings_that_only_touch() -> None:
    hump = Curve.bezier(0, 30 + 40j, 70 + 40j, 100)
    assert [u for _, u in hump.line_crossings(30j, 1 + 30j)] == pytest.approx([0.5], abs=1e-6)
    assert hump.line_crossings(30.001j, 1 + 30.001j) == []
    assert [u for _, u in hump.line_crossings(0, 1)] == [0, 1]
    assert [u for _, u in hump.line_crossings(-1, -1 + 1j)] == []
    tangent = hump.tangent(0.3)
    assert any(abs(u - 0.3) < 1e-5 for _, u in hump.line_crossings(hump.point(0.3), hump.point(0.3) + tangent))


def test_a_line_lying_on_the_line_has_no_crossings() -> None:
    assert Curve.line(0, 10, 20 + 5j).line_crossings(-1, 1) == [(5.5, 1)]
    assert Curve.line(0, 50).line_crossings(10, 20) == []


def test_crossings_of_raised_quadratics_and_lines() -> None:
    # Leading coefficients that are only rounding: a line is cut once, a parabola twice.
    start, top, end = 3 + 1j, 47 + 91j, 113 - 7j
    parabola = Curve.bezier(start, (start + 2 * top) / 3, (2 * top + end) / 3, end)
    for level in (5.0, 20.0, 40.0):
        t = np.roots([(start - 2 * top + end).imag, 2 * (top - start).imag, start.imag - level])
        found = [u for _, u in parabola.line_crossings(1j * level, 1 + 1j * level)]
        assert found == pytest.approx(sorted(x for x in t.real if 0 <= x <= 1), abs=1e-12)
    [(s, u)] = Curve.line(0, 90 + 30j).line_crossings(10j, 1 + 10j)
    assert s == pytest.approx(30)
    assert u == pytest.approx(1 / 3)


@pytest.mark.parametrize(
    ("controls", "leaving", "arriving"),
    [
        ((0, 0, 50j, 50 + 50j), 1j, 1),
        ((0, 0, 0, 30 + 40j), 0.6 + 0.8j, 0.6 + 0.8j),
        ((0, 30j, 50 + 50j, 50 + 50j), 1j, (50 + 20j) / abs(50 + 20j)),
        ((0, 1e-14j, 50, 100), 1, 1),
        ((0, 10, 10, 0), 1, -1),
        ((7 + 7j,) * 4, 1, 1),
    ],
)
def test_tangents_where_handles_are_too_short(
    controls: tuple[complex, ...], leaving: complex, arriving: complex
) -> None:
    curve = Curve.bezier(*controls)
    assert curve.tangent(0) == pytest.approx(leaving, abs=1e-9)
    assert curve.tangent(1, arriving=True) == pytest.approx(arriving, abs=1e-9)
    assert curve.tangent(1) == pytest.approx(arriving, abs=1e-9)


def test_tangents_at_joints() -> None:
    corner = Curve.line(0, 10, 10 + 10j)
    assert corner.tangent(1) == pytest.approx(1j)
    assert corner.tangent(1, arriving=True) == pytest.approx(1)
    assert corner.turns_at_joints() == pytest.approx([math.pi / 2])
    assert corner.reversed().turns_at_joints() == pytest.approx([-math.pi / 2])
    assert abs(WAVE.part(0, 0.7).tangent(1) - WAVE.tangent(0.7, arriving=True)) < 1e-9
    hidden = Curve.join([Curve.bezier(0, 5, 10, 10), Curve.bezier(10, 10, 10 + 5j, 10 + 10j)])
    assert hidden.turns_at_joints() == pytest.approx([math.pi / 2])


@pytest.mark.parametrize(
    "controls",
    [np.zeros((0, 4)), np.zeros(4), np.zeros((1, 3)), [[0, 1, 2, math.nan]], [[0, 1, 2, complex(0, math.inf)]]],
)
def test_what_is_no_curve(controls: object) -> None:
    with pytest.raises(ValueError, match="a curve needs"):
        Curve(np.array(controls, dtype=complex))


def test_curves_that_do_not_meet() -> None:
    near = Curve.line(10 + 0.5 * JOIN, 20)
    joined = Curve.join([Curve.line(0, 10), near])
    assert joined.controls[1, 0] == 10
    with pytest.raises(ValueError, match="must meet"):
        Curve.join([Curve.line(0, 10), Curve.line(10 + 2 * JOIN, 20)])


def test_curves_are_frozen() -> None:
    given_controls = np.array([[0, 1, 2, 3]], dtype=complex)
    curve = Curve(given_controls)
    given_controls[0, 0] = 99
    assert curve.start == 0
    for frozen in (curve, curve.reversed(), curve.part(0, 0.5), curve.moved(Move()), curve.mirrored()):
        with pytest.raises(ValueError, match="read-only"):
            frozen.controls[0, 0] = 1


@given(curves(), points().map(lambda p: p / 10), st.floats(-0.5, 0.5))
@settings(max_examples=60)
def test_carrying_an_end(curve: Curve, shift: complex, turn: float) -> None:
    assume(min(abs(curve.controls[-1, 3] - curve.controls[-1, 2]), abs(curve.controls[0, 1] - curve.start)) > 1)
    carried = carry_end(curve, shift, turn)
    assert carried.start == curve.start
    assert carried.end == pytest.approx(curve.end + shift, abs=1e-9)
    assert abs(carried.tangent(0) - curve.tangent(0)) < 1e-7
    end = float(len(curve))
    turned = carried.tangent(end, arriving=True) / curve.tangent(end, arriving=True)
    assert turned == pytest.approx(cmath.rect(1, turn), abs=1e-7)
    assert carry_start(curve.reversed(), shift, turn).reversed() == carried
    assert carry_end(curve, 0j) == curve


@given(st.floats(-1, 1), st.floats(-1, 1), points().map(lambda p: p / 10), st.floats(-0.4, 0.4))
@settings(max_examples=60)
def test_carrying_keeps_smooth_joints_smooth(a: float, b: float, shift: complex, turn: float) -> None:
    # Two cubics with one tangent where they meet, however long their handles are.
    joint, along = 100 + 20j, cmath.rect(1, a)
    smooth = Curve.join(
        [
            Curve.bezier(0, 20 + 30j * b, joint - 25 * along, joint),
            Curve.bezier(joint, joint + (30 + 20 * b) * along, 180, 200 + 30j),
        ]
    )
    for carried in (carry_end(smooth, shift, turn), carry_start(smooth, shift, turn)):
        assert np.abs(carried.turns_at_joints()).max() < 1e-9
