"""Texts in lines: no line ends between a figure and its unit."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.content import Content
from tutor_driving import driven

from tutor.tui.prose import Prose
from tutor.tui.wrapping import wrapped
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
