"""Path data, arcs, transforms and units of SVG, against two libraries that read them and the W3C's own formulas."""

import cmath
import math

import numpy as np
import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path as fonttools_path
from hypothesis import given
from hypothesis import strategies as st
from svgpathtools import Arc
from svgpathtools.parser import parse_transform

from tutor.faults import Fault
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.svg_arc import arc_rows
from tutor.pattern.svg_path import Subpath, read_path
from tutor.pattern.svg_scan import read_mm, read_numbers, read_px
from tutor.pattern.svg_transform import read_transform

NUMBERS = st.floats(-500, 500).map(lambda x: round(x, 3))
TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "Z": 0}


def rows(data: str) -> Complexes:
    """All cubics of path data, one after the other."""
    return np.concatenate([subpath.controls() for subpath in read_path(data, "path")])


def line(start: complex, end: complex) -> list[complex]:
    return [start, start + (end - start) / 3, end - (end - start) / 3, end]


def fonttools_rows(data: str) -> Complexes:
    """The same by fontTools, its lines and quadratics raised to cubics."""
    pen = RecordingPen()
    fonttools_path(data, pen)
    found = []
    start = here = 0j
    for kind, given_points in pen.value:
        points = [complex(*point) for point in given_points]
        if kind == "moveTo":
            start = here = points[0]
            continue
        if kind == "lineTo":
            found.append(line(here, points[0]))
        elif kind == "curveTo":
            found.append([here, *points])
        elif kind == "qCurveTo":
            control, end = points
            found.append([here, here + (control - here) * 2 / 3, end + (control - end) * 2 / 3, end])
        elif kind == "closePath":
            if here != start:
                found.append(line(here, start))
            here = start
            continue
        else:
            # An open subpath has ended.
            continue
        here = found[-1][3]
    return np.array(found, dtype=np.complex128).reshape(-1, 4)


@pytest.mark.parametrize(
    "data",
    [
        "M1.5.5-3e-2 4",
        "M10-20L-.5.5+3-4",
        "m 1 2 3 4 5,6",
        "M0,0 1,2\t3,4\n5 6",
        "M10 10h5v5H0V0",
        "M0 0h1 2-3v4.5.5",
        "M0 0C1 2 3 4 5 6 7 8 9 10 11 12S1 1 2 2 3 3 4 4",
        "m5 5c1 2 3 4 5 6s1 1 2 2t4 4",
        "M0 0S1 2 3 4",
        "M0 0Q1 2 3 4T5 6 7 9",
        "M1 1q1 2 3 4t5 6-7-9",
        "M0 0T5 6",
        "M0 0 L10 0 10 10z",
        "M0 0 L10 0 10 10zl5 5m1 1 2 2zm3 3h4",
        "M0 0L10 0Z M20 20 L30 20 Z",
        "M1e2-1E1L.1e+1,5.",
        "M0 0L1 1ZQ5 5 6 7",
    ],
)
def test_path_data_reads_as_fonttools_reads_it(data: str) -> None:
    # fontTools.svgLib.path; the grammar is SVG 1.1, section 8.3.9.
    ours, theirs = rows(data), fonttools_rows(data)
    assert ours.shape == theirs.shape
    assert np.abs(ours - theirs).max() < 1e-12


def terse(command: str, numbers: list[float]) -> str:
    """A command written with no sign that the grammar can do without."""
    text = command
    for k, number in enumerate(numbers):
        digits = repr(number).replace("0.", ".", 1) if abs(number) < 1 and number else repr(number)
        digits = "-." + digits[2:] if digits.startswith("-.") else digits
        apart = k == 0 or digits[0] == "-" or (digits[0] == "." and "." in repr(numbers[k - 1]))
        text += digits if apart else " " + digits
    return text


