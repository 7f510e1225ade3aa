"""The full-screen tutor."""

from __future__ import annotations

import asyncio
import gc
import importlib
import os
import select
import signal
import sys
from collections.abc import Callable
from contextlib import nullcontext, suppress
from threading import Thread
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import App
from textual.binding import BindingType
from textual.css.query import NoMatches
from textual.screen import Screen

from tutor.lesson.listing import whole_listing
from tutor.letters import takes_every_letter
from tutor.record.record import Record, open_record
from tutor.tui.desk import Desk
from tutor.tui.face import Face
from tutor.tui.farewell import end_after
from tutor.tui.lessons_screen import LessonsScreen
from tutor.tui.line import Typing
from tutor.tui.reader import Reader
from tutor.tui.sizes import HEIGHTS, WIDTHS
from tutor.tui.themes import DEFAULT, PALETTES, PLAIN, palette, plain_theme
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson

Opening = Callable[["TutorApp"], Face]
"""Makes the first screen."""

LONGEST_FAREWELL = 3.0
"""Seconds the terminal has to be put in order after a signal."""
LOOKED_AFTER = 1.0
"""Seconds between two looks at whether the terminal is still there."""
SIGNALLED = 128
"""What is added to a signal's number for the exit status, as shells have it."""


class TutorApp(App[int]):
    """The tutor, opened at the list of lessons, at one lesson, or at another screen."""

    CSS_PATH = "tutor.tcss"
    TITLE = "sleeve-tutor"
    AUTO_FOCUS = None
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = []

    def __init__(self, lesson: Lesson | None = None, desk: Desk | None = None, opening: Opening | None = None) -> None:
        self.plain = _no_colour()
        super().__init__(ansi_color=True if self.plain else None)
        for each in PALETTES:
            self.register_theme(each.theme())
        self.register_theme(plain_theme())
        self.HORIZONTAL_BREAKPOINTS = list(WIDTHS)
        self.VERTICAL_BREAKPOINTS = list(HEIGHTS)
        self.desk = desk or Desk(whole_listing()[0])
        kept = self.desk.setting("theme", DEFAULT)
        self._begin_with(PLAIN if self.plain else kept if palette(kept) else DEFAULT)
        self._first = lesson
        self._opening = opening
        self.failure: Exception | None = None

    def _begin_with(self, theme: str) -> None:
        """Takes a theme before there is anything that has to be painted in it.

        To set it as it is set later would parse every style sheet twice, and paint and send the first screen twice.
        """
        self.set_reactive(App.theme, theme)
        dark = self.current_theme.dark
        for name, on in ((f"-theme-{theme}", True), ("-dark-mode", dark), ("-light-mode", not dark)):
            self.set_class(on, name, update=False)
        self.stylesheet.set_variables(self.get_css_variables())

    def on_mount(self) -> None:
        if not self.is_headless:
            self._leave_on_signals()
            if hasattr(select, "poll"):
                self.set_interval(LOOKED_AFTER, self._leave_if_gone)
        self.set_class(self.plain, "-plain")
        self.set_class(self.desk.ascii, "-ascii")
        if self._opening is not None:
            self.push_screen(self._opening(self))
            self.call_after_refresh(self._stay)
        elif self._first is None:
            self.call_after_refresh(Thread(target=self._load_lesson_screen, daemon=True).start)
        else:
            from tutor.tui.lesson_screen import LessonScreen

            self.push_screen(LessonScreen(self.desk, self._first, self.show_lessons))
            self.call_after_refresh(self._stay)

    def get_default_screen(self) -> Screen[Any]:
        """The list of lessons, where the tutor opens at it; another screen is laid over an empty one."""
        at_the_list = self._first is None and self._opening is None
        return LessonsScreen(self.desk) if at_the_list else super().get_default_screen()

    def _load_lesson_screen(self) -> None:
        """Loads what a lesson takes, which is most of the program, while the list is being read."""
        # If it fails it fails again, and is told, when a lesson is opened.
        with suppress(Exception):
            importlib.import_module("tutor.tui.lesson_screen")
        self._stay()

    def _stay(self) -> None:
        """What there is now stays: the collector need not go through all of it again while keys are pressed."""
        if not self.is_headless:
            gc.freeze()

    def show_lessons(self) -> None:
        """Back to the list of lessons, which is made when it is first wanted."""
        if any(isinstance(screen, LessonsScreen) for screen in self.screen_stack):
            self.pop_screen()
        else:
            self.switch_screen(LessonsScreen(self.desk))

    async def on_event(self, event: events.Event) -> None:
        """Keys are done by the app itself, one after the other, on whatever screen the one before has opened.

        Textual hands each key to the screen in view at once; one that is typed on while a page closes would be lost.
        """
        ours = isinstance(self.screen, Face | Reader | Typing) if self.screen_stack else False
        if isinstance(event, events.Key) and not event.is_forwarded and ours and self.focused is None:
            await self._done(event)
        else:
            await super().on_event(event)

    async def _done(self, event: events.Key) -> None:
        while not self.screen.is_mounted:
            await asyncio.sleep(0.001)
        active = self.screen.active_bindings.get(event.key)
        if active is not None:
            await self.run_action(active.binding.action, active.node)
        elif isinstance(self.screen, Typing) and event.is_printable and event.character is not None:
            self.screen.write(event.character)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Every theme that comes with Textual gets our own names as well, so that no style sheet fails."""
        colours = palette(DEFAULT)
        assert colours is not None
        return colours.theme().variables

    def _leave_on_signals(self) -> None:
        """Ends as by q, the terminal restored, when the program is told to end or its terminal is closed."""
        loop = asyncio.get_running_loop()

        def told(number: int, _: object) -> None:
            # Whatever keeps the loop from it, a terminal that takes nothing above all, there is an end.
            end_after(LONGEST_FAREWELL, SIGNALLED + number, self._driver)
            with suppress(RuntimeError):
                loop.call_soon_threadsafe(self.exit, SIGNALLED + number)

        for name in ("SIGTERM", "SIGHUP"):
            if (number := getattr(signal, name, None)) is not None:
                with suppress(ValueError):
                    signal.signal(number, told)

    def _leave_if_gone(self) -> None:
        """Ends where the terminal has hung up without a signal, as a closed pseudo terminal or pipe can."""
        poll = select.poll()
        poll.register(0, 0)
        if poll.poll(0):
            end_after(LONGEST_FAREWELL, SIGNALLED + signal.SIGHUP, None)
            self.exit(SIGNALLED + signal.SIGHUP)

    def _handle_exception(self, error: Exception) -> None:
        """A fault of the program's own ends the tutor with the terminal whole, and goes on from ``run``."""
        if self.is_headless:
            super()._handle_exception(error)
        elif self._exit and isinstance(error, NoMatches):
            # While it is being left its screens go, and a last key finds nothing on them: that is no fault.
            return
        else:
            self.failure = self.failure or error
            self.exit(1)

    async def action_quit(self) -> None:
        self.exit(0)


