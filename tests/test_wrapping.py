"""Texts in lines: no line ends between a figure and its unit."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL, own_lessons, written
from textual.content import Content
from tutor_driving import driven

from tutor.lesson.listing import Listed
from tutor.lesson.reading import find_lesson, read_lesson
from tutor.practice.page import Page
from tutor.practice.session import Session
from tutor.tui.about import About
from tutor.tui.prose import Prose
from tutor.tui.side_lines import SideState, side_lines
from tutor.tui.wrapping import cut_short, wrapped
from tutor.units import Unit, format_area, format_length

WORDS = st.lists(
    st.sampled_from(["the", "cap", "height,", "of", "back", "seam;", "(so", "wide)", "underarm"]), max_size=8
)
FIGURES = st.builds(
    lambda mm, unit, signed: format_length(mm, unit, signed),
    st.floats(-900, 900),
    st.sampled_from(list(Unit)),
    st.booleans(),
)
TEXTS = st.lists(st.one_of(WORDS.map(" ".join), FIGURES), min_size=1, max_size=9).map(
    lambda parts: " ".join(part for part in parts if part)
)
FIGURE = re.compile(r"[+-]?\d[\d.]*(?:/\d+)?(?: \d+/\d+)? (?:cm|mm|in)\b")


@given(TEXTS, st.integers(12, 60))
def test_no_figure_is_parted_from_its_unit(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert " ".join(lines).split() == text.split()
    assert all(len(line) <= width for line in lines)
    # The longest, such as -35 7/16 in, has eleven letters: it fits into every line.
    assert [found for line in lines for found in FIGURE.findall(line)] == FIGURE.findall(text)


@given(TEXTS, st.integers(12, 60))
def test_a_page_breaks_its_lines_as_other_texts_do(text: str, width: int) -> None:
    lines = [line.plain for line in Prose(Content(text)).lines(width)]
    assert [line.strip() for line in lines] == list(wrapped(text, width)) or not text
    assert all(len(line) <= width for line in lines)


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [
        ("open it by 2.5 cm here", 14, ("open it by", "2.5 cm here")),
        ("open it by 13 3/4 in here", 17, ("open it by", "13 3/4 in here")),
        ("an area of 1.91 sq in", 16, ("an area of", "1.91 sq in")),
        (f"an area of {format_area(1230.0, Unit.CM)}", 16, ("an area of", "12.3 cm²")),
        ("it is 5 per cent", 10, ("it is", "5 per cent")),
        ("wanted 35.0 cm ±0.3 cm", 20, ("wanted 35.0 cm", "±0.3 cm")),
        ("half of all 2 into one", 13, ("half of all 2", "into one")),
    ],
)
def test_what_belongs_to_a_figure(text: str, width: int, lines: tuple[str, ...]) -> None:
    assert wrapped(text, width) == lines


def test_a_page_keeps_blanks_and_styles_and_folds_what_is_too_long() -> None:
    text = Content.assemble(
        ("a  table    9\n\n", "bold"), ("unbreakablewordsgoon", "italic"), "\n  indented words go on"
    )
    lines = Prose(text).lines(12)
    assert [line.plain for line in lines] == [
        "a  table", "9", "", "unbreakablew", "ordsgoon", "  indented", "words go on",
    ]  # fmt: skip
    assert "bold" in lines[0].markup
    assert "italic" in lines[4].markup


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
@pytest.mark.parametrize("lesson", ["8", "10", "18"])
async def test_on_the_screen_no_line_begins_with_a_unit(size: tuple[int, int], lesson: str) -> None:
    async with driven(lesson, size, brief_closed=False) as tutor:
        for keys in ("enter", "h", "h", "h", "enter", "t"):
            for row in tutor.rows:
                cells = re.split(r"\s{2,}|[│▁▂▃▄▅▆▇█]", row)
                assert not [cell for cell in cells if re.match(r"(?:cm|mm|in)[ .,;]*$|(?:cm|mm)\b", cell.strip())]
            await tutor.press(keys)


@given(TEXTS, st.integers(40, 60))
def test_line_by_line_no_figure_is_parted_from_its_unit_either(text: str, width: int) -> None:
    lines = Page(width).wrapped(text, "", "    ")
    assert " ".join(lines).split() == text.split()
    assert all(len(line) <= width for line in lines)
    assert [found for line in lines for found in FIGURE.findall(line)] == FIGURE.findall(text)


@given(TEXTS, st.integers(16, 60), st.sampled_from(["…", "~", "… (b: all of it)"]))
def test_a_text_cut_short_ends_with_a_whole_word_or_figure(text: str, width: int, sign: str) -> None:
    cut = cut_short(text, width, sign)
    assert len(cut) <= width
    if width > len(sign) + 12:
        assert cut == sign or cut.endswith(f" {sign}")
        kept = cut.removesuffix(sign).split()
        assert kept == text.split()[: len(kept)]
        assert FIGURE.findall(cut) == FIGURE.findall(text)[: len(FIGURE.findall(cut))]


@pytest.mark.parametrize(("width", "height"), [(36, 16), (47, 20), (57, 36)])
def test_what_is_asked_is_cut_before_a_figure_and_never_in_it(width: int, height: int) -> None:
    cuts = 0
    for lesson in own_lessons():
        session = Session(lesson, Unit.CM)
        for number in range(1, len(session.tasks) + 1):
            session.go_to_task(number)
            state = SideState(session.ask, session.tape(), (), "", "plan: nothing yet", Unit.CM)
            for rows in range(6, height):
                told = " ".join(line.text for line in side_lines(state, width, rows, ascii=False))
                kept, sign, _ = told.partition(" … (b: all of it)")
                following = session.ask.removeprefix(kept).split()
                cuts += bool(sign)
                figure = re.search(r"\d$", kept) is not None
                assert not (sign and figure and following[0] in ("cm", "mm", "in", "degrees", "per")), told
    assert cuts > 100


async def test_what_a_lesson_is_about_is_cut_at_a_word() -> None:
    cuts = 0
    async with driven(size=(60, 20)) as tutor:
        about = tutor.app.screen.query_one(About)
        for _ in range(28):
            last = next((row for row in tutor.rows if row.rstrip().endswith("…") and ">" not in row[:3]), "")
            words = " ".join(line for line, _ in about.lines).split()
            if about.region.contains(3, next((k for k, row in enumerate(tutor.rows) if row == last), 0)) and last:
                cuts += 1
                kept = last.strip(" …").split()
                assert any(words[k : k + len(kept)] == kept for k in range(len(words))), last
                assert not re.search(r"\d$", kept[-1]) or FIGURE.findall(last), last
            await tutor.press("down")
    assert cuts > 10


@pytest.mark.parametrize("size", [(60, 20), (120, 40)])
async def test_numbers_of_lessons_are_written_below_each_other(size: tuple[int, int], tmp_path: Path) -> None:
    text = SMALL.replace("number = 90", "number = 101")
    own = read_lesson(written(tmp_path, text, "own.toml"))
    known = [Listed.of(find_lesson("4")), Listed.of(find_lesson("12")), Listed.of(own)]
    async with driven(size=size, known=known) as tutor:
        rows = [row for row in tutor.rows if re.match(r" [> ]\s*\d+  \S", row)]
        assert len(rows) == 3
        ends = {(re.match(r" [> ]\s*\d+  ", row) or [""])[0] for row in rows}
        assert {len(end) for end in ends} == {len(" >101  ")}
        assert len({len(row.rstrip()) for row in rows}) == 1
