"""The list of lessons."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.listing import Listed
from tutor.lesson.path import builds_on
from tutor.tui.about import About
from tutor.tui.actions import Mode, bindings
from tutor.tui.foot import Foot
from tutor.tui.head import Head
from tutor.tui.lesson_list import LessonList
from tutor.tui.numbered_screen import NumberedScreen
from tutor.tui.pages import Part, paragraphs
from tutor.tui.rows import Page
from tutor.tui.say import Say
from tutor.tui.small import Small
from tutor.tui.spelling import fitted, spelled_out
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson

HEADING = "Lessons on altering a sleeve"
NUMBER_LEAST = 2
"""Columns that the lessons' numbers have at the least."""
BESIDE_TITLE = 8
"""Columns that the sign of the chosen lesson, the edges and what stands between take, without its number."""
TITLE_LEAST = 12
"""Columns that a title keeps, however long it is told how its lesson stands."""


class LessonsScreen(NumberedScreen):
    """All lessons with their number, title and state; what the chosen one is about stands below."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.LESSONS)

    COUNTED = "lesson"

    @property
    def mode(self) -> Mode:
        return Mode.LESSONS

    def compose(self) -> ComposeResult:
        yield Small()
        with Page(id="page"):
            yield Head(HEADING, ascii=self.desk.ascii, id="head")
            yield LessonList()
            yield About(ascii=self.desk.ascii)
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    def on_mount(self) -> None:
        self.show()
        self.call_after_refresh(self.show_tour_once)

    def on_screen_resume(self) -> None:
        # Below a lesson that is opened at once, it comes up while it is still being made.
        if self.query(LessonList):
            if (onward := self._onward()) is not None:
                self._list.choose(self._line_of(onward))
            self.show()

    def on_resize(self) -> None:
        self.show()

    @property
    def _list(self) -> LessonList:
        return self.query_one(LessonList)

    def show(self) -> None:
        super().show()
        self.query_one(Head).show([f"{HEADING} · a quiz is open: t" if self.desk.has_open_quiz() else HEADING])
        self._list.show(list(self._lines()), self._first() if self._list.chosen is None else self._list.chosen)
        self.tell_of_record(self.desk.notice())
        self.query_one(About).show([] if self._chosen is None else self._about(self._chosen))
        self.query_one(Say).show(self.said or self._left() or self._guide())
        self.said = ""

    def _first(self) -> int:
        """The line that is chosen at first: the lesson just left, or the one that comes next."""
        first = self._onward() or self.desk.left or self.desk.next_lesson()
        return 0 if first is None else self._line_of(first)

    def _onward(self) -> Listed | None:
        """The lesson that the path leads to from the one that was just left, where that is done and it comes later."""
        left, coming = self.desk.left, self.desk.next_lesson()
        if left is None or coming is None or not self.desk.left_is_done():
            return None
        return coming if coming.number > left.number else None

    def _line_of(self, lesson: Lesson | Listed) -> int:
        return next((line for line, each in enumerate(self.desk.lessons) if each.name == lesson.name), 0)

    def _guide(self) -> str:
        coming = self.desk.next_lesson()
        path = "All lessons are done" if coming is None else f"Next on the path: lesson {coming.number}"
        if self.desk.faults:
            return f"A lesson of your own can't be listed: {self.desk.faults[0]}. ↑↓ choose a lesson, Enter opens it."
        return f"{path}. ↑↓ or its number choose a lesson, Enter opens it. F2 is a walk round the tutor."

    def _left(self) -> str:
        """What has become of the lesson that was just left, while it is the chosen one, or the one after it is."""
        chosen, left, coming = self._chosen, self.desk.left, self.desk.next_lesson()
        onward = chosen is not None and chosen is self._onward()
        if left is None or chosen is None or not (onward or chosen.name == left.name):
            self.desk.left = None
            return ""
        path = (
            "" if coming is None or (coming is chosen and not onward) else f"Next on the path: lesson {coming.number}. "
        )
        opens = "Enter opens it, " if onward else ""
        return f"{self.desk.left_words()} {path}{opens}↑↓ choose another lesson."

    def _lines(self) -> Iterator[str]:
        """A line for each lesson; where there is little room titles are cut, and never how a lesson stands."""
        standings = self.desk.standings()
        wide = self._title_wide(standings)
        for lesson in self.desk.lessons:
            words = standings[lesson.name]
            standing = next((text for text in words if len(text) <= self._room - wide), words[-1])
            title = fitted(spelled_out(lesson.title, ascii=self.desk.ascii), wide)
            yield spelled_out(f"{lesson.number:>{self._number_wide}}  {title}  {standing}", ascii=self.desk.ascii)

    @property
    def _room(self) -> int:
        """Columns for a title and how its lesson stands."""
        return self.app.size.width - BESIDE_TITLE - self._number_wide

    @property
    def _number_wide(self) -> int:
        """Columns for the longest number: lessons of one's own have numbers above all others."""
        return max([NUMBER_LEAST, *(len(str(lesson.number)) for lesson in self.desk.lessons)])

    def _title_wide(self, standings: Mapping[str, Sequence[str]]) -> int:
        shortest = max((len(standings[lesson.name][-1]) for lesson in self.desk.lessons), default=0)
        longest = max((len(spelled_out(each.title, ascii=self.desk.ascii)) for each in self.desk.lessons), default=0)
        return min(longest, max(self._room - shortest, TITLE_LEAST))

    def _about(self, lesson: Listed) -> list[Part]:
        try:
            about = lesson.about(self.desk.unit)
        except Fault as fault:
            return [(f"{fault}", "$bad")]
        before = builds_on(lesson, self.desk.lessons)
        parts: list[Part] = []
        standings = self.desk.standings()
        if len(lesson.title) > self._title_wide(standings):
            parts = [(f"{lesson.title}\n\n", "bold $strong")]
        if (seed := self.desk.variants().get(lesson.name)) is not None:
            told = f"Open in variant {seed}: another arm and block than here."
            parts += [(f"{told}\n\n", "$text")]
        if before:
            told = "; ".join(f"{other.number} {other.title} ({standings[other.name][0]})" for other in before)
            parts += [(f"Builds on {told}.\n\n", "$text")]
        parts += [*paragraphs(about.brief), ("\n\nTasks\n", "bold $strong")]
        return [*parts, *((f"{number}  {title}\n", "$text") for number, title in enumerate(about.tasks, 1))]

    @on(LessonList.Opened)
    def open(self, event: LessonList.Opened) -> None:
        self.end_number()
        self._open(self.desk.lessons[event.line])

    def _open(self, lesson: Listed) -> None:
        from tutor.tui.lesson_screen import LessonScreen

        try:
            screen = LessonScreen(self.desk, lesson.lesson, self.app.pop_screen)
        except (Fault, Refusal, ValueError) as reason:
            self.said = f"Lesson {lesson.number} can't be opened: {reason}."
            self.show()
        else:
            self.app.push_screen(screen)

    @property
    def _chosen(self) -> Listed | None:
        """The lesson that the list is at."""
        at = self._list.chosen
        return None if at is None else self.desk.lessons[at]

    @property
    def numbers(self) -> Sequence[int]:
        """Of the lessons."""
        return [lesson.number for lesson in self.desk.lessons]

    def go_to(self, place: int) -> None:
        self._list.choose(place)

    def do_lesson_number(self) -> None:
        """The digits say which, so that a click on the help can only say what to press."""
        self.said = "Type a lesson's number, as 1 and 2 for lesson 12."

    def do_select_up(self) -> None:
        self._move(-1)

    def do_select_down(self) -> None:
        self._move(1)

    def do_page_up(self) -> None:
        self._move(-self._list.page)

    def do_page_down(self) -> None:
        self._move(self._list.page)

    def do_first_line(self) -> None:
        self._list.choose(0)

    def do_last_line(self) -> None:
        self._list.choose(len(self._list.words))

    def _move(self, lines: int) -> None:
        if (at := self._list.chosen) is not None:
            self._list.choose(at + lines)

    def do_open_lesson(self) -> None:
        if (lesson := self._chosen) is not None:
            self._open(lesson)

    def do_units(self) -> None:
        super().do_units()
        unit = "inches" if self.desk.unit is Unit.INCH else self.desk.unit.value
        self.said = f"Lengths are in {unit} from now on."

    def do_take_quiz(self) -> None:
        from tutor.tui.quiz_choice import take_quiz

        chosen = self._chosen
        take_quiz(self, None if chosen is None else chosen.name)

    def do_due(self) -> None:
        from tutor.tui.due_screen import DueScreen

        self.app.push_screen(DueScreen(self.desk, self.app.pop_screen))
