"""What is due for practice, and why."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import OptionList, Static

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.reading import every_lesson
from tutor.practice.offers import Offer, nothing_due, offers
from tutor.record.attempts import KeptAttempt
from tutor.tui.actions import Action, Mode, bindings
from tutor.tui.desk import Desk
from tutor.tui.face import Face
from tutor.tui.foot import Foot
from tutor.tui.head import Head
from tutor.tui.lesson_screen import LessonScreen
from tutor.tui.names import Names
from tutor.tui.pages import page, paragraphs
from tutor.tui.say import Say
from tutor.tui.small import Small
from tutor.tui.spelling import spelled_out


class DueScreen(Face):
    """The tasks that are due, the most needful first; the reason of the chosen one stands below."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.DUE)

    def __init__(self, desk: Desk, leave: Callable[[], object]) -> None:
        super().__init__(desk)
        self._leave = leave
        self._lessons = every_lesson()
        self.offered: tuple[Offer, ...] = ()

    @property
    def mode(self) -> Mode:
        return Mode.DUE

    def compose(self) -> ComposeResult:
        yield Small()
        with Vertical(id="page"):
            yield Head("Due for practice", ascii=self.desk.ascii, id="head")
            yield Names(id="lessons")
            yield Static(id="about")
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    def on_mount(self) -> None:
        self.show()

    def on_screen_resume(self) -> None:
        if self.query(Names):
            self.show()

    def show(self) -> None:
        tries, now = self._tries(), datetime.now(UTC)
        self.offered = offers(tries, self._lessons, now)
        super().show()
        names = self.query_one(Names)
        rows = [(str(k), spelled_out(each.title, ascii=self.desk.ascii)) for k, each in enumerate(self.offered)]
        if names.words != tuple(words for _, words in rows):
            names.put(rows)
        names.display = bool(rows)
        self._tell(nothing_due(tries, self._lessons, now))
        guide = "↑↓ choose a task, Enter practises it on another arm and block; Esc: the list of lessons."
        self.query_one(Say).show(self.said or (guide if rows else "Esc: the list of lessons."))
        self.said = ""

    @property
    def foot(self) -> tuple[Action, ...]:
        return tuple(each for each in super().foot if self.offered or each.name != "open_due")

    def _tries(self) -> tuple[KeptAttempt, ...]:
        return () if self.desk.record is None else self.desk.record.attempts()

    @property
    def _chosen(self) -> Offer | None:
        at = self.query_one(Names).highlighted
        return None if at is None or at >= len(self.offered) else self.offered[at]

    def _tell(self, nothing: str) -> None:
        chosen = self._chosen
        text = nothing if chosen is None else chosen.reason
        self.query_one("#about", Static).update(page(paragraphs([text]), ascii=self.desk.ascii))

    @on(OptionList.OptionHighlighted)
    def told(self) -> None:
        if self.offered:
            self._tell("")

    @on(OptionList.OptionSelected)
    def clicked(self) -> None:
        self.do_open_due()

    def do_select_up(self) -> None:
        self.query_one(Names).step(-1)

    def do_select_down(self) -> None:
        self.query_one(Names).step(1)

    def do_open_due(self) -> None:
        chosen = self._chosen
        if chosen is None:
            return
        try:
            self.desk.practise(chosen.lesson, chosen.seed, chosen.task)
            self.app.push_screen(LessonScreen(self.desk, chosen.lesson, self.app.pop_screen))
        except (Fault, Refusal, ValueError) as reason:
            self.said = f"It can't be opened: {reason}."

    def do_leave_due(self) -> None:
        self._leave()
