"""Arc length against mpmath at 30 digits, closed forms, published figures and another library."""

import cmath
import math

import mpmath
import numpy as np
import pytest
from exact import exact_length
from fontTools.misc.bezierTools import calcCubicArcLength
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.geometry import cubic
from tutor.geometry.arclength import lengths
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve

WANTED = 1e-9
"""Relative, as geometry.md asks; what is found is near 1e-15, and 1e-13 is asserted wherever floats allow."""
FOUND = 1e-13


def length(*controls: complex) -> float:
    return float(lengths(np.array([controls], dtype=complex))[0])


def off(controls: Complexes) -> float:
    """The relative error against mpmath; of a cubic of no length the length itself."""
    exact = exact_length(controls.tolist())
    found = length(*controls)
    return abs(float((found - exact) / exact)) if exact else found


def from_roots(first: complex, second: complex, factor: complex) -> Complexes:
    """A cubic with B'(t) = factor (t - first) (t - second), starting at 0: a cusp where a root is real."""
    c0, c1, c2 = factor * first * second, -factor * (first + second), factor
    steps = np.array([c0, c0 + c1 / 2, c0 + c1 + c2]) / 3
    return np.concatenate([[0], np.cumsum(steps)])


def random_cubics(count: int, size: float = 100.0, seed: int = 7) -> Complexes:
    rng = np.random.default_rng(seed)
    found = (rng.normal(size=(count, 4)) + 1j * rng.normal(size=(count, 4))).astype(complex)
    found *= size
    return found


def test_random_cubics() -> None:
    assert max(off(row) for row in random_cubics(40)) < FOUND


@pytest.mark.parametrize("bend", [10.0**-k for k in range(0, 15, 2)])
def test_nearly_straight_cubics(bend: float) -> None:
    straight = np.array([0, 100, 200, 300]) * cmath.rect(1, 0.7)
    assert max(off(straight + bend * row) for row in random_cubics(3, 1.0)) < FOUND


@pytest.mark.parametrize("near", [10.0**-k for k in (0, 1, 2, 3, 5, 7, 9, 12, 16)])
def test_cubics_near_a_cusp(near: float) -> None:
    assert off(np.array([0, 100 + 100j, near + 100j, 100])) < FOUND
    assert off(from_roots(0.37 + 1j * near, 1.3 - 0.4j, 250 + 90j)) < FOUND
    assert off(from_roots(0.37 + 1j * near, 0.61 - 0.7j * near, 250 + 90j)) < FOUND
    assert off(from_roots(1j * near, 1 - 1j * near, 250 + 90j)) < FOUND
    assert off(from_roots(1 + near, -near, 250 + 90j)) < FOUND


@pytest.mark.parametrize("at", [0.0, 1e-9, 0.25, 0.5, 0.999, 1.0, 1.001])
def test_exact_cusps(at: float) -> None:
    assert off(from_roots(at, 2 + 1j, 300)) < FOUND
    assert off(from_roots(at, at, 300)) < FOUND
    assert off(from_roots(at, 0.5, 300j)) < FOUND


@pytest.mark.parametrize("size", [1e-150, 1e-12, 1e-9, 1e-6, 1e-3, 1e3, 1e6, 1e12, 1e150])
def test_tiny_and_huge_cubics(size: float) -> None:
    shapes = [*random_cubics(2, 1.0), np.array([0, 1 + 1j, 1e-6 + 1j, 1])]
    assert max(off(size * shape) for shape in shapes) < FOUND


def test_folded_straight_lines() -> None:
    # Plane geometry: along a straight line the length is what is walked, turning points included.
    # 0, 2, -1, 1 is x = 10 t^3 - 15 t^2 + 6 t, which turns where 5 t^2 - 5 t + 1 = 0.
    turns = [0.5 - math.sqrt(0.05), 0.5 + math.sqrt(0.05)]
    walked = np.abs(np.diff([0, *(10 * t**3 - 15 * t**2 + 6 * t for t in turns), 1])).sum()
    assert length(0, 2, -1, 1) == pytest.approx(walked, rel=1e-14)
    # 0, 1, 0, 0 is x = 3 t (1 - t)^2, which turns at t = 1/3, x = 4/9; 0, 1, 1, 0 is 3 t (1 - t), up to 3/4 and back.
    assert length(0, 1, 0, 0) == pytest.approx(8 / 9, rel=1e-14)
    assert length(0, 1, 1, 0) == pytest.approx(1.5, rel=1e-14)
    turned = cmath.rect(1, 1.1)
    assert length(0, turned, turned, 0) == pytest.approx(1.5, rel=1e-14)


@pytest.mark.parametrize(
    "controls",
    [(0, 100, -40 + 10j, 30), (0, 300 + 200j, -200 + 200j, 100), (0, 0, 0, 70j), (0, 0, 30, 30 + 40j), (0, 50, 0, 50j)],
)
def test_loops_and_handles_of_no_length(controls: tuple[complex, ...]) -> None:
    assert off(np.array(controls, dtype=complex)) < FOUND


def test_a_point_has_no_length() -> None:
    assert length(0, 0, 0, 0) == 0
    assert length(3 + 4j, 3 + 4j, 3 + 4j, 3 + 4j) == 0
    assert len(lengths(np.zeros((0, 4), dtype=complex))) == 0


def test_straight_lines_by_pythagoras() -> None:
    assert Curve.line(0, 3 + 4j).length() == pytest.approx(5, rel=1e-15)
    assert Curve.line(60, 450j).length() == pytest.approx(math.hypot(60, 450), rel=1e-15)


