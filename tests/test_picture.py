"""The picture: scenes, what plotext makes of them in braille and in ASCII, and the way back to the plane."""

import unicodedata
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tutor.picture.chart import Chart, draw
from tutor.picture.looks import Look, Sign, legend
from tutor.picture.scene import Bounds, Mark, Patch, Scene, Stroke, Window

LINES = [look for look in Look if not look.is_area]
SQUARE = np.array([-50 - 50j, 50 - 50j, 50 + 50j, -50 + 50j])

# Bits of the eight dots by row and column: Unicode Standard, block Braille Patterns (U+2800 to U+28FF).
BRAILLE_BITS = np.array([[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]])


def dots(chart: Chart) -> NDArray[np.bool_]:
    """The lit dots of a braille picture, shape (4 rows, 2 columns)."""
    codes = np.array([[ord(letter) for letter in line] for line in chart.lines()])
    bits = np.where(codes >= 0x2800, codes - 0x2800, 0)
    lit = (bits[:, :, None, None] & BRAILLE_BITS).transpose(0, 2, 1, 3)
    return np.asarray(lit.reshape(4 * bits.shape[0], 2 * bits.shape[1]) > 0)


def inked(chart: Chart) -> NDArray[np.bool_]:
    """The cells of a picture that aren't blank, shape (rows, columns)."""
    return np.array([[letter != " " for letter in line] for line in chart.lines()])


def level(look: Look, length: float, slope: float = 0.0) -> Scene:
    return Scene((Stroke(np.array([0, complex(length, slope * length)]), look),))


def circle(radius: float, count: int = 400) -> NDArray[np.complex128]:
    return np.asarray(radius * np.exp(1j * np.linspace(0, 2 * np.pi, count)))


# --- true proportion -----------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(20, 10), (50, 20), (70, 34), (120, 40), (31, 40), (300, 100)])
@pytest.mark.parametrize("count", [60, 400, 3000])
def test_circle_is_as_many_dots_wide_as_high(size: tuple[int, int], count: int) -> None:
    # Closed form: a circle is as wide as it is high, and all its points are as far from the centre.
    scene = Scene((Stroke(circle(100, count), Look.AFTER),))
    lit = dots(draw(scene, Window(0j, 210, 210), *size))
    down, across = np.nonzero(lit)
    assert abs(np.ptp(across) - np.ptp(down)) <= 1
    middle = complex(2 * size[0] - 1, 4 * size[1] - 1) / 2
    radius = np.abs(across + 1j * down - middle)
    assert np.ptp(radius) <= 2
    assert np.ptp(across) == pytest.approx(2 * radius.mean(), abs=1.5)


@pytest.mark.parametrize("size", [(20, 10), (50, 20), (70, 34), (120, 40), (31, 40)])
def test_circle_in_ascii_is_twice_as_many_cells_wide_as_high(size: tuple[int, int]) -> None:
    # A terminal's cell is taken as twice as high as wide.
    scene = Scene((Stroke(circle(100), Look.AFTER),))
    down, across = np.nonzero(inked(draw(scene, Window(0j, 210, 210), *size, ascii=True)))
    assert abs(np.ptp(across) - 2 * np.ptp(down)) <= 2
    middle = complex(size[0] - 1, 2 * (size[1] - 1)) / 2
    assert np.ptp(np.abs(across + 2j * down - middle)) <= 3


