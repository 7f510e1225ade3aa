"""Rows of the screen: what of them is painted again, and what is worked out before it is asked for."""

from __future__ import annotations

import asyncio
import textwrap
from itertools import groupby
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tutor_driving import driven

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.pattern.pattern import Pattern
from tutor.practice import ground
from tutor.tui import ahead
from tutor.tui.ahead import Ahead
from tutor.tui.rows import differing
from tutor.tui.wrapping import wrapped

Row = tuple[tuple[str, int], ...]
Cells = list[tuple[str, int]]

cells = st.lists(st.tuples(st.sampled_from("ab "), st.integers(0, 1)), min_size=1, max_size=12)


def row_of(row: Cells) -> Row:
    """Cells as runs that look alike."""
    return tuple(("".join(letter for letter, _ in run), look) for look, run in groupby(row, key=lambda cell: cell[1]))


@given(cells, st.data())
def test_all_that_differs_lies_between_the_first_and_the_last_cell_that_do(before: Cells, data: st.DataObject) -> None:
    now = data.draw(st.lists(st.sampled_from(before), min_size=len(before), max_size=len(before)))
    apart = [k for k, (one, other) in enumerate(zip(before, now, strict=True)) if one != other]
    first, last = differing(row_of(before), row_of(now))
    if apart:
        assert (first, last) == (apart[0], apart[-1] + 1)
    else:
        assert first >= last


def test_rows_of_other_widths_differ_as_a_whole() -> None:
    assert differing(row_of([("a", 0)] * 3), row_of([("a", 0)] * 5)) == (0, 5)
    assert differing((), row_of([("a", 0)])) == (0, 1)


@given(st.text("ab \n\t-", max_size=40), st.integers(1, 30))
def test_texts_are_wrapped_as_the_standard_library_does(text: str, width: int) -> None:
    assert wrapped(text, width) == tuple(textwrap.wrap(text, width))


CROSSED = "s enter n n n n n h left_square_bracket s N N N h n n n n n h up up up up up plus"


async def test_the_next_step_of_an_amount_is_worked_out_in_the_pause(monkeypatch: pytest.MonkeyPatch) -> None:
    worked: list[float] = []
    altered = ground._altered

    def noted(pattern: Pattern, plan: Plan) -> Altered | Refusal:
        worked.append(plan.openings[0].amount)
        return altered(pattern, plan)

    monkeypatch.setattr(ahead, "PAUSE", 0.0)
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(f"n enter {CROSSED}")
        monkeypatch.setattr(ground, "_altered", noted)
        await tutor.press("plus")
        assert worked == [3.0]
        await tutor.press("plus")
        assert worked == [3.0, 4.0]
        assert tutor.lesson.session.draft.openings[0].amount == 3.0
        assert tutor.lesson.session.undo()
        assert tutor.lesson.session.draft.openings[0].amount == 2.0


async def test_a_key_comes_to_one_frame(monkeypatch: pytest.MonkeyPatch) -> None:
    # Panel, picture and guide in frames of their own would for a moment tell different things.
    async with driven("4", (80, 24)) as tutor:
        await tutor.press(f"n enter {CROSSED}")
        await tutor.pilot.pause(0.1)
        frames, display = list[object](), tutor.app._display

        def shown(screen: Any, frame: Any) -> None:
            if frame is not None:
                frames.append(frame)
            display(screen, frame)

        monkeypatch.setattr(tutor.app, "_display", shown)
        for key in ("plus", "up", "minus", "v", "u"):
            frames.clear()
            await tutor.press(key)
            await tutor.pilot.pause(0.05)
            assert len(frames) == 1, key


async def test_the_picture_drawn_ahead_is_the_one_that_would_be_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = list[object]()
    keys = ["plus", "plus", "z", "plus", "plus", "e", "plus", "o", "plus", "i", "plus", "minus", "minus"]
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(f"n enter {CROSSED}")
        for key in keys:
            await tutor.press(key)
            await tutor.pilot.pause(0.05)
            drawn.append(tutor.rows)
    monkeypatch.setattr(Ahead, "put", lambda *_: None)
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(f"n enter {CROSSED}")
        for key, ahead_of in zip(keys, drawn, strict=True):
            await tutor.press(key)
            assert tutor.rows == ahead_of, key


async def test_work_ahead_is_dropped_for_something_else() -> None:
    done, last = list[str](), asyncio.Event()
    waiting = Ahead()
    waiting.put(lambda: done.append("dropped"))
    waiting.drop()
    waiting.put(lambda: done.append("replaced"))
    waiting.put(last.set)
    await last.wait()
    assert done == []
