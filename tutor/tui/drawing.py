"""A quiz being drawn: how far it is, and a way to leave it."""

from __future__ import annotations

from collections.abc import Mapping
from threading import Event
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.quiz import Quiz
from tutor.quiz.spec import QuizSpec


class _Left(Exception):
    """The learner wants no quiz after all."""


class Drawing(ModalScreen["Quiz | Fault | None"]):
    """Draws a quiz beside the screen; gives it, or why it can't be drawn, or None when Esc was pressed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", show=False),
        Binding("q", "app.quit", show=False),
        Binding("ctrl+c,ctrl+q", "app.quit", show=False, priority=True),
    ]

    def __init__(self, spec: QuizSpec, lessons: Mapping[str, Lesson]) -> None:
        super().__init__()
        self._spec = spec
        self._lessons = lessons
        self._given_up = Event()

    def compose(self) -> ComposeResult:
        with Vertical(id="reader"):
            yield Static(Content("Drawing the questions"), id="reader-heading")
            yield Static(Content(f"0 of {self._spec.count}. Esc leaves it."), id="drawn")

    def on_mount(self) -> None:
        self._draw()

    def on_unmount(self) -> None:
        self._given_up.set()

    @work(thread=True)
    def _draw(self) -> None:
        try:
            quiz: Quiz | Fault | None = draw_quiz(self._spec, self._lessons, self._told)
        except _Left:
            return
        except Fault as fault:
            quiz = fault
        if not self._given_up.is_set():
            self.app.call_from_thread(self.dismiss, quiz)

    def _told(self, done: int, of: int) -> None:
        if self._given_up.is_set():
            raise _Left
        self.app.call_from_thread(self._tell, done, of)

    def _tell(self, done: int, of: int) -> None:
        if self.is_mounted:
            self.query_one("#drawn", Static).update(Content(f"{done} of {of}. Esc leaves it."))

    def action_leave(self) -> None:
        self._given_up.set()
        self.dismiss(None)