def test_circle_has_no_holes() -> None:
    lit = dots(draw(Scene((Stroke(circle(100), Look.AFTER),)), Window(0j, 210, 210), 60, 30))
    padded = np.pad(lit, 1)
    around = [np.roll(padded, (i, j), (0, 1)) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    # Every dot has itself and two neighbours.
    assert (np.sum(around, axis=0)[padded] >= 3).all()


@pytest.mark.parametrize(("columns", "rows"), [(40, 20), (9, 3), (100, 31)])
def test_window_of_the_dots_own_proportion_reaches_the_outermost_dots(columns: int, rows: int) -> None:
    # (x range) / (y range) = (2 columns - 1) / (4 rows - 1), from centre to centre of the outermost dots.
    width, height = 2 * columns - 1.0, 4 * rows - 1.0
    corners = [complex(x, y) for x in (-width / 2, width / 2) for y in (-height / 2, height / 2)]
    scene = Scene(tuple(Stroke(np.array([corner]), Look.AFTER) for corner in corners))
    lit = dots(draw(scene, Window(0j, width, height), columns, rows))
    assert lit.sum() == 4
    assert lit[[0, 0, -1, -1], [0, -1, 0, -1]].all()


# --- where things are ----------------------------------------------------------------------------------

sizes = st.tuples(st.integers(1, 90), st.integers(1, 40))
coordinates = st.floats(-400, 400)
windows = st.builds(Window, st.builds(complex, coordinates, coordinates), st.floats(0.5, 900), st.floats(0.5, 900))


@given(windows, sizes, st.booleans(), coordinates, coordinates)
@settings(deadline=None, max_examples=60)
def test_cells_and_points_are_inverse_within_half_a_cell(
    window: Window, size: tuple[int, int], ascii: bool, x: float, y: float
) -> None:
    chart = draw(Scene(), window, *size, ascii=ascii)
    width = (chart.to_point(1, 0) - chart.to_point(0, 0)).real
    height = (chart.to_point(0, 0) - chart.to_point(0, 1)).imag
    assert height == pytest.approx(2 * width)
    for cell in [(0, 0), (size[0] - 1, size[1] - 1), (size[0] // 2, size[1] // 3)]:
        assert chart.to_cell(chart.to_point(*cell)) == cell
    for cell in [(-1, 0), (0, -1), (size[0], 0), (0, size[1])]:
        assert chart.to_cell(chart.to_point(*cell)) is None
    point = complex(x, y)
    found = chart.to_cell(point)
    if found:
        away = chart.to_point(*found) - point
        assert abs(away.real) <= width * 0.500001
        assert abs(away.imag) <= height * 0.500001


@given(windows, sizes, st.booleans(), st.floats(0.001, 0.999), st.floats(0.001, 0.999))
@settings(deadline=None, max_examples=60)
def test_a_point_is_drawn_in_the_cell_it_maps_to(
    window: Window, size: tuple[int, int], ascii: bool, right: float, up: float
) -> None:
    point = window.centre + complex((right - 0.5) * window.width_mm, (up - 0.5) * window.height_mm)
    chart = draw(Scene((Stroke(np.array([point]), Look.AFTER),)), window, *size, ascii=ascii)
    ((row, column),) = np.argwhere(inked(chart))
    away = chart.to_point(int(column), int(row)) - point
    width = (chart.to_point(1, 0) - chart.to_point(0, 0)).real
    # Up to a hundredth of a dot, where plotext's canvas begins.
    assert abs(away.real) <= width * 0.511
    assert abs(away.imag) <= 2 * width * 0.511


@pytest.mark.parametrize("ascii", [False, True])
def test_fit_shows_everything(ascii: bool) -> None:
    scene = Scene(
        (Stroke(np.array([-170, 145j, 170, 120 - 430j, -120 - 430j]), Look.AFTER),),
        marks=(Mark(-190 + 3j, Sign.MARKER),),
    )
    assert scene.bounds() == Bounds(-190 - 430j, 170 + 145j)
    for size in [(50, 20), (200, 10), (12, 60)]:
        chart = draw(scene, Window.fit(scene.bounds(), 0), *size, ascii=ascii)
        ends = [chart.to_cell(point) for point in (*scene.strokes[0].points, -190 + 3j)]
        assert None not in ends
        ink = inked(chart)
        assert all(ink[row, column] for column, row in filter(None, ends))


def test_lines_from_far_outside_are_cut_at_the_edge() -> None:
    far = Scene((Stroke(np.array([-1e8 - 1e8j, 1e8 + 1e8j]), Look.AFTER),))
    near = Scene((Stroke(np.array([-60 - 60j, 60 + 60j]), Look.AFTER),))
    window = Window(0j, 100, 100)
    assert draw(far, window, 40, 20).lines() == draw(near, window, 40, 20).lines()
    beside = Scene((Stroke(np.array([-60 + 200j, 60 + 200j, 300 - 60j]), Look.AFTER),))
    assert not inked(draw(beside, window, 40, 20)).any()


def test_empty_scene_is_blank_at_every_size() -> None:
    for columns, rows in [(1, 1), (1, 9), (9, 1), (300, 100)]:
        for ascii in (False, True):
            lines = draw(Scene(), Window(0j, 1, 1), columns, rows, ascii=ascii).lines()
            assert lines == [" " * columns] * rows


def test_full_scene_keeps_its_size_from_1_x_1_up() -> None:
    scene = Scene(
        tuple(Stroke(circle(10 + 3 * place), look) for place, look in enumerate(LINES)),
        (Patch((circle(9),), Look.GAP), Patch((circle(40),), Look.OVERLAP)),
        tuple(Mark(circle(30)[9 * place], sign, sign.value) for place, sign in enumerate(Sign)),
    )
    for columns, rows in [(1, 1), (1, 9), (9, 1), (2, 2), (80, 24), (300, 100)]:
        for ascii in (False, True):
            lines = draw(scene, Window.fit(scene.bounds(), 2), columns, rows, ascii=ascii).lines()
            assert [len(line) for line in lines] == [columns] * rows
            assert inked(draw(scene, Window.fit(scene.bounds(), 2), columns, rows, ascii=ascii)).any()


# --- told apart without colour -------------------------------------------------------------------------


def row_of_dots(look: Look, length: float, pitch: float) -> NDArray[np.bool_]:
    """The dots of a level line that begins in the centre of the first of 160 dots, `pitch` mm apart."""
    window = Window(79.5 * pitch + 0.5j * pitch, 159 * pitch, pitch)
    lit = dots(draw(level(look, length), window, 80, 1))
    return np.asarray(lit.any(axis=0))


@pytest.mark.parametrize(("one", "other"), list(combinations(LINES, 2)), ids=lambda look: look.name)
def test_any_two_lines_look_different(one: Look, other: Look) -> None:
    for ascii in (False, True):
        window = Window(50 + 0j, 100, 10)
        pictures = [draw(level(look, 100), window, 60, 5, ascii=ascii).lines() for look in (one, other)]
        assert pictures[0] != pictures[1]


def test_after_is_unbroken_and_before_is_dashed() -> None:
    assert row_of_dots(Look.AFTER, 159, 1).all()
    assert row_of_dots(Look.ARMHOLE, 159, 1).all()
    before = row_of_dots(Look.BEFORE, 159, 1)
    changes = np.flatnonzero(np.diff(before.astype(int)))
    assert set(np.diff(changes)) == {5, 6}
    for sparse, most in [(Look.GUIDE, 0.15), (Look.CANDIDATE, 0.4), (Look.SLASH, 0.7)]:
        assert 0 < row_of_dots(sparse, 159, 1).mean() <= most


@pytest.mark.parametrize("look", LINES, ids=lambda look: look.name)
@pytest.mark.parametrize("pitch", [0.01, 0.7, 13.0])
def test_patterns_are_the_same_at_every_zoom(look: Look, pitch: float) -> None:
    assert (row_of_dots(look, 159 * pitch, pitch) == row_of_dots(look, 159, 1)).all()


@pytest.mark.parametrize("look", LINES, ids=lambda look: look.name)
def test_patterns_are_the_same_on_a_slant(look: Look) -> None:
    window = Window(79.5 + 79.5j, 159, 159)
    slanting = dots(draw(level(look, 159, 1.0), window, 80, 40))
    if look is Look.ARMHOLE:
        assert slanting.sum() >= 2 * 159
    else:
        assert abs(int(slanting.sum()) - int(row_of_dots(look, 159, 1).sum())) <= 2


def test_patterns_run_on_round_corners() -> None:
    # The same dots whether a level line is one segment or many.
    many = Scene((Stroke(np.linspace(0, 159, 54).astype(complex), Look.SLASH),))
    window = Window(79.5 + 0.5j, 159, 1)
    assert draw(many, window, 80, 1).lines() == draw(level(Look.SLASH, 159), window, 80, 1).lines()


def test_patterns_of_a_line_do_not_depend_on_other_lines() -> None:
    window = Window(79.5 + 10j, 159, 60)
    other = Stroke(np.array([3 + 20j, 41.7 + 33j]), Look.BEFORE)
    alone = draw(level(Look.BEFORE, 159), window, 80, 16)
    both = draw(Scene((other, *level(Look.BEFORE, 159).strokes)), window, 80, 16)
    row = (alone.to_cell(0j) or (0, 0))[1]
    assert both.lines()[row] == alone.lines()[row]


def test_gap_is_sparse_and_overlap_is_dense() -> None:
    window = Window(0j, 80, 80)
    gap = draw(Scene(patches=(Patch((SQUARE,), Look.GAP),)), window, 40, 20)
    overlap = draw(Scene(patches=(Patch((SQUARE,), Look.OVERLAP),)), window, 40, 20)
    # Counting: one dot in every 4 x 2; both diagonals of every 4 x 4, which have no dot in common.
    assert dots(gap).mean() == pytest.approx(1 / 8, abs=0.002)
    assert dots(overlap).mean() == pytest.approx(1 / 2, abs=0.002)
    texts = [
        set("".join(draw(Scene(patches=(Patch((SQUARE,), look),)), window, 40, 20, ascii=True).lines()))
        for look in (Look.GAP, Look.OVERLAP)
    ]
    assert texts == [{"."}, {"#"}]


@pytest.mark.parametrize(("ring", "inner"), [(circle(45) * (1 + 0.2j) + 3, 43), (0.8 * SQUARE, 38)])
def test_overlap_is_hatched_along_two_diagonals_right_to_its_edge(ring: NDArray[np.complex128], inner: float) -> None:
    # One dot to the mm, so that the sides of the square lie between dots.
    lit = dots(draw(Scene(patches=(Patch((ring,), Look.OVERLAP),)), Window(0j, 119, 119), 60, 30))
    down, across = np.indices(lit.shape)
    on_a_line = ((across + down) % 4 == 3) | ((across - down) % 4 == 0)
    assert not (lit & ~on_a_line).any()
    # Well inside every dot of both families is there.
    inside = np.abs(across - 59.5 - 1j * (down - 59.5) - ring.mean()) < inner
    assert inside.sum() > 4000
    assert (lit == on_a_line)[inside].all()


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("look", [Look.GAP, Look.OVERLAP])
def test_hatching_stays_inside_and_out_of_holes(look: Look, ascii: bool) -> None:
    # A ring between circles of 12 and 40: pi (40^2 - 12^2) of the area.
    scene = Scene(patches=(Patch((circle(40), circle(12)), look),))
    chart = draw(scene, Window(0j, 100, 100), 60, 30, ascii=ascii)
    cells = [(column, row) for row, column in np.argwhere(inked(chart)).tolist()]
    cell = (chart.to_point(1, 0) - chart.to_point(0, 0)).real
    radii = np.abs([chart.to_point(*place) for place in cells])
    assert radii.min() >= 12 - 1.2 * cell
    assert radii.max() <= 40 + 1.2 * cell
    area = len(cells) * 2 * cell * cell
    assert area == pytest.approx(np.pi * (40**2 - 12**2), rel=0.12)


def test_patches_of_one_look_do_not_cancel() -> None:
    one = Patch((SQUARE,), Look.OVERLAP)
    window = Window(0j, 120, 120)
    twice = draw(Scene(patches=(one, one)), window, 40, 20)
    assert twice.lines() == draw(Scene(patches=(one,)), window, 40, 20).lines()


def test_ascii_pieces_are_drawn_in_letters_that_lie_along_them() -> None:
    corners = np.array([-40 - 20j, 40 - 20j, 40 + 20j, -40 + 20j, -40 - 20j])
    lines = draw(Scene((Stroke(corners, Look.PIECE),)), Window(0j, 90, 50), 45, 13, ascii=True).lines()
    rows = [line.strip() for line in lines if line.strip()]
    assert [set(row) for row in (rows[0][1:-1], rows[-1][1:-1])] == [{"-"}, {"-"}]
    assert {row.replace(" ", "") for row in rows[1:-1]} == {"||"}
    for slope, letter in [(1, "/"), (-1, "\\")]:
        slanting = draw(level(Look.PIECE, 90, slope), Window(45 + 45j * slope, 90, 90), 40, 20, ascii=True)
        assert set("".join(slanting.lines())) == {" ", letter}


@pytest.mark.parametrize("ascii", [False, True])
def test_lines_that_meet_are_whole(ascii: bool) -> None:
    window = Window(0j, 100, 20)
    halves = [Stroke(np.array([-40, 0j]), Look.AFTER), Stroke(np.array([0j, 40]), Look.SLASH)]
    chart = draw(Scene(tuple(halves)), window, 50, 5, ascii=ascii)
    row = (chart.to_cell(0j) or (0, 0))[1]
    alone = [draw(Scene((half,)), window, 50, 5, ascii=ascii).lines()[row] for half in halves]
    assert chart.lines()[row][:24] == alone[0][:24]
    assert chart.lines()[row][26:] == alone[1][26:]
    assert {chart.role(column, row) for column in range(26, 50)} == {Look.SLASH, None}


def test_signs_are_single_cells_and_all_different() -> None:
    # Unicode Standard Annex 11: N and Na take one cell, W and F two, A one or two.
    for ascii in (False, True):
        glyphs = [sign.glyph(ascii=ascii) for sign in Sign]
        assert len(set(glyphs)) == len(Sign)
        assert all(len(glyph) == 1 for glyph in glyphs)
        assert {unicodedata.east_asian_width(glyph) for glyph in glyphs} <= {"N", "Na"}
    assert all(sign.glyph(ascii=True).isascii() for sign in Sign)


def test_ascii_signs_are_not_letters_of_lines() -> None:
    samples = legend(Look, ascii=True)
    lines = set("".join(sample for sample, _ in samples)) | set("-|/\\")
    assert not lines & {sign.glyph(ascii=True) for sign in Sign}


# --- the legend ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("look", Look, ids=lambda look: look.name)
def test_legend_shows_what_is_drawn(look: Look, ascii: bool) -> None:
    length, height = (7, 0) if ascii else (15, 0.5)
    line = np.array([complex(0, height), complex(length, height)])
    scene = Scene(patches=(Patch((100 * SQUARE,), look),)) if look.is_area else Scene((Stroke(line, look),), marks=())
    window = Window(length / 2 + 0j, length, 1e-3 if ascii else 3)
    [(sample, words)] = legend([look], ascii=ascii)
    assert [sample] == draw(scene, window, 8, 1, ascii=ascii).lines()
    assert words == look.value


def test_legend_explains_what_is_present_once_and_in_order() -> None:
    scene = Scene(
        (*level(Look.AFTER, 9).strokes, *level(Look.BEFORE, 9).strokes, *level(Look.AFTER, 5).strokes),
        (Patch((SQUARE,), Look.GAP),),
        (Mark(0j, Sign.HINGE), Mark(1j, Sign.CROWN), Mark(2j, Sign.HINGE)),
    )
    words = [words for _, words in legend(scene.roles())]
    assert words == ["gap", "before", "after", "crown", "hinge"]
    assert legend(Scene().roles()) == []
    assert len({sample for sample, _ in legend([*Look, *Sign])}) == len(Look) + len(Sign)


# --- roles and what lies over what ---------------------------------------------------------------------


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize(("lower", "upper"), list(combinations(Look, 2)), ids=lambda look: look.name)
def test_later_looks_lie_over_earlier_ones(lower: Look, upper: Look, ascii: bool) -> None:
    def part(look: Look) -> Scene:
        return Scene(patches=(Patch((SQUARE,), look),)) if look.is_area else level(look, 40)

    window = Window(20 + 0j, 40, 20)
    first, second = part(upper), part(lower)
    chart = draw(Scene(first.strokes + second.strokes, first.patches + second.patches), window, 40, 11, ascii=ascii)
    alone = draw(part(upper), window, 40, 11, ascii=ascii)
    cells = [(column, row) for row, column in np.argwhere(inked(alone)).tolist()]
    assert cells
    assert {chart.role(*cell) for cell in cells} == {upper}


def test_roles_belong_to_their_cells() -> None:
    scene = Scene(
        (Stroke(np.array([-40 + 20j, 40 + 20j]), Look.AFTER), Stroke(np.array([-40, 40]), Look.SLASH)),
        marks=(Mark(0j, Sign.HINGE), Mark(0j, Sign.CROWN), Mark(30 - 20j, Sign.NOTCH)),
    )
    chart = draw(scene, Window(0j, 100, 60), 50, 15)
    assert [chart.role(*(chart.to_cell(point) or (-1, -1))) for point in (10 + 20j, -20, 0j, 30 - 20j, -30 - 20j)] == [
        Look.AFTER,
        Look.SLASH,
        Sign.HINGE,
        Sign.NOTCH,
        None,
    ]
    for row, line in enumerate(chart.lines()):
        assert [chart.role(column, row) is None for column in range(50)] == [c == " " for c in line]
    for column, row in [(-1, 0), (0, -1), (50, 0), (0, 15)]:
        with pytest.raises(IndexError):
            chart.role(column, row)


def test_runs_are_as_long_as_possible() -> None:
    chart = draw(level(Look.AFTER, 100), Window(50 + 0j, 100, 30), 40, 9)
    for row in chart.rows:
        assert all(one.role is not other.role for one, other in pairwise(row))


# --- signs and labels ----------------------------------------------------------------------------------


@pytest.mark.parametrize("ascii", [False, True])
def test_a_label_is_written_whole_wherever_its_mark_is(ascii: bool) -> None:
    blank = draw(Scene(), Window(0j, 50, 30), 14, 5, ascii=ascii)
    for column in range(14):
        for row in range(5):
            mark = Mark(blank.to_point(column, row), Sign.HINGE, "label")
            chart = draw(Scene(marks=(mark,)), Window(0j, 50, 30), 14, 5, ascii=ascii)
            assert chart.role(column, row) is Sign.HINGE
            assert chart.lines()[row][column] == Sign.HINGE.glyph(ascii=ascii)
            text = "\n".join(chart.lines())
            assert text.count("label") == 1
            assert sum(letter not in " \n" for letter in text) == 6


def test_labels_keep_off_lines_where_they_can() -> None:
    line = Stroke(np.array([0, 50]), Look.AFTER)
    plain = draw(Scene((line,)), Window(0j, 100, 60), 50, 15)
    marked = draw(Scene((line,), marks=(Mark(0j, Sign.HINGE, "hinge"),)), Window(0j, 100, 60), 50, 15)
    assert any("hinge" in text for text in marked.lines())
    row = (plain.to_cell(0j) or (0, 0))[1]
    assert plain.lines()[row][26:] == marked.lines()[row][26:]


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("look", [Look.AFTER, Look.ARMHOLE, Look.PIECE])
def test_labels_never_cover_a_seam(look: Look, ascii: bool) -> None:
    # A level line in every row of cells, 4 mm high each: no room at all; without the middle one, room beside the sign.
    for levels, written in ((range(-8, 8), False), ((*range(-8, 0), *range(1, 8)), True)):
        lines = [Stroke(np.array([-60, 60]) + 4j * level, look) for level in levels]
        scene = Scene(tuple(lines))
        plain = draw(scene, Window(0j, 100, 60), 50, 15, ascii=ascii)
        marked = draw(
            Scene(scene.strokes, (), (Mark(0j, Sign.OPENING, "+3.0 cm"),)), Window(0j, 100, 60), 50, 15, ascii=ascii
        )
        assert any("+3.0 cm" in text for text in marked.lines()) == written
        at = plain.to_cell(0j)
        for row in range(15):
            for column in range(50):
                if plain.role(column, row) is look and (column, row) != at:
                    assert marked.role(column, row) is look


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("free", [1, 2])
def test_columns_at_the_right_are_kept_free_where_there_is_room(free: int, ascii: bool) -> None:
    blank = draw(Scene(), Window(0j, 30, 30), 24, 6, ascii=ascii, columns_free=free)
    for column in range(24):
        mark = Mark(blank.to_point(column, 2), Sign.UNDERARM, "front")
        chart = draw(Scene(marks=(mark,)), Window(0j, 30, 30), 24, 6, ascii=ascii, columns_free=free)
        assert chart.role(column, 2) is Sign.UNDERARM
        labelled = [line for line in chart.lines() if "front" in line]
        assert len(labelled) == 1
        assert labelled[0].rindex("front") + 5 <= 24 - free
    # The picture itself goes that far to the left, and loses nothing of its scale, nor of itself where it is narrow.
    plain = draw(Scene(), Window(0j, 30, 30), 24, 6, ascii=ascii)
    assert plain.to_cell(0j) == (12, 3)
    assert blank.to_cell(0j) == (12 - free, 3)
    assert blank.grid.cell_mm == plain.grid.cell_mm
    tight = draw(Scene(), Window(0j, 300, 30), 24, 6, ascii=ascii, columns_free=free)
    assert tight.to_cell(-149.9 + 0j) is not None
    assert tight.to_cell(149.9 + 0j) is not None


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("slope", [0.0, 0.4, 3.0])
def test_folds_leave_the_seam_line_as_it_is_alone(slope: float, ascii: bool) -> None:
    seam = Stroke(circle(100), Look.AFTER)
    steep = 1 + slope * 1j
    folds = [Stroke(np.array([-200, 200]) * steep / abs(steep) + 9j * k, Look.FOLD) for k in range(-9, 10)]
    window = Window(0j, 260, 260)
    alone, buried = (draw(Scene(tuple(lines)), window, 60, 30, ascii=ascii) for lines in ([seam], [seam, *folds]))
    looks = {look for look in (buried.role(k, j) for k in range(60) for j in range(30)) if look is not None}
    assert looks == {Look.AFTER, Look.FOLD}
    if ascii:
        cells = [(k, j) for k in range(60) for j in range(30) if alone.role(k, j) is Look.AFTER]
        assert all(buried.lines()[j][k] == alone.lines()[j][k] for k, j in cells)
    else:
        # Every dot of the seam is lit, and none of the dots right beside it but those.
        seen, both = dots(alone), dots(buried)
        beside = np.zeros_like(seen)
        for down, across in ((a, b) for a in (-1, 0, 1) for b in (-1, 0, 1)):
            beside |= np.roll(seen, (down, across), (0, 1))
        assert (both & beside == seen).all()


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("columns", range(24, 60, 5))
def test_the_labels_of_back_and_front_stand_level(columns: int, ascii: bool) -> None:
    """Whatever the slope beside either, as long as each has a row that is free."""
    ends = (-40 + 0j, 40 + 0j)
    cap = Stroke(np.array([ends[0], -20 + 5j, 30j, 10 + 28j, ends[1]]), Look.AFTER)
    seams = [Stroke(np.array([end, end * 0.9 - 60j]), Look.AFTER) for end in ends]
    marks = (Mark(ends[0], Sign.UNDERARM, "back"), Mark(ends[1], Sign.UNDERARM, "front"))
    chart = draw(Scene((cap, *seams), marks=marks), Window(-15j, 120, 100), columns, 18, ascii=ascii)
    rows = [[number for number, line in enumerate(chart.lines()) if word in line] for word in ("back", "front")]
    assert len(rows[0]) == 1
    assert rows[0] == rows[1]


def test_labels_stand_at_their_own_signs_where_those_are_far_from_level() -> None:
    ends = (-40 + 10j, 40 - 15j)
    marks = (Mark(ends[0], Sign.UNDERARM, "back"), Mark(ends[1], Sign.UNDERARM, "front"))
    chart = draw(Scene(marks=marks), Window(0j, 120, 60), 48, 12)
    for end, word in zip(ends, ("back", "front"), strict=True):
        (row,) = [number for number, line in enumerate(chart.lines()) if word in line]
        cell = chart.to_cell(end)
        assert cell is not None
        assert abs(row - cell[1]) <= 1


def test_a_label_without_room_is_left_out() -> None:
    scene = Scene(marks=(Mark(0j, Sign.CROWN, "a label that is too long"),))
    assert "".join(draw(scene, Window(0j, 10, 10), 9, 3, ascii=True).lines()).split() == ["^"]


marks = st.builds(
    Mark,
    st.builds(complex, st.floats(-60, 60), st.floats(-60, 60)),
    st.sampled_from(Sign),
    st.text(alphabet="mmjé½", max_size=7),
)


@given(st.lists(marks, max_size=25), st.booleans())
@settings(deadline=None, max_examples=80)
def test_labels_hide_no_sign_and_stay_on_the_canvas(placed: list[Mark], ascii: bool) -> None:
    scene = Scene(marks=tuple(placed))
    chart = draw(scene, Window(0j, 100, 100), 40, 12, ascii=ascii)
    assert [len(line) for line in chart.lines()] == [40] * 12
    seen: dict[tuple[int, int], Sign] = {}
    for mark in sorted(placed, key=lambda mark: list(Sign).index(mark.sign)):
        cell = chart.to_cell(mark.at)
        if cell:
            seen[cell] = mark.sign
    for (column, row), sign in seen.items():
        assert chart.role(column, row) is sign
        assert chart.lines()[row][column] == sign.glyph(ascii=ascii)
    # Every word on the canvas is the whole label of a visible mark of its sign.
    labels = {(mark.label, mark.sign) for mark in placed if chart.to_cell(mark.at)}
    if not ascii:
        glyphs = {sign.glyph(ascii=False) for sign in Sign}
        written = {(run.text, run.role) for row in chart.rows for run in row if run.role in set(Sign)}
        words = {(text, role) for text, role in written if not set(text) & glyphs}
        assert words <= labels


@given(st.lists(st.text(max_size=6).filter(str.isprintable), min_size=1, max_size=6))
@settings(deadline=None, max_examples=60)
def test_ascii_is_pure_and_labels_never_shift_the_picture(labels: list[str]) -> None:
    scene = Scene(
        tuple(Stroke(circle(20 + 5 * place), look) for place, look in enumerate(LINES)),
        (Patch((circle(15),), Look.GAP), Patch((circle(15) + 40,), Look.OVERLAP)),
        tuple(
            Mark(circle(45)[40 * place], sign, label)
            for place, (sign, label) in enumerate(zip(Sign, labels, strict=False))
        ),
    )
    text = "".join(draw(scene, Window(0j, 120, 120), 60, 30, ascii=True).lines())
    assert text.isascii()
    assert text.isprintable()
    for line in draw(scene, Window(0j, 120, 120), 60, 30).lines():
        assert len(line) == 60
        assert not {unicodedata.east_asian_width(letter) for letter in line} & {"W", "F"}
        assert not any(unicodedata.combining(letter) for letter in line)


@pytest.mark.parametrize(("label", "spelled"), [("1½", "11/2"), ("−30", "-30"), ("dé", "de"), ("日", "?")])
def test_labels_are_spelled_out_in_ascii(label: str, spelled: str) -> None:
    chart = draw(Scene(marks=(Mark(0j, Sign.OPENING, label),)), Window(0j, 10, 10), 20, 3, ascii=True)
    assert chart.lines()[1].split() == ["Y", spelled]


# --- one picture after another -------------------------------------------------------------------------


def many_things(shift: float) -> Scene:
    return Scene(
        tuple(Stroke(circle(20 + 5 * place) + shift, look) for place, look in enumerate(LINES)),
        (Patch((circle(15) + shift,), Look.GAP),),
        (Mark(complex(shift), Sign.HINGE, "hinge"),),
    )


def test_a_picture_does_not_depend_on_the_one_before() -> None:
    window = Window(0j, 150, 150)
    first = draw(many_things(0), window, 60, 30)
    half = replace(many_things(0), strokes=many_things(0).strokes[:2])
    for other in (many_things(7), half, Scene()):
        draw(other, window, 60, 30)
        draw(other, window, 30, 60, ascii=True)
        assert draw(many_things(0), window, 60, 30) == first


def test_threads_draw_the_same_pictures() -> None:
    window = Window(0j, 150, 150)
    expected = [draw(many_things(shift), window, 60, 30) for shift in range(8)]
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(lambda shift: draw(many_things(shift), window, 60, 30), [*range(8)] * 4))
    assert found == expected * 4


# --- guards --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("bad", [complex("nan"), complex("inf"), complex(0, float("-inf")), 1e300 + 0j])
def test_points_have_to_be_finite(bad: complex) -> None:
    with pytest.raises(ValueError, match="within"):
        Stroke(np.array([0j, bad]), Look.AFTER)
    with pytest.raises(ValueError, match="within"):
        Patch((SQUARE, np.array([0j, bad, 1j])), Look.GAP)
    with pytest.raises(ValueError, match="within"):
        Mark(bad, Sign.HINGE)
    with pytest.raises(ValueError, match="within"):
        Window(bad, 10, 10)


@pytest.mark.parametrize("size", [0.0, -1.0, float("nan"), float("inf")])
def test_windows_have_a_size(size: float) -> None:
    with pytest.raises(ValueError, match="window"):
        Window(0j, size, 10)
    with pytest.raises(ValueError, match="window"):
        Window(0j, 10, size)


def test_looks_belong_to_lines_or_to_areas() -> None:
    with pytest.raises(ValueError, match="GAP"):
        Stroke(np.array([0j, 1]), Look.GAP)
    with pytest.raises(ValueError, match="AFTER"):
        Patch((SQUARE,), Look.AFTER)


def test_shapes_are_checked() -> None:
    for points in (np.array([], dtype=complex), np.zeros((2, 2), dtype=complex)):
        with pytest.raises(ValueError, match="stroke"):
            Stroke(points, Look.AFTER)
    with pytest.raises(ValueError, match="ring"):
        Patch((np.array([0j, 1]),), Look.GAP)
    with pytest.raises(ValueError, match="label"):
        Mark(0j, Sign.HINGE, "two\nlines")
    for columns, rows in [(0, 5), (5, 0), (-1, 5)]:
        with pytest.raises(ValueError, match="column"):
            draw(Scene(), Window(0j, 1, 1), columns, rows)


def test_scenes_keep_their_own_points() -> None:
    points = np.array([0j, 1, 2])
    stroke = Stroke(points, Look.AFTER)
    points[0] = 99
    assert stroke.points[0] == 0
    with pytest.raises(ValueError, match="read-only"):
        stroke.points[0] = 1


def test_bounds_of_nothing_can_be_shown() -> None:
    window = Window.fit(Scene().bounds(), 0)
    assert (window.centre, window.width_mm, window.height_mm) == (0j, 1.0, 1.0)


def test_in_ascii_no_mark_is_taken_for_the_first_slash_and_no_two_are_alike() -> None:
    """Slashes are named A, B, C by the tutor, and their names stand in the picture beside the marks."""
    glyphs = [sign.glyph(ascii=True) for sign in Sign]
    assert not {"A", "B", "C"} & set(glyphs)
    assert len(set(glyphs)) == len(glyphs)
    areas_and_strokes = {letter for sample, _ in legend(Look, ascii=True) for letter in sample} - {" "}
    assert not areas_and_strokes & set(glyphs)