@pytest.mark.parametrize(("base", "height"), [(170, 140), (1, 1e-3), (1, 1e3), (20, 145)])
def test_parabola_arc(base: float, height: float) -> None:
    # b sqrt(1 + q^2) + (b / q) asinh q with q = 2 H / b, the parabola's closed form; 170 and 140 give 459.027072992.
    q = 2 * height / base
    closed = base * math.sqrt(1 + q * q) + base / q * math.asinh(q)
    # The parabola over [-b, b] with vertex at H is a quadratic Bezier, raised here to a cubic.
    ends, middle = (-base + 0j, base + 0j), 2j * height
    raised = (ends[0], ends[0] / 3 + 2 * middle / 3, ends[1] / 3 + 2 * middle / 3, ends[1])
    assert length(*raised) == pytest.approx(closed, rel=1e-14)
    if (base, height) == (170, 140):
        assert closed == pytest.approx(459.027072992, abs=5e-10)


def test_quarter_circle_cubic() -> None:
    # The usual cubic for a quarter circle, k = 0.5522847498: 1.5710166981 by mpmath.
    k = 0.5522847498
    assert length(1, 1 + 1j * k, k + 1j, 1j) == pytest.approx(1.5710166981, abs=5e-11)


@pytest.mark.parametrize(
    ("half", "height", "seam"), [(170, 140, 463.72777), (170, 130, 449.61945), (190, 140, 495.22619)]
)
def test_s_caps(half: float, height: float, seam: float) -> None:
    # (0, H), (b/2, H), (b/2, 0), (b, 0) per half, by quadrature; the whole seam.
    top = complex(0, height)
    assert 2 * length(top, half / 2 + top, half / 2, half) == pytest.approx(seam, abs=5e-6)


def test_another_library() -> None:
    # fontTools halves until the polygon is within its tolerance of the chord, so its own error is of that size.
    for row in random_cubics(40):
        theirs = calcCubicArcLength(*((p.real, p.imag) for p in row), tolerance=1e-6)
        assert length(*row) == pytest.approx(theirs, rel=1e-5)


@pytest.mark.parametrize("tolerance", [1.0, 1e-3, 1e-6, 1e-9, 1e-12])
def test_the_tolerance_holds(tolerance: float) -> None:
    rows = [*random_cubics(3, 300.0), from_roots(0.4 + 1e-7j, 0.7 + 1e-4j, 5e4), from_roots(0.4, 2, 5e4)]
    for row in rows:
        exact = exact_length(row.tolist())
        allowed = max(tolerance, 1e-15 * float(exact))
        assert abs(float(lengths(row[None], tolerance)[0] - exact)) <= allowed
        assert off(row) < WANTED


def test_a_batch_gives_what_each_gives() -> None:
    rows = np.concatenate([random_cubics(300), [from_roots(0.3, 0.6, 100), np.zeros(4), np.arange(4) * 1.0]])
    each = np.array([lengths(row[None])[0] for row in rows])
    np.testing.assert_allclose(lengths(rows), each, rtol=2e-15, atol=0)
    np.testing.assert_allclose(lengths(rows[::-1, ::-1])[::-1], each, rtol=2e-15, atol=0)


def coordinates() -> st.SearchStrategy[float]:
    return st.floats(-1e3, 1e3, allow_nan=False, allow_subnormal=False)


def cubics() -> st.SearchStrategy[Complexes]:
    places = st.builds(complex, coordinates(), coordinates())
    return st.lists(places, min_size=4, max_size=4).map(lambda points: np.array(points, dtype=complex))


@given(cubics())
@settings(max_examples=60)
def test_any_cubic(controls: Complexes) -> None:
    exact = exact_length(controls.tolist())
    # Coordinates are floats: their differences are off by parts in 1e16 of the coordinates, not of the length.
    assert abs(length(*controls) - exact) <= FOUND * exact + 1e-15 * float(np.abs(controls).max())


@given(st.floats(-0.2, 1.2), st.floats(-18, 0), st.floats(-0.2, 1.2), st.floats(-18, 0), st.floats(0, 6.3))
@settings(max_examples=40)
def test_any_near_cusps(a: float, da: float, b: float, db: float, direction: float) -> None:
    controls = from_roots(complex(a, 10**da), complex(b, -(10**db)), cmath.rect(200, direction))
    exact = exact_length(controls.tolist())
    assert abs(length(*controls) - exact) <= FOUND * exact + 1e-15 * float(np.abs(controls).max())


@given(cubics(), st.lists(st.floats(0, 1), max_size=4).map(sorted))
def test_parts_add_up(controls: Complexes, places: list[float]) -> None:
    total, rest, gone = 0.0, controls, 0.0
    for place in places:
        if place < 1:
            first, rest = cubic.split(rest, (place - gone) / (1 - gone))
            gone = place
            total += length(*first)
    assert total + length(*rest) == pytest.approx(length(*controls), rel=1e-12, abs=1e-11)


@given(cubics(), st.floats(0, 6.3), coordinates())
def test_rigid_moves_keep_lengths(controls: Complexes, angle: float, shift: float) -> None:
    moved = controls * cmath.rect(1, angle) + complex(shift, -shift)
    assert length(*moved) == pytest.approx(length(*controls), rel=1e-12, abs=1e-11)


def test_the_reference_knows_closed_forms() -> None:
    # What mpmath finds is itself held to a straight line, a parabola (as above) and a fold, at 25 digits and more.
    with mpmath.workdps(30):
        assert abs(exact_length([0, 1 + 1j, 2 + 2j, 3 + 3j]) - 3 * mpmath.sqrt(2)) < 1e-25
        closed = 3 * mpmath.sqrt(5) + mpmath.mpf(3) / 2 * mpmath.asinh(2)
        assert abs(exact_length([-3, -1 + 4j, 1 + 4j, 3]) - closed) < 1e-25
        assert abs(exact_length([0, 1, 1, 0]) - 1.5) < 1e-25
