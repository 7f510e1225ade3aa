"""The questions of a quiz: how they stand, and when it is handed in, what it came to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.widgets import OptionList

from tutor.faults import Fault
from tutor.marking.points import needed_of_100, out_of_100
from tutor.quiz.outcome import Outcome, outcome_of
from tutor.quiz.plain_text import about, closing_words, result_words, terms, time_left, title_of
from tutor.quiz.sitting import Result, Sitting
from tutor.tui.about import About
from tutor.tui.actions import Action, Mode, bindings, named
from tutor.tui.desk import Desk
from tutor.tui.foot import Foot
from tutor.tui.head import Head
from tutor.tui.names import Names
from tutor.tui.numbered_screen import NumberedScreen
from tutor.tui.pages import Part, paragraphs
from tutor.tui.question_screen import EVERY_SECOND, QuestionScreen
from tutor.tui.quiz_desk import QuizDesk
from tutor.tui.say import Say
from tutor.tui.small import Small
from tutor.tui.spelling import fitted, spelled_out

SPARE = 6
"""Columns that a line of the list does not have: its sign, its edges, and what may scroll."""


class QuizScreen(NumberedScreen):
    """All questions with how they stand; below, how the quiz is taken, or what it came to."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.QUIZ)

    desk: QuizDesk
    COUNTED = "question"

    def __init__(self, desk: Desk, sitting: Sitting, leave: Callable[[], object]) -> None:
        super().__init__(QuizDesk.of(desk, sitting))
        self._leave = leave
        self._outcome: Outcome | None = None

    @property
    def mode(self) -> Mode:
        return Mode.QUIZ

    @property
    def foot(self) -> tuple[Action, ...]:
        shown = super().foot
        return (
            shown
            if self._outcome is None
            else tuple(named("outcome") if each.name == "hand_in" else each for each in shown)
        )

    @property
    def sitting(self) -> Sitting:
        return self.desk.sitting

    @property
    def outcome(self) -> Outcome | None:
        """What the quiz came to, once it is over."""
        if self._outcome is None and self.sitting.is_over:
            self._outcome = outcome_of(self.sitting)
            self.desk.save()
        return self._outcome

    def compose(self) -> ComposeResult:
        yield Small()
        with Vertical(id="page"):
            yield Head(title_of(self.sitting), ascii=self.desk.ascii, id="head")
            yield Names(id="lessons")
            yield About(ascii=self.desk.ascii)
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    def on_mount(self) -> None:
        self.show()
        if self.sitting.clock.limit is not None:
            self.set_interval(EVERY_SECOND, self.tick)

    def on_screen_resume(self) -> None:
        if self.query(Names):
            self.show()

    def on_resize(self) -> None:
        self.show()

    def tick(self) -> None:
        """Tells the time that is left, while this is in view; a page over it stays, and so does what was said."""
        if self.is_current and self._outcome is None:
            if self.outcome is None:
                self._tell_about(None)
            else:
                self.show()

    def show(self) -> None:
        outcome = self.outcome
        super().show()
        names = self.query_one(Names)
        at = self.sitting.number - 1 if names.highlighted is None else names.highlighted
        rows = list(self._names(outcome))
        if names.words != tuple(words for _, words in rows):
            names.put(rows, at)
        self._tell_about(outcome)
        self.tell_of_record(self.desk.notice())
        self.query_one(Say).show(self.said or self._guide(outcome))
        self.said = ""

    def _tell_about(self, outcome: Outcome | None) -> None:
        self.query_one(About).show(self._about(outcome))

    def _names(self, outcome: Outcome | None) -> Iterator[tuple[str, str]]:
        """Each question in one line: its number, how it stands or its mark, its title, and its lesson's number."""
        room = max(self.app.size.width - SPARE, 20)
        for number in self.sitting.numbers:
            asked, stands = self.sitting.question(number), self.sitting.standing(number)
            says = stands if outcome is None else f"{out_of_100(outcome.results[number - 1].marked.total)} of 100"
            lead, lesson = f"{number:>2}  {says:<10}  ", f" (lesson {asked.lesson.number})"
            title = spelled_out(asked.title, ascii=self.desk.ascii)
            title = fitted(title, room - len(lead) - len(lesson)).rstrip()
            yield str(number), spelled_out(f"{lead}{title}{lesson}", ascii=self.desk.ascii)

    def _about(self, outcome: Outcome | None) -> list[Part]:
        if outcome is None:
            return paragraphs([about(self.sitting), terms(self.sitting), time_left(self.sitting)])
        verdict = "Passed" if outcome.passed else "Not passed"
        needed = f"{out_of_100(outcome.mark)} of 100, {needed_of_100(outcome.pass_mark)} needed"
        parts: list[Part] = [(f"{verdict}: {needed}\n\n", "bold $good" if outcome.passed else "bold $bad")]
        return [*parts, *paragraphs(closing_words(self.sitting, outcome))]

    def _guide(self, outcome: Outcome | None) -> str:
        if outcome is not None:
            return "↑↓ choose a question, Enter shows what was said of it; m all of what the quiz came to. Esc leaves."
        left = sum(self.sitting.standing(number) == "open" for number in self.sitting.numbers)
        what = f"{left} without an answer" if left else "every question has an answer"
        return f"{what[0].upper()}{what[1:]}. ↑↓ choose a question, Enter opens it; F hands the quiz in."

    @property
    def numbers(self) -> Sequence[int]:
        """Of the questions."""
        return list(self.sitting.numbers)

    def go_to(self, place: int) -> None:
        self.query_one(Names).highlighted = place

    def do_question_number(self) -> None:
        """The digits say which, so that a click on the help can only say what to press."""
        self.said = "Type a question's number."

    def do_select_up(self) -> None:
        self.query_one(Names).step(-1)

    def do_select_down(self) -> None:
        self.query_one(Names).step(1)

    @on(OptionList.OptionSelected)
    def clicked(self, event: OptionList.OptionSelected) -> None:
        self.end_number()
        self.do_open_question()

    def do_open_question(self) -> None:
        at = self.query_one(Names).highlighted or 0
        outcome = self.outcome
        if outcome is not None:
            self._tell(outcome.results[at])
            return
        try:
            self.sitting.go_to(at + 1)
            self.app.push_screen(QuestionScreen(self.desk, self._back))
        except Fault as fault:
            self.said = f"{fault}."

    def _back(self) -> None:
        """From a question to the questions, the one that was at hand chosen."""
        self.app.pop_screen()
        self.query_one(Names).highlighted = self.sitting.number - 1

    def _tell(self, result: Result) -> None:
        self.read(f"{result.number} {result.title}", paragraphs(result_words(self.sitting, result)))

    def do_outcome(self) -> None:
        outcome = self.outcome
        if outcome is None:
            self.said = "The marks come when the quiz is handed in: F."
            return
        self.read("What it came to", self._about(outcome))

    def do_hand_in(self) -> None:
        if self.outcome is not None:
            self.said = "It is handed in already."
            return

        def then(key: str | None) -> None:
            if key == "y":
                self.sitting.hand_in()
            self.show()

        left = [str(number) for number in self.sitting.numbers if self.sitting.standing(number) == "open"]
        without = f"Without an answer: {', '.join(left)}. " if left else ""
        text = f"{without}Once it is handed in, nothing can be changed any more."
        self.read("Hand the quiz in?", paragraphs([text]), then, (("y", "hand it in"),), "leave it")

    def do_leave_quiz(self) -> None:
        self._leave()