@st.composite
def steps(draw: st.DrawFn) -> tuple[str, list[float]]:
    command = draw(st.sampled_from("LHVCSQTlhvcsqtZzMm"))
    return command, draw(st.lists(NUMBERS, min_size=TAKES[command.upper()], max_size=TAKES[command.upper()]))


@given(NUMBERS, NUMBERS, st.lists(steps(), min_size=1, max_size=12), st.booleans())
def test_any_path_reads_as_fonttools_reads_it(
    x: float, y: float, more: list[tuple[str, list[float]]], short: bool
) -> None:
    every = [("M", [x, y]), ("L", [x + 1, y]), *more]
    data = "".join(terse(*step) if short else f" {step[0]} {' , '.join(map(repr, step[1]))}" for step in every)
    ours, theirs = rows(data), fonttools_rows(data)
    assert ours.shape == theirs.shape
    assert np.abs(ours - theirs).max() < 1e-8


ARC_NUMBERS = st.floats(-300, 300)
RADII = st.floats(1, 600)


@given(ARC_NUMBERS, ARC_NUMBERS, RADII, RADII, st.floats(-180, 180), st.booleans(), st.booleans())
def test_an_arc_lies_on_the_one_svgpathtools_draws(
    x: float, y: float, rx: float, ry: float, tilt: float, large: bool, sweep: bool
) -> None:
    end = complex(x, y)
    if abs(end) < 1:
        return
    theirs = Arc(0j, complex(rx, ry), tilt, large, sweep, end)
    ours = Curve(np.array(arc_rows(0j, end, (rx, ry), tilt, large, sweep, 1e-7)))
    # Where the radii only just reach, or grow until they do, svgpathtools' centre hangs on the square root of a
    # rounding error.
    turn = cmath.rect(1, math.radians(-tilt))
    reach = abs(complex((end * turn).real / rx, (end * turn).imag / ry)) / 2
    allowed = 1e-6 if reach < 1 - 1e-6 else 1e-3
    for t in np.linspace(0, 1, 9):
        place, away = ours.nearest(complex(theirs.point(t)))
        assert away < allowed, (t, place)
    assert ours.start == 0
    assert ours.end == end
    if reach >= 1:
        # SVG 1.1, F.6.6: the centre is then the middle of the chord, and the radii are as many times larger.
        apart = (ours.flatten(1e-3)[:-1] - end / 2) * turn
        assert np.abs(np.hypot(apart.real / rx, apart.imag / ry) - reach).max() * min(rx, ry) < 1e-6


@pytest.mark.parametrize("radius", [0.5, 20.0, 300.0, 5000.0, 1e5])
@pytest.mark.parametrize("tolerance", [1e-3, 1e-7, 1e-9])
@pytest.mark.parametrize("turn", [0.05, 1.0, math.pi / 2, 3.0, 3.3, 6.2])
def test_a_round_arc_keeps_its_distance_from_its_centre(radius: float, tolerance: float, turn: float) -> None:
    # Closed form: the ends are those of a circle about 0, so all between are as far from 0.
    start, end = complex(radius, 0), cmath.rect(radius, turn)
    drawn = Curve(np.array(arc_rows(start, end, (radius, radius), 0, turn > math.pi, True, tolerance)))
    points = np.array([drawn.point(u) for u in np.linspace(0, len(drawn), 40 * len(drawn))])
    rounding = 1e-14 * radius / math.sin(turn / 2)
    assert np.abs(np.abs(points) - radius).max() < tolerance + rounding
    assert drawn.length() == pytest.approx(radius * turn, rel=1e-7 + tolerance / radius)


