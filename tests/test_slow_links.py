"""What is sent to the terminal when a key changes little: nothing that is there already."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from textual._compositor import ChopsUpdate, CompositorUpdate
from tutor_driving import Driven, driven

PLAN = "n enter"
"""On from lesson 4's question to its task on the pattern."""
CROSSED = f"{PLAN} s enter n n n n n h left_square_bracket s N N N h n n n n n h up up up up up plus plus plus"
"""Two slashes that cross, one opened by 3 mm."""

Cell = tuple[str, object]
Span = tuple[int, int, int]


def cells(tutor: Driven) -> list[list[Cell]]:
    """The screen cell by cell: its letter and how that is painted."""
    return [[(letter, each.style) for each in row for letter in each.text] for row in tutor.strips]


class Line:
    """A slow line: remembers what is sent over it while it is listened to."""

    def __init__(self, tutor: Driven, monkeypatch: pytest.MonkeyPatch) -> None:
        self.spans: list[Span] = []
        self.letters = 0
        self.whole = 0
        display = tutor.app._display

        def shown(screen: Any, update: Any) -> None:
            display(screen, update)
            if isinstance(update, CompositorUpdate):
                self.letters += len(update.render_segments(tutor.app.console))
            if isinstance(update, ChopsUpdate):
                self.spans += update.spans
            elif update is not None:
                self.whole += 1

        monkeypatch.setattr(tutor.app, "_display", shown)

    def sent(self) -> Iterator[tuple[int, int]]:
        """Row and column of every cell sent."""
        return ((y, x) for y, first, last in self.spans for x in range(first, last))


# The keys before it, the key, and how many of the 4800 cells it may change.
KEYS = {
    "an opening grows by a millimetre": (CROSSED, "plus", 400),
    "another line of the plan is chosen": (CROSSED, "down", 300),
    "the marker walks on": (f"{PLAN} s", "right", 200),
    "there is nothing to take back": (f"{PLAN} s escape", "u", 120),
}


@pytest.mark.parametrize(("before", "key", "most"), KEYS.values(), ids=KEYS)
async def test_only_cells_that_change_are_sent(
    before: str, key: str, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(before)
        was = cells(tutor)
        line = Line(tutor, monkeypatch)
        await tutor.press(key)
        now = cells(tutor)
        changed = {(y, x) for y, row in enumerate(now) for x, cell in enumerate(row) if cell != was[y][x]}
        assert not line.whole
        assert changed <= set(line.sent())
        assert 0 < len(list(line.sent())) <= most
        for y, first, last in line.spans:
            assert {(y, first), (y, last - 1)} <= changed


async def test_a_key_without_a_meaning_sends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(PLAN)
        line = Line(tutor, monkeypatch)
        await tutor.press("K")
        assert line.letters == 0


async def test_a_key_that_changes_nothing_twice_sends_nothing_the_second_time(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven("4", (120, 40)) as tutor:
        await tutor.press(f"{PLAN} u")
        assert "nothing to take back" in tutor.text
        line = Line(tutor, monkeypatch)
        await tutor.press("u")
        assert line.letters == 0
