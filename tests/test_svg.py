"""Patterns read from SVG pages as people and editors draw them, and written so that they read back the same."""

import itertools
import math
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from svgpathtools import parse_path

from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole
from tutor.pattern.cut_line import cut_line
from tutor.pattern.draft import DraftSpec, draft
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Mark, Sleeve
from tutor.pattern.svg_armhole import across_by_default
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg

PAGE = 'width="400mm" height="640mm" viewBox="-200 -160 400 640"'
BLOCK = {
    "cap-back": "M-170 0C-85 0-85-140 0-140",
    "cap-front": "M0-140C85-140 85 0 170 0",
    "underarm-front": "M170 0L110 450",
    "hem": "M110 450L-110 450",
    "underarm-back": "M-110 450L-170 0",
}
"""A sleeve of girth 340 and cap height 140, y down as on a page, its bicep line at y = 0."""
EXTRAS = """
<path id="grain" d="M0-100V400"/>
<line id="elbow-line" x1="-140" y1="225" x2="140" y2="225"/>
<circle id="notch-front" cx="85" cy="-70" r="1"/>
<path id="notch-back-1" d="M-85-70l-5-3"/>
"""
ARMHOLE = {
    "armhole-back": "M600 300C570 300 545 260 545 205C545 180 550 120 553 100",
    "side-back": "M600 300V500",
    "armhole-front": "M800 300C840 300 866 260 866 220C866 200 860 140 855 120",
}


def drawn(lines: dict[str, str], between: str = " ") -> str:
    return between.join(f'<path id="{name}" d="{data}"/>' for name, data in lines.items())


def page(inside: str, root: str = PAGE) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {root}>\n{inside}\n</svg>'.encode()


def read(inside: str, root: str = PAGE) -> Pattern:
    return read_svg(page(inside, root), "sleeve.svg")


def refused(inside: str, root: str = PAGE) -> str:
    with pytest.raises(Fault) as caught:
        read(inside, root)
    assert str(caught.value).startswith("sleeve.svg")
    assert caught.value.right
    return str(caught.value)


def furthest(a: Sleeve, b: Sleeve) -> float:
    """How far the control points, marks and grain line of one sleeve lie from another's, in mm."""
    assert [len(curve) for curve in a.curves()] == [len(curve) for curve in b.curves()]
    assert [(mark.name, mark.seam) for mark in a.marks] == [(mark.name, mark.seam) for mark in b.marks]
    gaps = [np.abs(one.controls - two.controls).max() for one, two in zip(a.curves(), b.curves(), strict=True)]
    gaps += [abs(a.mark_point(one) - b.mark_point(two)) for one, two in zip(a.marks, b.marks, strict=True)]
    gaps += [abs(one - two) for one, two in zip(a.grain, b.grain, strict=True)]
    return float(max(gaps))


BASE = read(drawn(BLOCK) + EXTRAS).sleeve


def test_a_block_is_read_as_it_is_drawn() -> None:
    assert abs(BASE.underarm_point_back + 170) < 1e-12
    assert abs(BASE.underarm_point_front - 170) < 1e-12
    assert abs(BASE.crown - 140j) < 1e-12
    assert abs(BASE.hem.start - (110 - 450j)) < 1e-12
    assert BASE.grain == (100j, -400j)
    assert {mark.name: mark.seam for mark in BASE.marks} == {
        "elbow-back": "underarm-back",
        "elbow-front": "underarm-front",
        "notch-front": "cap-front",
        "notch-back-1": "cap-back",
    }
    # By symmetry the middle of each half of the cap is halfway up and halfway out.
    assert [mark.u for mark in BASE.marks[2:]] == pytest.approx([0.5, 0.5], abs=1e-12)


def test_the_cap_seam_is_as_long_as_quadrature_says() -> None:
    # scipy.integrate.quad over the speed of the cubic (0, H), (b/2, H), (b/2, 0), (b, 0) with b = 170, H = 140.
    def speed(t: float) -> float:
        x = 3 * (85 * (1 - t) ** 2 + 85 * t**2)
        y = 3 * (2 * -140 * t * (1 - t))
        return math.hypot(x, y)

    half, _ = quad(speed, 0, 1, epsabs=1e-11)
    assert BASE.cap_back.length() + BASE.cap_front.length() == pytest.approx(2 * half, abs=1e-8)
    assert 2 * half == pytest.approx(463.72777, abs=5e-6)


