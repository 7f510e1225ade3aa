"""The window made larger and smaller at random moments while keys are pressed: nothing of what was done is lost."""

from __future__ import annotations

import random
import time
from collections.abc import Sequence

import pytest
from terminal import PATIENCE, tutor_in_terminal
from textual.events import Key, Resize
from textual.geometry import Size
from tutor_driving import Driven, driven
from tutor_kill import CHOSEN, opened

from tutor.tui.small import LEAST

LARGEST = (200, 60)
AT_LAST = (80, 24)
KEYS = {
    "the plan": "n enter s enter n n n n n h plus plus s N N N h n n n n n h up up up up plus plus z e o v x u r i",
    "placing": "n enter s right right comma full_stop pagedown l n N left enter z n n n space M n enter u u r",
    "the walk": "n enter f right right n n s plus minus N escape v v v z z z i i",
    "the solution": "n enter h enter h enter h enter w y right right left right right a plus u c escape",
    "pages": "question_mark down down escape y enter t down escape b enter G down escape f2 right right left escape",
    "an answer": "enter 1 2 . 4 enter enter c enter h enter i i n enter s escape",
}
"""Keys, from where lesson 4 begins."""


def _letter(key: str) -> str | None:
    return key if len(key) == 1 else None


def sizes(chance: random.Random, count: int) -> list[tuple[int, int]]:
    """So many sizes of a window, from too small to as large as a wall, every fourth of them too small."""
    small = [(chance.randint(1, LEAST[0]), chance.randint(1, LEAST[1] - 1)) for _ in range(count)]
    large = [tuple(chance.randint(a, b) for a, b in zip(LEAST, LARGEST, strict=True)) for _ in range(count)]
    return [small[k] if k % 4 == 0 else (large[k][0], large[k][1]) for k in range(count)]


def resize(tutor: Driven, size: tuple[int, int]) -> None:
    """Makes the window another size, and waits for nothing."""
    driver = tutor.app._driver
    assert driver is not None
    driver._size = Size(*size)
    tutor.app.post_message(Resize(Size(*size), Size(*size)))


async def storm(tutor: Driven, keys: Sequence[str], chance: random.Random) -> None:
    """Presses keys; before any of them the window may change its size, once or more, and nobody waits for it."""
    driver = tutor.app._driver
    assert driver is not None
    for key in keys:
        for size in sizes(chance, chance.randrange(3)):
            resize(tutor, size)
        event = Key(key, _letter(key))
        event.set_sender(tutor.app)
        driver.send_message(event)
        if chance.random() < 0.5:
            await tutor.pilot._wait_for_screen()
    await tutor.resize(*AT_LAST)


async def come_to(tutor: Driven, wanted: list[str]) -> list[str]:
    """The screen as soon as it is the one that is wanted, or after some seconds in which it never was."""
    until = time.monotonic() + PATIENCE
    while (rows := tutor.rows) != wanted and time.monotonic() < until:
        await tutor.pilot.pause(0.05)
    return rows


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("keys", KEYS.values(), ids=KEYS)
async def test_however_the_window_changes_the_keys_do_what_they_do_in_one_that_stays(keys: str, seed: int) -> None:
    async with driven("4", AT_LAST) as still:
        await still.press(keys)
        wanted, state = still.rows, still.lesson._remembered()
        draft, hints = still.lesson.session.draft, still.lesson.session.hints_taken
    async with driven("4", AT_LAST) as tutor:
        await storm(tutor, keys.split(), random.Random(seed))
        assert (tutor.lesson.session.draft, tutor.lesson.session.hints_taken) == (draft, hints)
        assert tutor.lesson._remembered() == state
        assert await come_to(tutor, wanted) == wanted


@pytest.mark.parametrize("size", [(1, 1), (59, 20), (60, 19), (20, 60), (200, 10)])
async def test_a_window_that_is_too_small_says_what_it_needs_and_loses_nothing(size: tuple[int, int]) -> None:
    async with driven("4", AT_LAST) as tutor:
        await tutor.press(KEYS["the plan"])
        before = tutor.rows
        await tutor.resize(*size)
        if size != (1, 1):
            assert f"needs {LEAST[0]} x {LEAST[1]}" in tutor.text
            assert f"has {size[0]} x {size[1]}" in tutor.text
        await tutor.resize(*AT_LAST)
        assert await come_to(tutor, before) == before


def test_in_a_real_terminal_that_changes_while_a_key_is_held_every_press_counts() -> None:
    chance = random.Random(11)
    with tutor_in_terminal(["learn", "4"], *AT_LAST) as terminal:
        amount = opened(terminal)
        for columns, rows in sizes(chance, 30):
            terminal.resize(columns, rows)
            terminal.write("+")
            terminal.rest(chance.uniform(0, 0.1))
        terminal.resize(*AT_LAST)
        whole = f"{CHOSEN}{amount + 3:.1f} cm"
        assert "Traceback" not in terminal.wait_for(whole)
        shown = terminal.settled()
        terminal.press("i")
        terminal.wait_for(" in. + and -")
        terminal.press("i")
        terminal.wait_for(whole)
        # What is painted anew in another unit and back is what stood there.
        assert terminal.settled() == shown
        terminal.press("q")
        assert terminal.status() == 0
