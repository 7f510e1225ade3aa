"""The tutor run without a terminal, for tests: its screen as text, keys, and clicks on places of the pattern."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass

from rich.segment import Segment
from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import Listed, own_listing
from tutor.lesson.reading import find_lesson
from tutor.record.record import Record
from tutor.tui.app import TutorApp
from tutor.tui.desk import Desk
from tutor.tui.lesson_screen import LessonScreen
from tutor.tui.picture import Picture
from tutor.tui.reader import Reader
from tutor.tui.ways import Ways
from tutor.units import Unit


@dataclass(slots=True)
class Driven:
    """A running tutor and the hand on its keys."""

    app: TutorApp
    pilot: Pilot[int]

    @property
    def strips(self) -> list[list[Segment]]:
        """The screen as it would be sent to a terminal, filters and all."""
        compositor = self.app.screen._compositor
        filters = [each for each in self.app._filters if each.enabled]
        background = self.app.screen.background_colors[1]
        lines = []
        for strip in compositor.render_strips():
            for each in filters:
                strip = strip.apply_filter(each, background)
            lines.append(list(strip))
        return lines

    @property
    def rows(self) -> list[str]:
        """The screen's rows as text."""
        return [strip.text for strip in self.app.screen._compositor.render_strips()]

    @property
    def text(self) -> str:
        """The whole screen, every stretch of white space as one blank."""
        return " ".join(" ".join(self.rows).split())

    @property
    def page(self) -> str:
        """The text laid over the screen, all of it, every stretch of white space as one blank."""
        assert isinstance(self.app.screen, Reader), self.text
        return " ".join(self.app.screen.words.split())

    @property
    def lesson(self) -> LessonScreen:
        """The lesson under whatever lies over it."""
        return next(screen for screen in self.app.screen_stack[::-1] if isinstance(screen, LessonScreen))

    @property
    def picture(self) -> Picture:
        return self.lesson.query_one(Picture)

    async def press(self, keys: str) -> None:
        """Presses keys written one after the other, separated by blanks."""
        for key in keys.split():
            await self._send(key, key if len(key) == 1 else None)
        await self.pilot.pause()

    async def resize(self, columns: int, rows: int) -> None:
        """Makes the window another size, and waits until all is laid out and painted for it."""
        await self.pilot.resize_terminal(columns, rows)
        for _ in range(3):
            await self.pilot._wait_for_screen()
        await self.pilot.pause()

    async def write(self, text: str) -> None:
        """Types a text."""
        for letter in text:
            await self._send(_character_to_key(letter), letter)
        await self.pilot.pause()

    async def _send(self, key: str, character: str | None) -> None:
        """One key, as from the keyboard; the pilot's own way waits 40 ms more each time, for animations."""
        driver = self.app._driver
        assert driver is not None
        event = events.Key(key, character)
        event.set_sender(self.app)
        driver.send_message(event)
        for _ in range(3):
            await self.pilot._wait_for_screen()

    def cell(self, place: complex) -> tuple[int, int]:
        """The cell of the picture that shows a place in mm."""
        assert self.picture.chart is not None
        cell = self.picture.chart.to_cell(place)
        assert cell is not None, f"{place} is not in view"
        return cell

    async def click(self, place: complex) -> None:
        """Clicks on a place of the pattern."""
        await self.pilot.click("#picture", offset=self.cell(place))

    async def click_way(self, key: str) -> None:
        """Clicks on a way on from the page or the question in view."""
        ways = self.app.screen.query_one(Ways)
        await self.pilot.click(Ways, offset=ways.place(key))


@asynccontextmanager
async def driven(
    lesson: str | Lesson | None = None,
    size: tuple[int, int] = (80, 24),
    *,
    unit: Unit = Unit.CM,
    ascii: bool = False,
    record: Record | None = None,
    brief_closed: bool = True,
    known: Sequence[Listed] | None = None,
) -> AsyncIterator[Driven]:
    """The tutor open at a lesson, its brief closed; or at the list of lessons, those ``known`` or all there are."""
    first = find_lesson(lesson) if isinstance(lesson, str) else lesson
    listed = (Listed.of(lesson),) if isinstance(lesson, Lesson) else own_listing()
    known = listed if known is None else known
    app = TutorApp(first, Desk(known, unit, ascii=ascii, record=record))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        if first is not None and brief_closed:
            await pilot.press("enter")
        yield Driven(app, pilot)