@pytest.mark.parametrize(
    ("unit", "mm"),
    [
        ("mm", 1),
        ("cm", 10),
        ("in", 25.4),
        ("px", 25.4 / 96),
        ("pt", 25.4 / 72),
        ("pc", 25.4 / 6),
        ("Q", 0.25),
        ("", 25.4 / 96),
    ],
)
@pytest.mark.parametrize("box", [1.0, 0.37])
def test_the_scale_is_that_of_width_height_and_view_box(unit: str, mm: float, box: float) -> None:
    # CSS Values and Units level 3, section 6.2, and SVG 1.1, section 7.7: a page of 400 by 640 mm in any unit, its
    # viewBox in units of its own.
    root = f'width="{400 / mm!r}{unit}" height="{640 / mm!r}{unit}" viewBox="-200 -160 {400 / box!r} {640 / box!r}"'
    sleeve = read(f'<g transform="scale({1 / box!r})">{drawn(BLOCK) + EXTRAS}</g>', root).sleeve
    assert furthest(sleeve, BASE) < 1e-9


@pytest.mark.parametrize(
    "root",
    ["", 'width="400" height="640"', 'width="100%" height="100%"', 'width="1000mm" height="2000mm"'],
)
def test_without_a_view_box_units_are_pixels(root: str) -> None:
    sleeve = read(f'<g transform="scale({96 / 25.4!r})">{drawn(BLOCK) + EXTRAS}</g>', root).sleeve
    assert furthest(sleeve, BASE) < 1e-9


@pytest.mark.parametrize(
    ("root", "across", "down"),
    [
        ('width="400mm" viewBox="0 0 400 640"', 1, 1),
        ('height="640mm" viewBox="0 0 400 640"', 1, 1),
        ('width="100%" height="640mm" viewBox="0 0 400 640"', 1, 1),
        ('width="400mm" height="640mm" viewBox="0 0 200 640"', 1, 1),
        ('width="800mm" height="640mm" viewBox="0 0 400 640" preserveAspectRatio="xMinYMax"', 1, 1),
        ('width="800mm" height="640mm" viewBox="0 0 400 640" preserveAspectRatio="xMinYMax meet"', 1, 1),
        ('width="800mm" height="640mm" viewBox="0 0 400 640" preserveAspectRatio="xMidYMid slice"', 2, 2),
        ('width="800mm" height="640mm" viewBox="0 0 400 640" preserveAspectRatio="none"', 2, 1),
        ('width="400mm" height="320mm" viewBox="0 0 400 640" preserveAspectRatio="defer xMidYMid"', 0.5, 0.5),
    ],
)
def test_a_box_fits_its_page_as_preserve_aspect_ratio_says(root: str, across: float, down: float) -> None:
    # SVG 1.1, section 7.8.
    sleeve = read(drawn(BLOCK), root).sleeve
    assert abs(sleeve.underarm_point_front - sleeve.underarm_point_back) == pytest.approx(340 * across)
    assert sleeve.crown.imag == pytest.approx(140 * down)


@pytest.mark.parametrize(
    ("root", "what"),
    [
        ('viewBox="0 0 400 640"', "has a viewBox but no width and height as lengths"),
        ('width="100%" height="auto" viewBox="0 0 400 640"', "so its scale is unknown"),
        ('width="0" height="640mm" viewBox="0 0 400 640"', 'has the width "0"'),
        ('width="400mm" height="-1mm" viewBox="0 0 400 640"', 'has the height "-1mm"'),
        ('width="40em" height="64em" viewBox="0 0 400 640"', '"40em" is not a length'),
        ('width="400mm" height="640mm" viewBox="0 0 400"', 'has the viewBox "0 0 400"'),
        ('width="400mm" height="640mm" viewBox="0 0 0 640"', 'has the viewBox "0 0 0 640"'),
        ('width="400mm" height="640mm" viewBox="0 0 400 640" preserveAspectRatio="middle"', '"middle"'),
        ('width="40000mm" viewBox="0 0 1 1"', "lies beyond 100 m"),
    ],
)
def test_a_page_without_a_scale_is_refused(root: str, what: str) -> None:
    assert what in refused(drawn(BLOCK), root)


# The transform of a whole drawing that keeps its shape must leave the pattern what it is (SVG 1.1, section 7.6).
@pytest.mark.parametrize(
    "transform",
    [
        "translate(50,-70)",
        "rotate(180)",
        "rotate(90 30 40)",
        "rotate(-37.5)",
        "scale(-1)",
        "matrix(0 1 -1 0 20 30)",
        "matrix(.6 .8 -.8 .6 0 0)",
        "scale(2) rotate(30) scale(.5)",
        "skewX(20) skewX(-20)",
        "skewY(20) translate(3 4) skewY(-20)",
        "scale(-1 1) rotate(25) scale(1 -1)",
    ],
)
def test_a_drawing_may_lie_anyhow_on_its_page(transform: str) -> None:
    assert furthest(read(f'<g transform="{transform}">{drawn(BLOCK) + EXTRAS}</g>').sleeve, BASE) < 1e-9


