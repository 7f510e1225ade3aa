"""Pages in few columns: tables stay tables, and what goes on in another line goes on where it belongs."""

import re
from pathlib import Path

import pytest
from lessons_for_tests import small_lesson
from textual.content import Content
from tutor_driving import Driven, driven

from tutor.marking.figures import shown
from tutor.tui.prose import Prose
from tutor.tui.tape_lines import short_names
from tutor.units import Unit

SIZES = [(60, 20), (80, 24), (120, 40)]
OPENED = "s enter n n n n n h left_square_bracket s N N N h n n n n n h up up up up up pageup pageup"
"""Keys of a cross of slashes, opened by 1 cm."""


def _laid(tutor: Driven) -> list[str]:
    """The rows of the page that is laid over the screen, without its frame, its scroll bar and what lies beside it."""
    box = tutor.app.screen.query_one("#reader").region
    rows = [row[box.x + 1 : box.right - 1] for row in tutor.rows[box.y + 1 : box.bottom - 1]]
    return [row.rstrip(" ▁▂▃▄▅▆▇█").removeprefix(" ") for row in rows]


def _all_of(tutor: Driven) -> list[str]:
    """Every row of the page, those too that are not in view; what is in view is the first of them."""
    prose = tutor.app.screen.query_one(Prose)
    found = [line.plain.rstrip() for line in prose.lines(prose.size.width)]
    heading = tutor.app.screen.query_one("#reader-heading").size.height
    seen = _laid(tutor)[heading + 1 : -2]
    assert len(seen) > 4
    assert seen == found[: len(seen)]
    return found


@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
@pytest.mark.parametrize("size", SIZES)
async def test_every_measure_is_a_table_with_the_goals_first(size: tuple[int, int], unit: Unit) -> None:
    async with driven("4", size, unit=unit) as tutor:
        await tutor.press(f"n enter {OPENED} t")
        session = tutor.lesson.session
        heading, *rows = _all_of(tutor)
        measures = session.measures_before()
        table, below = rows[: len(measures)], " ".join(rows[len(measures) :])
        assert heading.split()[:4] == ["tape,", unit.value, "before", "now"]
        assert heading.endswith(" wanted  off") or heading.split()[-2:] == ["wanted", "off"]
        # One line a measure, no figure wider than its column, and all of them end where the heading does.
        ends = [found.end() for found in re.finditer(r"\S+", heading)][2:]
        asked = [row for row in session.tape() if row.wanted]
        assert len(asked) > 4
        order = [
            *(row.measure for row in asked),
            *(name for name in measures if name not in {r.measure for r in asked}),
        ]
        for k, (name, row) in enumerate(zip(order, table, strict=True)):
            assert any(row.startswith(f"{short_names([name], most)[0]} ") for most in range(9, 40)), row
            last = ends[-1] if k < len(asked) else ends[-3]
            assert len(row) == last, row
            assert all(row[end : end + 1] in ("", " ") for end in ends), row
        now = session.measures_now()
        assert now is not None
        assert f"gap {shown('gap', now['gap'], unit)}" in below


async def test_every_measure_where_nothing_is_wanted_or_changed_has_one_column() -> None:
    async with driven("1") as tutor:
        await tutor.press("t")
        assert _laid(tutor)[2].split() == ["tape,", "cm", "now"]


async def test_every_measure_is_made_for_the_window_it_comes_to_have() -> None:
    async with driven("4") as tutor:
        await tutor.press("n enter t")
        assert "sharpest kink in the cap" in tutor.text
        await tutor.press("i")
        await tutor.resize(60, 20)
        assert {len(row.split()) for row in _laid(tutor)[3:8]} <= set(range(5, 10))
        assert all(re.search(r"\d°?$| met$", row) for row in _laid(tutor)[3:8])


@pytest.mark.parametrize("keys", ["question_mark", "n enter question_mark", "n enter s question_mark"])
@pytest.mark.parametrize("size", SIZES)
async def test_what_a_key_does_goes_on_below_its_own_words(size: tuple[int, int], keys: str) -> None:
    async with driven("4", size) as tutor:
        await tutor.press(keys)
        rows = _all_of(tutor)
        starts = {found.end() for row in rows if (found := re.match(r"  \S.*?\s{2,}(?=\S)", row))}
        assert len(starts) == 1
        for row in rows:
            # The name of a group, a key, or more of what the key above does.
            assert re.match(r"[A-Z]\w+( \w+)*$|  \S", row) or row[: min(starts)].isspace(), row


def test_a_row_of_a_list_hangs_and_other_texts_do_not() -> None:
    text = Content.assemble(("met   50%  ", "bold"), "cap seam 46.0 cm; wanted 45.0 cm\nwords that go on and on")
    assert [line.plain for line in Prose(text).lines(24)] == [
        "met   50%  cap seam",
        "           46.0 cm;",
        "           wanted",
        "           45.0 cm",
        "words that go on and on",
    ]
    assert [line.plain for line in Prose(Content("a  long-word-that-fits-nowhere")).lines(9)] == [
        "a", "   long-w", "   ord-th", "   at-fit", "   s-nowh", "   ere",
    ]  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
async def test_what_must_be_met_stays_with_its_figure_and_is_told_in_the_heading(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with driven(small_lesson(tmp_path), size) as tutor:
        await tutor.press("c")
        rows = _all_of(tutor)
        goals = rows[rows.index("Goals (* must be met)") + 1 :]
        assert not [row for row in rows if row.strip() == "*"]
        assert "±0.3 cm*" in " ".join(goals)
        starred = [row for row in goals if "*" in row]
        assert len(starred) == 1
        assert starred[0].endswith("±0.3 cm*")