@pytest.mark.parametrize(
    ("data", "centre", "quarters"),
    [
        ("M0 0A50 50 0 0 1 50 50", 50j, 1),
        ("M0 0A50 50 0 0 0 50 50", 50 + 0j, 1),
        ("M0 0a50 50 0 1150 50", 50 + 0j, 3),
        ("M0 0a50,50,0,1,0,50,50", 50j, 3),
    ],
)
def test_the_flags_choose_one_of_four_arcs(data: str, centre: complex, quarters: int) -> None:
    # SVG 1.1, section 8.3.8: sweep 1 is towards positive angles, from x to y. About (0, 50) the ends lie at -90 and 0
    # degrees, about (50, 0) at 180 and 90.
    drawn = Curve(rows(data))
    assert np.abs(np.abs(drawn.controls[:, [0, 3]] - centre) - 50).max() < 1e-9
    assert drawn.length() == pytest.approx(quarters * 25 * math.pi, abs=1e-6)


def test_flags_run_together_are_two_flags() -> None:
    assert np.array_equal(rows("M0 0a25 30 15 01-5 5"), rows("M0 0 a 25 30 15 0 1 -5 5"))
    assert np.array_equal(rows("M0 0A25 30 15 105 5 25 30 15 110-7"), rows("M0 0A25 30 15 1 0 5 5A25 30 15 1 1 0 -7"))


def test_arcs_out_of_range_are_corrected() -> None:
    # SVG 1.1, F.6.2 and F.6.6: no radius, a line; one point, nothing; a radius too small, the least that reaches; the
    # sign of a radius means nothing.
    assert np.allclose(rows("M0 0A0 5 0 0 1 9 3"), [line(0, 9 + 3j)])
    assert read_path("M4 4A5 5 0 1 1 4 4", "path") == [Subpath(4 + 4j)]
    assert np.allclose(rows("M0 0A1 1 0 0 1 100 0"), rows("M0 0A50 50 0 0 1 100 0"), atol=1e-12)
    assert Curve(rows("M0 0A1 2 0 0 1 0 100")).point(0) == 0
    wide = Curve(rows("M0 0A2 1 0 0 1 0 100"))
    assert min(p.real for p in wide.flatten(1e-3)) == pytest.approx(-0.0, abs=1e-9)
    assert max(p.real for p in wide.flatten(1e-3)) == pytest.approx(100, abs=1e-3)
    assert np.array_equal(rows("M0 0A-30 -40 9 0 1 9 3"), rows("M0 0A30 40 9 0 1 9 3"))


def test_an_arc_of_a_huge_radius_keeps_its_digits() -> None:
    # Circular segment: the height of the arc over a chord 2c is r - sqrt(r^2 - c^2) = c^2 / (r + sqrt(r^2 - c^2)).
    radius, half = 1e9, 200.0
    drawn = Curve(np.array(arc_rows(0j, complex(2 * half, 0), (radius, radius), 0, False, True, 1e-7)))
    height = half**2 / (radius + math.sqrt(radius**2 - half**2))
    assert -drawn.point(len(drawn) / 2).imag == pytest.approx(height, rel=1e-9)


@pytest.mark.parametrize(
    ("data", "what"),
    [
        ("L1 2", 'path data must begin with M or m, not "L1 2" at character 1'),
        ("M", "a number was expected, not the end"),
        ("M1", "a number was expected, not the end"),
        ("M1 2 3", "a number was expected, not the end"),
        ("M1 2,", "a number was expected, not the end"),
        ("M1 2,L3 4", 'a number was expected, not "L3 4" at character 6'),
        ("M,1 2", 'a number was expected, not ",1 2" at character 2'),
        ("M1,,2", 'a number was expected, not ",2" at character 4'),
        ("M1 2 B3 4", "was expected, not"),
        ("M1 2 A1 1 0 2 0 3 4", 'a flag 0 or 1 was expected, not "2 0 3 4" at character 13'),
        ("M1 2 L nan 3", 'a number was expected, not "nan 3" at character 8'),
        ("M1 2 Linf 3", "a number was expected"),
        ("M1 2 L1e 3", "was expected"),
        ("M1 2 L1e13 3", "the number 1e13 is too large"),
        ("M1 2 L1e999 3", "the number 1e999 is too large"),
        ("M1 2 L" + "1" * 200 + " 3", "has 200 characters"),
        ("M0 0Z5 5", "was expected, not"),
        ("M0 0h" + "1 " * 100_001, "draws more than 100,000 curves"),
        ("M0 0" + "M1 1" * 100_001, "lifts the pen more than 100,000 times"),
    ],
)
def test_what_is_not_path_data_is_refused_at_its_place(data: str, what: str) -> None:
    with pytest.raises(Fault) as caught:
        read_path(data, "a.svg, line 3, hem")
    assert caught.value.where == "a.svg, line 3, hem"
    assert what in caught.value.what