def test_a_style_that_moves_nothing_is_no_matter() -> None:
    """CSS Transforms Level 1, section 3: the first value of the property is none, which transforms nothing."""
    inside = drawn(BLOCK) + EXTRAS
    for style in ("transform:none", "fill:none; transform : none; stroke:#000", "rotate:none;scale:none"):
        assert furthest(read(f'<g style="{style}">{inside}</g>').sleeve, BASE) < 1e-9
    with pytest.raises(Fault, match="places lines by the style transform"):
        read(f'<g style="transform:none" transform="translate(1)">{inside}</g>')
    with pytest.raises(Fault, match="places lines by the style rotate"):
        read(f'<g style="transform:none;rotate:3deg">{inside}</g>')


def test_groups_inside_groups_add_their_transforms_up() -> None:
    inside = f"""
    <defs><path id="spare" d="M0 0H1"/><g id="caps">{drawn({k: BLOCK[k] for k in ("cap-back", "cap-front")})}</g></defs>
    <a transform="translate(10,0)"><g transform="rotate(30)"><switch>
      <g transform="rotate(-30) translate(-10 0)">
        <use href="#caps" x="5" transform="translate(-5)"/>
        <svg x="7" y="8"><g transform="translate(-7,-8)">{drawn({k: BLOCK[k] for k in SEAMS[2:4]})}</g></svg>
        <svg width="340" height="450" viewBox="0 0 680 900" x="-170" y="0">
          <path id="underarm-back" transform="scale(2)" d="M60 450L0 0"/>
        </svg>
        {EXTRAS}
      </g>
    </switch></g></a>"""
    assert furthest(read(inside).sleeve, BASE) < 1e-9


def test_old_links_are_followed_too() -> None:
    inside = f"""<defs xmlns:x="http://www.w3.org/1999/xlink">{drawn(BLOCK)}</defs>
    {"".join(f'<use xmlns:x="http://www.w3.org/1999/xlink" x:href="#{name}"/>' for name in BLOCK)}{EXTRAS}"""
    assert furthest(read(inside).sleeve, BASE) < 1e-9


def test_an_id_may_stand_on_a_group_or_on_a_use() -> None:
    seams = {name: BLOCK[name] for name in SEAMS[1:4]}
    inside = f"""<defs><path id="line" d="{BLOCK["cap-back"]}"/></defs>
    <use id="cap-back" href="#line"/>{drawn(seams)}
    <g id="underarm-back"><text>back</text><g><path d="M-110 450L-140 225"/></g><line x1="-170" x2="-140" y2="225"/></g>
    {EXTRAS}"""
    sleeve = read(inside).sleeve
    assert len(sleeve.underarm_back) == 2
    assert abs(sleeve.cap_back.start - BASE.cap_back.start) < 1e-12
    assert sleeve.mark_point(sleeve.marks[0]) == pytest.approx(-140 - 225j)


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("hem", '<line id="hem" x1="110" y1="450" x2="-110" y2="450"/>'),
        ("hem", '<polyline id="hem" points="110,450-110 450"/>'),
        ("hem", '<path id="hem" d="m110,450h-220"/>'),
        ("hem", '<path id="hem" d="M-110 450H110" style="fill:none;stroke-dasharray:3"/>'),
        ("cap-front", '<path id="cap-front" d="m0-140c85 0 85 140 170 140"/>'),
        ("cap-front", '<path id="cap-front" d="M0-140C85-140 85 0 170 0l0 0h0"/>'),
        ("underarm-back", '<path id="underarm-back" d="M-110 450V450L-170 0"/>'),
        (
            "hem",
            '<line id="hem" x1="11cm" y1="4.5e2mm" x2="-440Q" y2="45cm" transform="scale(.26458333333333333)"/>',
        ),
    ],
)
def test_seams_may_be_any_line(name: str, shape: str) -> None:
    inside = drawn({key: data for key, data in BLOCK.items() if key != name}) + shape + EXTRAS
    assert furthest(read(inside).sleeve, BASE) < 1e-9


@settings(max_examples=40)
@given(st.permutations(list(BLOCK)), st.sets(st.sampled_from(list(BLOCK))))
def test_seams_may_be_drawn_in_any_order_and_direction(order: list[str], turned: set[str]) -> None:
    lines = {}
    for name in order:
        path = parse_path(BLOCK[name])
        lines[name] = (path.reversed() if name in turned else path).d()
    assert furthest(read(drawn(lines) + EXTRAS).sleeve, BASE) < 1e-9