def _found(wanted: str) -> Lesson:
    from tutor.lesson.reading import find_lesson

    return find_lesson(wanted)


def _no_colour() -> bool:
    """Whether colours are unwanted (no-color.org: the variable is set and not empty)."""
    if os.environ.get("NO_COLOR"):
        return True
    # Textual takes an empty one for a wish as well.
    os.environ.pop("NO_COLOR", None)
    return False


def _draws_braille() -> bool:
    """Whether the terminal can be expected to: it takes UTF-8, and has more letters than a console's."""
    return takes_every_letter(sys.stdout) and not os.environ.get("TERM", "").startswith(("linux", "vt", "dumb"))


def run(
    lesson: str | None = None,
    units: Unit = Unit.CM,
    ascii: bool = False,
    *,
    unit_changed: Callable[[Unit], None] | None = None,
    seed: int | None = None,
    opening: Opening | None = None,
    record: Record | None = None,
) -> int:
    """Opens the tutor, at the list of lessons, at the one named, or as ``opening`` says; the exit status.

    A ``record`` that is open already is left open. ``seed`` numbers a variant of that lesson. ``unit_changed`` is told
    when another unit is chosen. Raises Fault for a lesson that there is not, and whatever the tutor itself failed by,
    when the terminal is whole again.
    """
    first = None if lesson is None else _found(lesson)
    known, faults = whole_listing()
    with nullcontext(record) if record is not None else open_record() as kept:
        seeds = {} if first is None or seed is None else {first.name: seed}
        desk = Desk(known, units, ascii or not _draws_braille(), unit_changed, kept, seeds)
        desk.faults = faults
        app = TutorApp(first, desk, opening)
        status = app.run()
    if app.failure is not None:
        raise app.failure
    return status if status is not None else app.return_code or 0