def test_no_path_data_draw_nothing() -> None:
    assert read_path("", "path") == read_path(" \n", "path") == []


@pytest.mark.parametrize(
    "text",
    [
        "matrix(1.5 .5 -0.25 2 10 -20)",
        "translate(3)",
        "translate(3 -4)",
        "scale(2)",
        "scale(2,-3)",
        "rotate(30)",
        "rotate(-75 10 20)",
        "skewX(20)",
        "skewY(-35)",
        "translate(10 20) rotate(40) scale(3 2)",
        "scale(2),translate(1,2) matrix(1,0,0,1,5,5)",
    ],
)
def test_transforms_are_those_svgpathtools_reads(text: str) -> None:
    # svgpathtools.parser.parse_transform, a 3 x 3 matrix; its functions are SVG 1.1, section 7.6.
    matrix = np.asarray(parse_transform(text))
    point = 7 - 11j
    x, y, _ = matrix @ [point.real, point.imag, 1]
    ours = read_transform(text, "g")
    assert abs(ours(point) - complex(x, y)) < 1e-12
    assert ours.stretch == pytest.approx(np.linalg.norm(matrix[:2, :2], 2), rel=1e-12)


@pytest.mark.parametrize("text", ["", "none", "  "])
def test_no_transform_moves_nothing(text: str) -> None:
    assert read_transform(text, "g")(3 + 4j) == 3 + 4j


@pytest.mark.parametrize(
    "text",
    [
        "matrix(1 2 3)",
        "spin(4)",
        "rotate(1 2)",
        "scale()",
        "translate(1,2",
        "translate 1 2",
        "rotate(30deg)",
        "translate(1,)",
        "translate(1e99)",
        "()",
    ],
)
def test_what_is_no_transform_is_refused(text: str) -> None:
    with pytest.raises(Fault) as caught:
        read_transform(text, "a.svg, line 2, g")
    assert caught.value.where == "a.svg, line 2, g"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("96", 25.4),
        ("96px", 25.4),
        ("1in", 25.4),
        ("72pt", 25.4),
        ("6pc", 25.4),
        ("2.54cm", 25.4),
        ("25.4mm", 25.4),
        ("101.6Q", 25.4),
        (" 2.54e1MM ", 25.4),
        ("-1IN", -25.4),
    ],
)
def test_units_are_those_of_css(text: str, mm: float) -> None:
    # CSS Values and Units level 3, section 6.2: 1in = 2.54cm = 25.4mm = 101.6Q = 72pt = 6pc = 96px.
    assert read_mm(text, "svg") == pytest.approx(mm, rel=1e-15)
    assert read_px(text, "svg") == pytest.approx(mm * 96 / 25.4, rel=1e-15)


@pytest.mark.parametrize("text", ["", "mm", "10%", "3em", "2ex", "1 0mm", "1e400mm", "nan", "5km", "--1"])
def test_what_is_no_length_is_refused(text: str) -> None:
    for read in (read_mm, read_px):
        with pytest.raises(Fault):
            read(text, "svg")


def test_numbers_in_a_list_need_only_what_tells_them_apart() -> None:
    assert read_numbers(" 1,2 3-4.5.5 ", "points") == [1, 2, 3, -4.5, 0.5]
    assert read_numbers("", "points") == []