def test_a_cap_of_arcs_and_quadratics_is_read() -> None:
    # A quarter circle of radius 150 is 75 pi long; the parabola y = 4 H x (L - x) / L^2 under a chord of 2b = 340 and
    # height 140 has the closed length b sqrt(1 + q^2) + (b / q) asinh q, q = 2H / b.
    arcs = {
        "cap-back": "M-150 0A150 150 0 0 1 0-150",
        "cap-front": "M0-150A150 150 0 0 1 150 0",
        "underarm-front": "M150 0L110 450",
        "underarm-back": "M-110 450L-150 0",
        "hem": BLOCK["hem"],
    }
    sleeve = read(drawn(arcs)).sleeve
    assert sleeve.cap_back.length() == pytest.approx(75 * math.pi, abs=1e-6)
    parabola = BLOCK | {"cap-back": "M-170 0Q-85-140 0-140", "cap-front": "M0-140T170 0"}
    half = BLOCK | {"cap-back": "M-170 0Q-85-140 0-140", "cap-front": "M0-140Q85-140 170 0"}
    q = 2 * 140 / 170
    whole = 170 * math.sqrt(1 + q * q) + 170 / q * math.asinh(q)
    sleeve = read(drawn(half)).sleeve
    assert sleeve.cap_back.length() + sleeve.cap_front.length() == pytest.approx(whole, abs=1e-9)
    assert read(drawn(parabola)).sleeve.cap_front.length() == pytest.approx(math.hypot(170, 140), abs=1e-9)


@pytest.mark.parametrize("gap", [1e-9, 1e-3, 0.3, 0.499])
def test_ends_that_nearly_meet_are_closed_in_the_middle(gap: float) -> None:
    lines = BLOCK | {"underarm-front": f"M{170 + gap!r} 0L110 450"}
    sleeve = read(drawn(lines)).sleeve
    corners = sleeve.cap_front.end, sleeve.underarm_front.start
    assert corners[0] == corners[1]
    assert abs(corners[0] - sleeve.underarm_point_back) == pytest.approx(340 + gap / 2, abs=1e-9)
    # A straight seam stays straight, a curve keeps its direction at the end.
    row = sleeve.underarm_front.controls[0]
    assert abs(((row[1] - row[0]) / (row[3] - row[0])).imag) < 1e-12
    assert sleeve.cap_front.tangent(1.0, arriving=True).imag == pytest.approx(0, abs=1e-12)


def test_ends_that_miss_are_named_with_their_gap() -> None:
    text = refused(drawn(BLOCK | {"underarm-front": "M173 4L110 450"}, "\n"))
    assert text.startswith("sleeve.svg, line 3, cap-front: misses underarm-front by 5.00 mm;")


def test_a_seam_in_pieces_is_joined_where_they_meet() -> None:
    pieces = read(drawn(BLOCK | {"hem": "M-110 450H0M110 450H0.2"})).sleeve
    assert len(pieces.hem) == 2
    assert "hem: is drawn in 2 lines that miss each other by 0.70 mm" in refused(
        drawn(BLOCK | {"hem": "M-110 450H0M110 450H0.7"})
    )


@pytest.mark.parametrize("mirror", ["scale(-1,1)", "scale(1,-1)", "matrix(0 1 1 0 0 0)"])
def test_a_mirrored_sleeve_is_refused(mirror: str) -> None:
    text = refused(f'<g transform="{mirror}">{drawn(BLOCK) + EXTRAS}</g>')
    assert "cap-back lies to the right of cap-front" in text


def test_every_missing_seam_is_named() -> None:
    text = refused('<path id="cap-back" d="M0 0H9"/><path id="Hem" d="M0 0H9"/>')
    assert "draws no line with the id cap-front, underarm-front, hem, underarm-back" in text
    assert "the ids found are cap-back, Hem" in text


@pytest.mark.parametrize("around", ["defs", "symbol", "clipPath", "mask", "marker", "pattern", "foreignObject"])
def test_what_only_lies_ready_is_not_drawn(around: str) -> None:
    others = {name: BLOCK[name] for name in SEAMS[1:]}
    inside = f"<{around}>{drawn({'cap-back': BLOCK['cap-back']})}</{around}>{drawn(others)}"
    assert "draws no line with the id cap-back;" in refused(inside)


def test_other_lines_and_other_languages_mean_nothing() -> None:
    inside = f"""<o:view xmlns:o="urn:other"><path id="hem" d="no path"/><o:path id="grain"/></o:view>
    <path id="cut-line" d="M0 0L1 1Z"/><path id="seam 7" d="not path data"/><text x="3em">wide</text>
    <image href="https://example.org/x.png"/><use href="other.svg#a"/>{drawn(BLOCK) + EXTRAS}"""
    assert furthest(read(inside).sleeve, BASE) < 1e-9


def test_without_a_grain_line_the_grain_hangs_from_the_crown() -> None:
    slanted = BLOCK | {"hem": "M110 450L-110 430", "underarm-back": "M-110 430L-170 0"}
    sleeve = read(f'<g transform="rotate(20)">{drawn(slanted)}</g>').sleeve
    assert abs(sleeve.crown - 140j) < 1e-9
    assert abs(sleeve.underarm_point_back.imag) < 1e-9
    assert abs(sleeve.grain[0] - 140j) < 1e-9
    assert abs(sleeve.grain[1] + 450j) < 1e-9


