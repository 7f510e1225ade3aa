"""What lines are laid out on: tables stand in line in every letter and in ASCII, where some letters are several."""

from __future__ import annotations

import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor.lesson.reading import find_lesson
from tutor.letters import in_ascii
from tutor.practice.page import NARROWEST, Page
from tutor.practice.plain import run_plain

CELLS = st.text("ab °½…×é", min_size=1, max_size=8).map(lambda text: f"x{text.strip()}x")
ROWS = st.lists(st.tuples(CELLS, CELLS, CELLS), min_size=2, max_size=5)


@given(ROWS, st.booleans())
def test_cells_of_a_column_end_in_line(rows: list[tuple[str, ...]], ascii: bool) -> None:
    lines = Page(120, ascii).table(rows)
    assert len({len(line) for line in lines}) == 1
    assert all(line.isascii() for line in lines) or not ascii
    for line, row in zip(lines, rows, strict=True):
        assert line.split() == " ".join(map(in_ascii, row) if ascii else row).split()


@given(st.text("ab °½…", max_size=200), st.integers(0, 100))
def test_lines_are_no_wider_in_ascii_either(text: str, width: int) -> None:
    lines = Page(width, ascii=True).wrapped(text)
    assert all(len(line) <= max(width, NARROWEST) for line in lines)
    assert "".join("".join(lines).split()) == "".join(in_ascii(text).split())


@pytest.mark.parametrize(
    ("lesson", "typed"),
    [
        ("4", "tape\ncheck\n"),
        ("4", "answer 12.4\nnext\nslash grain from crown to hem\ntape\ncheck\nsolution\n"),
        ("12", "tape\nfigure\nsolution\n"),
        ("20", "figure\ntape\nsolution\n"),
    ],
)
@pytest.mark.parametrize("ascii", [False, True])
def test_figures_stand_below_their_heads(lesson: str, typed: str, ascii: bool) -> None:
    """The heads of all columns but the first end where their figures end; figures hold blanks of their own."""
    output = io.StringIO()
    run_plain(find_lesson(lesson), io.StringIO(typed), output, 100, ascii=ascii)
    lines = output.getvalue().splitlines()
    tables = 0
    for place, line in enumerate(lines):
        if not re.match(r"(measure|goal|seam|point|slash|piece|landmark) ", line):
            continue
        ends = [found.end() for found in re.finditer(r"\S+( \S+)*", line)][1:]
        rows = lines[place + 1 :]
        rows = rows[: next((k for k, row in enumerate(rows) if not re.search(r"\S  +\S", row)), len(rows))]
        for row in rows:
            cells = [found.end() for found in re.finditer(r"\S+( \S+)*", row)][1:]
            assert set(cells) <= set(ends), (line, row)
        tables += bool(rows)
    assert tables
