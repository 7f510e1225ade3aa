"""The screens that README shows are those of the tutor: each is driven there by keys, and compared.

Run as a script it puts them into README anew; they are then to be looked at again.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from test_screens import CROSSED
from tutor_driving import Driven, driven

from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import own_listing
from tutor.lesson.reading import find_lesson
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.tui.app import TutorApp
from tutor.tui.desk import Desk
from tutor.tui.quiz_screen import QuizScreen
from tutor.units import Unit

README = Path(__file__).resolve().parents[1] / "README.md"
SHOWN = re.compile(r"(<!-- The tutor's screen: ([a-z-]+) -->\n[^`]*```text\n)(.*?)(\n```\n<!-- end -->)", re.DOTALL)
"""A screen in README: its name, the words above it, and its rows."""

CUT_THROUGH = CROSSED.replace("s N N N h", "s N N N enter")
"""Keys of the same slashes, the one across cut through at the back underarm point."""


async def _amount(tutor: Driven, text: str) -> None:
    await tutor.press("enter")
    await tutor.write(text)
    await tutor.press("enter")


async def opening() -> str:
    """Lesson 4, its first task passed, slashes placed and opened where they cross."""
    async with driven("4") as tutor:
        await _amount(tutor, "12.2 cm")
        await tutor.press(f"n enter {CROSSED}")
        await _amount(tutor, "3.1 cm")
        return _rows(tutor)


async def mistake() -> str:
    """The same task, the hinge at the back underarm point cut through, marked."""
    async with driven("4") as tutor:
        await _amount(tutor, "12.2 cm")
        await tutor.press(f"n enter {CUT_THROUGH}")
        await _amount(tutor, "3 cm")
        await tutor.press("c")
        return _rows(tutor)


async def folds() -> str:
    """The first task of lesson 25 with two signs looked for."""
    async with driven("25") as tutor:
        await tutor.press("enter down enter")
        return _rows(tutor)


async def quiz() -> str:
    """The second question of a quiz over two lessons."""
    lessons = {name: find_lesson(name) for name in (_named("5"), _named("7"))}
    async with _quizzing(lessons) as tutor:
        await tutor.press("enter enter n n enter")
        return _rows(tutor)


@asynccontextmanager
async def _quizzing(lessons: dict[str, Lesson]) -> AsyncIterator[Driven]:
    drawn = draw_quiz(QuizSpec(lessons=tuple(lessons), count=6, seed=8), lessons)
    sitting = Sitting(drawn, lessons, Unit.CM)
    app = TutorApp(
        None, Desk(own_listing(), Unit.CM), lambda opened: QuizScreen(opened.desk, sitting, opened.show_lessons)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        yield Driven(app, pilot)


def _named(number: str) -> str:
    return find_lesson(number).name


def _rows(tutor: Driven) -> str:
    return "\n".join(row.rstrip() for row in tutor.rows).rstrip()


SCREENS: dict[str, Callable[[], Awaitable[str]]] = {
    "opening": opening,
    "mistake": mistake,
    "folds": folds,
    "quiz": quiz,
}


def _kept() -> dict[str, str]:
    return {name: rows for _, name, rows, _ in SHOWN.findall(README.read_text(encoding="utf-8"))}


def test_readme_shows_each_of_them() -> None:
    assert set(_kept()) == set(SCREENS)


@pytest.mark.parametrize("name", SCREENS)
async def test_a_screen_in_readme_is_the_tutors(name: str) -> None:
    assert (await SCREENS[name]()).split("\n") == _kept()[name].split("\n")


def main() -> None:
    """Puts every screen into README anew, where its comment stands."""
    now = {name: asyncio.run(_made(make)) for name, make in SCREENS.items()}
    text = README.read_text(encoding="utf-8")
    README.write_text(SHOWN.sub(lambda found: found[1] + now[found[2]] + found[4], text), encoding="utf-8")


async def _made(make: Callable[[], Awaitable[str]]) -> str:
    return await make()


if __name__ == "__main__":
    main()