def test_the_grain_line_may_carry_arrow_heads_and_point_either_way() -> None:
    grain = '<g id="grain"><path d="M-3 395L0 400L3 395M0 400V-100M-3-95L0-100L3-95"/></g>'
    sleeve = read(drawn(BLOCK) + grain).sleeve
    assert sleeve.grain == (100j, -400j)


@pytest.mark.parametrize(
    ("more", "what"),
    [
        ('<path id="grain" d="M0 0h400"/>', "grain: is more than 60° off square to the bicep line"),
        ('<path id="grain" d="M0 0v.5"/>', "grain: is shorter than 1 mm"),
        ('<path id="bicep-line" d="M-170 0L170 4"/>', "bicep-line: passes an underarm point by 4.00 mm"),
        ('<path id="elbow-line" d="M-130 225H130"/>', "elbow-line: ends 9.91 mm from underarm-back"),
        ('<circle id="notch-front" cx="85" cy="-90"/>', "notch-front: lies "),
        ('<path id="notch-front" d=""/>', "notch-front: marks no point"),
        ('<path id="hem-mark-slit" d="M0 440v-20"/>', "hem-mark-slit: lies 10.00 mm from hem"),
        ('<circle id="notch-front" cx="85%" cy="-70"/>', '"85%" is not a length'),
        ('<path id="side-back" d="M0 0v9"/>', "side-back: belongs to no armhole-back"),
        ('<path id="across-front" d="M0 0v9"/>', "across-front: belongs to no armhole-front"),
        ('<path id="armhole-notch-front" d="M0 0v9"/>', "armhole-notch-front: belongs to no armhole-front"),
        ('<path id="armhole-notch-low" d="M0 0v9"/>', "belongs to no armhole-back or armhole-front"),
    ],
)
def test_marks_that_miss_are_refused(more: str, what: str) -> None:
    assert what in refused(drawn(BLOCK) + more)


def test_words_are_no_notches() -> None:
    assert read(drawn(BLOCK) + '<text id="notch-front">front</text>').sleeve.marks == ()


def test_marks_find_their_seams() -> None:
    inside = f"""{drawn(BLOCK)}<rect id="notch-back-2" x="-86" y="-71" width="2" height="2"/>
    <ellipse id="notch-crown" cx="0.1" cy="-140" rx="1" ry="1"/><path id="notch-slit" d="M20 450v-30"/>
    <g id="notch-front-low"><circle cx="140" cy="225" r="2"/></g><path id="hem-mark-pleat a" d="M0 450v-9"/>"""
    marks = {mark.name: mark.seam for mark in read(inside).sleeve.marks}
    assert marks == {
        "notch-back-2": "cap-back",
        "notch-crown": "cap-front",
        "notch-slit": "hem",
        "notch-front-low": "underarm-front",
        "pleat a": "hem",
    }


def test_the_elbow_line_may_run_on_beyond_the_seams() -> None:
    sleeve = read(drawn(BLOCK) + '<path id="elbow-line" d="M190 225H-190"/>').sleeve
    points = {mark.name: sleeve.mark_point(mark) for mark in sleeve.marks}
    assert points["elbow-back"] == pytest.approx(-140 - 225j)
    assert points["elbow-front"] == pytest.approx(140 - 225j)


def test_armholes_are_read_from_underarm_to_shoulder() -> None:
    marks = """<circle id="across-back" cx="545" cy="205"/><path id="armhole-notch-back-1" d="M545 205l4 4"/>
    <path id="armhole-notch-front" d="M866 220h-4"/>"""
    for turned in itertools.product((False, True), repeat=3):
        lines = {
            name: (parse_path(data).reversed() if turn else parse_path(data)).d()
            for (name, data), turn in zip(ARMHOLE.items(), turned, strict=True)
        }
        pattern = read(drawn(BLOCK | lines) + marks)
        back, front = pattern.armhole_back, pattern.armhole_front
        assert back is not None
        assert front is not None
        assert back.underarm_point == front.underarm_point == 0
        assert back.shoulder_tip == pytest.approx(-47 + 200j)
        assert back.across == pytest.approx(1, abs=1e-9)
        assert back.side_seam is not None
        assert back.side_seam.start == 0
        assert back.side_seam.end == pytest.approx(-200j)
        assert [(mark.name, mark.seam) for mark in back.marks] == [("notch-back-1", "armhole-back")]
        assert back.marks[0].u == pytest.approx(1, abs=1e-9)
        assert front.across == pytest.approx(1, abs=1e-9)
        assert front.side_seam is None
        assert front.mark("notch-front") is not None


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"armhole-back": "M600 300H545"}, "armhole-back: rises by 0.0 mm"),
        ({"side-back": "M603 304V500"}, "side-back: misses the lower end of armhole-back by 5.00 mm"),
        ({"side-back": "M553 100V50"}, "side-back: misses the lower end of armhole-back"),
        ({"side-back": "M600 300H800"}, "side-back: does not run down from the underarm point"),
        ({"across-back": "M600 300h3"}, "across-back: lies at the underarm point"),
        ({"across-back": "M580 200h3"}, "across-back: lies "),
        ({"armhole-front": "M0 0L10 50L0 0Z"}, "armhole-front: is a closed shape"),
    ],
)
def test_armholes_that_make_no_piece_are_refused(change: dict[str, str], what: str) -> None:
    assert what in refused(drawn(BLOCK | ARMHOLE | change))


