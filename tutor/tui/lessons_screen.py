"""The list of lessons."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.listing import Listed
from tutor.lesson.path import builds_on
from tutor.tui.actions import Mode, bindings
from tutor.tui.face import Face
from tutor.tui.foot import Foot
from tutor.tui.pages import Part, page, paragraphs
from tutor.tui.say import Say
from tutor.tui.small import Small


class LessonsScreen(Face):
    """All lessons with their number, title and state; what the chosen one is about stands below."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.LESSONS)

    @property
    def mode(self) -> Mode:
        return Mode.LESSONS

    def compose(self) -> ComposeResult:
        yield Small()
        with Vertical(id="page"):
            yield Static(Content("Lessons on altering a sleeve"), id="head")
            yield OptionList(id="lessons")
            yield Static(id="about")
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    def on_mount(self) -> None:
        self._list.can_focus = False
        self.show_tour_once()
        self.show()

    def on_screen_resume(self) -> None:
        # Below a lesson that is opened at once, it comes up while it is still being made.
        if self.query("#lessons"):
            self.show()

    @property
    def _list(self) -> OptionList:
        return self.query_one("#lessons", OptionList)

    def show(self) -> None:
        super().show()
        coming = self.desk.next_lesson()
        first = 0 if coming is None else list(self.desk.lessons).index(coming)
        highlighted = first if self._list.highlighted is None else self._list.highlighted
        self._list.clear_options()
        self._list.add_options(list(self._options()))
        self._list.highlighted = highlighted if self._list.option_count else None
        self.query_one(Say).show(self.said or self._guide(coming))
        self.said = ""

    def _guide(self, coming: Listed | None) -> str:
        path = "All lessons are done" if coming is None else f"Next on the path: lesson {coming.number}"
        if self.desk.faults:
            return f"A lesson of your own can't be listed: {self.desk.faults[0]}. ↑↓ choose a lesson, Enter opens it."
        return f"{path}. ↑↓ choose a lesson, Enter opens it. F2 is a walk round the tutor."

    def _options(self) -> Iterator[Option]:
        standings = self.desk.standings()
        wide = max((len(lesson.title) for lesson in self.desk.lessons), default=0)
        for lesson in self.desk.lessons:
            parts = [(f"{lesson.number:>2}  {lesson.title.ljust(wide)}  ", ""), (standings[lesson.name], "")]
            yield Option(page(parts, ascii=self.desk.ascii), id=lesson.name)

    @on(OptionList.OptionHighlighted)
    def tell(self, event: OptionList.OptionHighlighted) -> None:
        lesson = self._lesson(event.option_id)
        if lesson is not None:
            self.query_one("#about", Static).update(page(self._about(lesson), ascii=self.desk.ascii))

    def _about(self, lesson: Listed) -> list[Part]:
        try:
            about = lesson.about(self.desk.unit)
        except Fault as fault:
            return [(f"{fault}", "$bad")]
        before = builds_on(lesson, self.desk.lessons)
        parts: list[Part] = []
        if before:
            standings = self.desk.standings()
            told = "; ".join(f"{other.number} {other.title} ({standings[other.name]})" for other in before)
            parts = [(f"Builds on {told}.\n\n", "$text")]
        parts += [*paragraphs(about.brief), ("\n\nTasks\n", "bold $strong")]
        return [*parts, *((f"{number}  {title}\n", "$text") for number, title in enumerate(about.tasks, 1))]

    @on(OptionList.OptionSelected)
    def open(self, event: OptionList.OptionSelected) -> None:
        lesson = self._lesson(event.option_id)
        if lesson is not None:
            self._open(lesson)

    def _open(self, lesson: Listed) -> None:
        from tutor.tui.lesson_screen import LessonScreen

        try:
            screen = LessonScreen(self.desk, lesson.lesson, self.app.pop_screen)
        except (Fault, Refusal, ValueError) as reason:
            self.said = f"Lesson {lesson.number} can't be opened: {reason}."
            self.show()
        else:
            self.app.push_screen(screen)

    def do_select_up(self) -> None:
        self._list.action_cursor_up()

    def do_select_down(self) -> None:
        self._list.action_cursor_down()

    def do_open_lesson(self) -> None:
        if self._list.highlighted is not None:
            self._open(self.desk.lessons[self._list.highlighted])

    def _lesson(self, name: str | None) -> Listed | None:
        return next((lesson for lesson in self.desk.lessons if lesson.name == name), None)