@pytest.mark.parametrize("angle", [60, 90, 180])
def test_bodice_pieces_that_may_not_be_upright_are_refused(angle: int) -> None:
    names = ["armhole-front", "armhole-back", "side-back"]
    front, back = ({name: ARMHOLE[name] for name in some} for some in (names[:1], names[1:]))
    text = refused(f'<g transform="rotate({angle})">{drawn(BLOCK | front)}</g>')
    assert "armhole-front: may be drawn any way up, since the sleeve is not upright" in text
    assert "side-back: " in refused(f'<g transform="rotate({angle})">{drawn(BLOCK | back)}</g>')
    # The sleeve alone is turned.
    pattern = read(f'<g transform="rotate({angle})">{drawn(BLOCK)}</g>{drawn(back)}')
    assert pattern.armhole_back is not None
    assert pattern.armhole_back.shoulder_tip == pytest.approx(-47 + 200j)


def test_the_across_point_is_the_deepest_place() -> None:
    # A quarter ellipse about (0, 20) is upright at its end (60, 20); from there a circle about (-140, 20) turns back.
    seam = read(drawn(BLOCK | {"armhole-front": "M0 100A60 80 0 0 0 60 20A200 200 0 0 0 33.205081-80"})).armhole_front
    assert seam is not None
    assert abs(seam.across_point - (60 + 80j)) < 1e-4
    # Straight all the way, nothing lies deeper than the shoulder tip: half way up.
    straight = Curve.line(0j, 20 + 30j, 60 + 200j)
    assert straight.point(across_by_default(straight)).imag == pytest.approx(100)
    # One cubic whose x, in Bernstein form 0, 3, 3, 2 (tens), stands still where 9 (1-t)^2 - 3 t^2 = 0.
    bent = Curve.bezier(0j, 30 + 10j, 30 + 80j, 20 + 150j)
    assert across_by_default(bent) == pytest.approx((3 - math.sqrt(3)) / 2, abs=1e-12)


@pytest.mark.parametrize(
    ("lines", "what"),
    [
        ({"hem": "M110 450L-300 100L300 100L-110 450"}, "has an outline that touches or crosses itself"),
        ({"hem": "M110 450V451"}, "misses"),
        ({"hem": "M110 450H-110Z"}, "hem: is a closed shape"),
        ({"hem": ""}, "hem: draws no line"),
        ({"hem": "M110 450"}, "hem: is 0 mm long"),
        ({"hem": "M110 450h0"}, "hem: is 0 mm long"),
        ({"cap-back": "M-170 0L0 -.5", "cap-front": "M0-.5L170 0"}, "has a cap height of 0.5 mm"),
        ({"cap-back": "M-170 0L0 100", "cap-front": "M0 100L170 0"}, "has a cap height of -100.0 mm"),
    ],
)
def test_seams_that_make_no_sleeve_are_refused(lines: dict[str, str], what: str) -> None:
    assert what in refused(drawn(BLOCK | lines))


def test_a_tiny_sleeve_is_a_wrong_scale() -> None:
    assert "has a bicep girth of 3.4 mm" in refused(f'<g transform="scale(.01)">{drawn(BLOCK)}</g>')


@pytest.mark.parametrize(
    "shape",
    ['<rect id="hem" width="9" height="9"/>', '<polygon id="hem" points="0 0 9 9 0 9"/>', '<circle id="hem" r="9"/>'],
)
def test_shapes_without_ends_are_no_seams(shape: str) -> None:
    lines = {name: data for name, data in BLOCK.items() if name != "hem"}
    assert "hem: is a closed shape; a seam is an open line" in refused(drawn(lines) + shape)


def test_the_title_is_one_line() -> None:
    assert read(f"<title>\n  Blouse &amp;\n block\u200b </title>{drawn(BLOCK)}").title == "Blouse & block"
    assert read(drawn(BLOCK)).title == ""


def test_files_are_read_from_disk(tmp_path: Path) -> None:
    path = tmp_path / "sleeve.svg"
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"):
        path.write_bytes(page(f"<title>Ärmel 袖</title>{drawn(BLOCK) + EXTRAS}").decode().encode(encoding))
        pattern = read_svg(path, "sleeve.svg")
        assert furthest(pattern.sleeve, BASE) < 1e-12
        assert pattern.title == "Ärmel 袖"


NAMES = st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=8)


@st.composite
def armholes(draw: st.DrawFn, side: str) -> Armhole:
    width, depth = draw(st.floats(40, 80)), draw(st.floats(150, 220))
    across = complex(width, depth * draw(st.floats(0.3, 0.6)))
    tip = complex(width - draw(st.floats(0, 15)), depth)
    controls = [[0, 0.6 * width, across - 30j, across], [across, across + 25j, (across + tip) / 2, tip]]
    seam = Curve(np.array(controls))
    seam = seam.mirrored() if side == "front" else seam
    names = draw(st.lists(st.sampled_from(["notch-back-1", "notch-front", "notch-x", "slit"]), unique=True))
    marks = tuple(Mark(name, f"armhole-{side}", draw(st.floats(0.1, 1.9))) for name in names)
    side_seam = Curve.line(0j, draw(st.floats(-9, 9)) - 200j) if draw(st.booleans()) else None
    there = Move(1 + 0j, complex(draw(st.floats(-500, 500)), draw(st.floats(-500, 500))))
    return Armhole(side, seam, draw(st.floats(0.5, 1.5)), side_seam, marks).moved(there)


@st.composite
def sleeves(draw: st.DrawFn) -> Sleeve:
    back, front, cap = draw(st.floats(120, 230)), draw(st.floats(120, 230)), draw(st.floats(60, 200))
    crown = complex(draw(st.floats(-20, 20)), cap)
    length = draw(st.floats(120, 600))
    hem_back, hem_front = draw(st.floats(80, 120)) + 1j * length, draw(st.floats(80, 120)) - 1j * length
    hem_back = -hem_back
    seams = [
        Curve.bezier(-back + 0j, -0.5 * back + 0j, crown - 0.4 * back, crown),
        Curve.bezier(crown, crown + 0.4 * front, 0.5 * front + 0j, front + 0j),
        Curve.bezier(front + 0j, front - 5 - 30j, hem_front + 3 + 20j, hem_front),
        Curve.bezier(hem_front, 40 - 1j * (length - 7), -40 - 1j * (length + 7), hem_back),
        Curve.line(hem_back, -back + 0j),
    ]
    cuts = draw(st.lists(st.floats(0.1, 0.9), min_size=5, max_size=5))
    split = draw(st.lists(st.booleans(), min_size=5, max_size=5))
    seams = [
        Curve.join(seam.cut([at])) if wanted else seam for seam, at, wanted in zip(seams, cuts, split, strict=True)
    ]
    marks = [Mark("notch-front", "cap-front", 0.3), Mark("notch-back-1", "cap-back", draw(st.floats(0, 1)))]
    for name in draw(st.lists(NAMES, unique=True, max_size=3)):
        seam = draw(st.integers(0, 4))
        marks.append(Mark(name, SEAMS[seam], draw(st.floats(0, 1)) * len(seams[seam])))
    elbow = [Mark(f"elbow-{side}", f"underarm-{side}", draw(st.floats(0.2, 0.8))) for side in ("front", "back")]
    marks = draw(st.permutations([*marks, *draw(st.sampled_from([[], elbow, elbow[:1], elbow[::-1]]))]))
    grain = (1j * draw(st.floats(-10, 50)), -1j * draw(st.floats(60, 100)))
    one, two, three, four, five = seams
    return Sleeve(one, two, three, four, five, tuple(marks), grain)


@settings(max_examples=60)
@given(
    sleeves(),
    st.none() | armholes("back"),
    st.none() | armholes("front"),
    st.text(),
    st.sampled_from([0.0, 6.0, 15.0]),
)
def test_what_was_written_reads_back_the_same(
    sleeve: Sleeve, back: Armhole | None, front: Armhole | None, title: str, allowance: float
) -> None:
    pattern = Pattern(sleeve.framed(), back, front, title)
    text = write_svg(pattern, allowance=allowance)
    again = read_svg(text.encode(), "written.svg")
    assert furthest(again.sleeve, pattern.sleeve) < 1e-9
    assert again.title.isprintable()
    assert again.title.split() == "".join(c for c in title if c.isprintable() or c.isspace()).split()
    for side in ("back", "front"):
        there, here = again.armhole(side), pattern.armhole(side)
        if there is None or here is None:
            assert there is here
            continue
        assert np.abs(there.seam.controls - here.seam.controls).max() < 1e-9
        assert abs(there.across_point - here.across_point) < 1e-9
        assert [(mark.name, mark.seam) for mark in there.marks] == [(m.name, m.seam) for m in here.marks]
        for one, two in zip(there.marks, here.marks, strict=True):
            assert abs(there.seam.point(one.u) - here.seam.point(two.u)) < 1e-9
        assert (there.side_seam is None) == (here.side_seam is None)
        if there.side_seam and here.side_seam:
            assert np.abs(there.side_seam.controls - here.side_seam.controls).max() < 1e-9


FULL = read(drawn(BLOCK | ARMHOLE) + EXTRAS + "<title>Invented &amp; tried</title>")


def test_a_written_page_is_in_millimetres_with_a_margin() -> None:
    root = ET.fromstring(write_svg(FULL))
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert root.attrib["width"] == f"{width:g}mm"
    assert root.attrib["height"] == f"{height:g}mm"
    # svgpathtools as the reader of what is drawn.
    boxes = []
    for group in root.iter("{http://www.w3.org/2000/svg}g"):
        place = group.get("transform", "translate(0,0)").removeprefix("translate(").removesuffix(")")
        x, y = map(float, place.split(","))
        for path in group.iter("{http://www.w3.org/2000/svg}path"):
            x0, x1, y0, y1 = parse_path(path.attrib["d"]).bbox()
            boxes.append((x0 + x - left, left + width - x1 - x, y0 + y - top, top + height - y1 - y))
    assert 10 <= min(map(min, boxes)) < 11.1
    assert min(box[0] for box in boxes) < 11.1
    assert min(box[3] for box in boxes) < 11.1


def test_a_written_page_has_each_line_under_its_id() -> None:
    root = ET.fromstring(write_svg(FULL, allowance=10))
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(set(ids)) == len(ids)
    assert {*BLOCK, *ARMHOLE, "grain", "bicep-line", "elbow-line", "notch-front", "notch-back-1"} <= set(ids)
    assert {"across-back", "across-front", "cut-line"} <= set(ids)
    title = root.find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text == "Invented & tried"


def test_pieces_lie_beside_each_other() -> None:
    root = ET.fromstring(write_svg(FULL, allowance=15))
    spans = {}
    for group in root.iter("{http://www.w3.org/2000/svg}g"):
        x = float(group.get("transform", "translate(0,0)").removeprefix("translate(").split(",")[0])
        boxes = [parse_path(path.attrib["d"]).bbox() for path in group.iter("{http://www.w3.org/2000/svg}path")]
        spans[group.attrib["id"]] = (min(box[0] for box in boxes) + x, max(box[1] for box in boxes) + x)
    assert spans["bodice-back"][1] + 19 < spans["sleeve"][0]
    assert spans["sleeve"][1] + 19 < spans["bodice-front"][0]


@pytest.mark.parametrize("allowance", [1.0, 10.0, 25.0])
def test_the_cut_line_is_the_outline_with_allowance(allowance: float) -> None:
    # shapely's buffer with mitred corners, of an outline flattened to 1e-5 mm.
    outline = BASE.outline(1e-5)
    around = shapely.Polygon(np.column_stack([outline.real, outline.imag]))
    wanted = around.buffer(allowance, join_style="mitre", mitre_limit=5)
    ring = cut_line(BASE, allowance)
    found = shapely.Polygon(np.column_stack([ring.real, ring.imag]))
    assert found.is_valid
    assert found.symmetric_difference(wanted).area < 0.02 * around.length
    assert shapely.hausdorff_distance(found.exterior, wanted.exterior) < 0.1


def test_the_cut_line_of_a_deep_hollow_has_no_loop() -> None:
    # The hollow's radius of about 20 mm is less than the allowance.
    lines = BLOCK | {"cap-front": "M0-140C50-140 60-30 60-20C60 0 70 0 80 0L170 0"}
    ring = cut_line(read(drawn(lines)).sleeve, 40.0)
    assert shapely.Polygon(np.column_stack([ring.real, ring.imag])).is_valid


@pytest.mark.parametrize("allowance", [-1.0, math.nan, math.inf])
def test_an_allowance_that_is_none_is_refused(allowance: float) -> None:
    with pytest.raises(ValueError, match="seam allowance"):
        write_svg(FULL, allowance=allowance)


def test_two_marks_of_one_name_on_one_seam_are_refused() -> None:
    marks = (Mark("notch-front", "cap-front", 0.2), Mark("notch-front", "cap-front", 0.7))
    with pytest.raises(ValueError, match="same name"):
        write_svg(Pattern(replace(BASE, marks=marks)))


def test_a_sleeve_without_a_mark_is_written_and_read_back() -> None:
    drawn = draft(
        DraftSpec(armhole_front=215, armhole_back=225, cap_ease=20, bicep_girth=330, sleeve_length=590, hem_girth=240)
    )
    bare = replace(drawn, sleeve=replace(drawn.sleeve, marks=()))
    back = read_svg(write_svg(bare).encode(), "bare.svg").sleeve
    assert back.marks == ()
    np.testing.assert_allclose(back.rows(), bare.sleeve.rows(), atol=1e-9)
