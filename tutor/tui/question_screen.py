"""A question of a quiz on the screen: built, said or chosen as in a lesson, but for hints and marks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from textual import events, on
from textual.binding import BindingType

from tutor.faults import Fault
from tutor.lesson.task import NumberTask
from tutor.marking.points import out_of_100
from tutor.pattern.measures import Kind as Measured
from tutor.pattern.measures import kind_of
from tutor.practice.options import Option
from tutor.practice.place_answer import kept_place
from tutor.quiz.asked import LETTERS, Asked
from tutor.quiz.chosen import Chosen
from tutor.tui import guide
from tutor.tui.actions import ACTIONS, ANSWERING, Action, Mode, bindings, for_key, named
from tutor.tui.head import Head
from tutor.tui.lesson_screen import LessonScreen
from tutor.tui.pages import Part, paragraphs
from tutor.tui.picture import Picture
from tutor.tui.plan_lines import PlanLine, stepped_figure, stepped_text
from tutor.tui.prompt import Prompt, asked_in
from tutor.tui.quiz_desk import QuizDesk
from tutor.tui.seeking import seeking_words
from tutor.tui.side import Side
from tutor.tui.side_lines import SideState
from tutor.units import Unit

NOT_HERE = {
    "hint": "There are no hints in a quiz.",
    "solution": "There are no worked solutions in a quiz.",
    "begin_again": "A quiz is not started over; each question can be answered anew until it is handed in.",
    "another": "Another arm and block is for practice, after the quiz.",
}
"""Actions of a lesson that a quiz does not have, and what is said instead."""
ANSWERS = frozenset(
    {"answer", "pick", "pick_number", "take_option", "option", "show_place", "undo", "redo", "start_over"}
    | {action.name for action in ACTIONS if action.group in ("Slashes", "Amounts", "Signs")}
)
"""Actions that change the answer, which none may once the question is settled."""
HOW = {
    Mode.CHOOSING: "↑↓ choose, Enter answers; b tells it all. ",
    Mode.CHOICE: "↑↓ choose, Enter takes it or leaves it; b tells it all. ",
    Mode.DIAGNOSE: "↑↓ choose, Enter looks for the sign or names the cause. ",
    Mode.PLACE: "Arrows walk it, Tab: next mark or corner; Enter answers with it. ",
    Mode.NUMBER: "Enter asks for your answer. ",
}
"""How a question is answered that is not built."""
EVERY_SECOND = 1.0


class QuestionScreen(LessonScreen):
    """The question at hand of a quiz, and by keys the next ones."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(
        Mode.PLAN, Mode.PLACING, Mode.NUMBER, Mode.CHOICE, Mode.PLACE, Mode.DIAGNOSE, Mode.CHOOSING, Mode.WALKING
    )

    desk: QuizDesk

    def __init__(self, desk: QuizDesk, leave: Callable[[], object]) -> None:
        super().__init__(desk, desk.sitting.asked.lesson, leave)

    @property
    def asked(self) -> Asked:
        return self.desk.sitting.asked

    @property
    def mode(self) -> Mode:
        return Mode.CHOOSING if isinstance(self.asked, Chosen) else super().mode

    @property
    def actions(self) -> tuple[Action, ...]:
        sitting = self.desk.sitting
        none = {*NOT_HERE} | ({"check"} if sitting.quiz.spec.marks == "end" else set())
        none |= ANSWERS if self._is_settled else set()
        words = {
            "check": "read its mark again" if self._is_settled else "mark this question now, which settles it",
            "show_place": "answer with the place where the marker stands",
            "next_task": "on to the next question, answered or not",
            "last_task": "back to the question before",
            "lessons": "all questions of the quiz, and handing it in",
        }
        able = [each for each in super().actions if each.name not in none]
        return tuple(replace(each, words=words.get(each.name, each.words)) for each in able)

    @property
    def foot(self) -> tuple[Action, ...]:
        kept = [each for each in super().foot if each.name not in {*NOT_HERE, "check", "lessons"}]
        if self.mode not in ANSWERING:
            return tuple(kept)
        if self._is_settled:
            kept = [*(each for each in kept if each.name not in ANSWERS), replace(named("check"), short="Mark")]
        onward, back = named("next_task"), named("lessons")
        ways = () if self._is_last else (replace(onward, short="Next question", terse="Next"),)
        return (*kept[:4], *ways, replace(back, short="All questions", terse="List"))

    @property
    def _is_settled(self) -> bool:
        """Whether the question at hand is marked already."""
        return self.desk.sitting.standing(self.desk.sitting.number) == "marked"

    @property
    def _is_last(self) -> bool:
        """Whether no question comes after the one at hand."""
        return self.desk.sitting.number == self.desk.sitting.numbers[-1]

    def on_mount(self, event: events.Mount | None = None) -> None:
        if event is not None:
            # A lesson's screen would say where the lesson was left, and offer a walk.
            event.prevent_default()
        if self.view is None:
            self.look_at_what_matters()
            self.do_brief()
        self.show()
        if self.desk.sitting.clock.limit is not None:
            self.set_interval(EVERY_SECOND, self.tick)

    def tick(self) -> None:
        """Tells the time that is left, and ends the quiz when there is none."""
        if self.desk.sitting.is_over:
            self._over()
        else:
            self.query_one(Head).show(self._heads())

    def perform(self, action: Action) -> None:
        if self.desk.sitting.is_over and action.name not in ("quit", "help"):
            self._over()
        elif action.name in NOT_HERE:
            self.said = NOT_HERE[action.name]
            self.show()
        elif action.name in ANSWERS and self._is_settled:
            self._takes_answers()
            self.show()
        else:
            super().perform(action)

    def _over(self) -> None:
        """Back to the questions, which show the marks; pages laid over this one go first."""
        self.desk.save()
        while self.app.screen is not self and len(self.app.screen_stack) > 1:
            self.app.pop_screen()
        self._leave()

    # What is shown.

    def _heads(self) -> tuple[str, ...]:
        sitting = self.desk.sitting
        where = f"question {sitting.number} of {len(sitting.numbers)}"
        left = "" if (seconds := sitting.clock.left) is None else f" · {int(seconds) // 60}:{int(seconds) % 60:02} left"
        title = sitting.quiz.spec.title or f"Quiz {sitting.quiz.spec.seed}"
        full = f"{title} · {where}{left}: {self.asked.title}"
        return full, f"{where.capitalize()}{left}: {self.asked.title}", f"{where.capitalize()}{left}"

    def _guide(self) -> str:
        asked = self.asked
        if self.mode not in ANSWERING:
            return super()._guide()
        settled = "Marked, and settled by that; c: its mark. " if self._is_settled else ""
        answered = f"{self._answer_told()} " if asked.answer is not None and not asked.is_built else ""
        onward = self._onward()
        if self.mode is Mode.DIAGNOSE:
            row = next((row for row in self.session.signs if row.name == self.chosen and row.asked), None)
            if row is not None:
                return f"{settled}{guide.sign_said(row)}"
        if self.mode in HOW:
            where = f"{seeking_words(self.seeking_now(), self.desk.unit)} " if self.mode is Mode.PLACE else ""
            return f"{settled}{answered}{where}{'' if settled else HOW[self.mode]}{onward}"
        if settled:
            return f"{settled}{onward}"
        shown = self.pointing.refused is not None
        words = guide.plan_words(self.session, self.line(), self.desk.unit, shown=shown)
        words = words.replace("c has it marked; u takes", "u takes").replace(
            " h gives a hint; c has it marked again.", ""
        )
        way = "Last question. Esc: all, and handing in." if self._is_last else "n: next question; Esc: all."
        return f"{words} {way}"

    def _onward(self) -> str:
        """Where to go from the question at hand."""
        if self._is_last:
            return "This is the last question. Esc: all questions; F hands in there."
        return "n: next question; Esc: all questions, and handing in."

    def _side(self) -> SideState:
        state = super()._side()
        if self.mode is not Mode.CHOOSING:
            return replace(state, asked=self.asked.ask)
        options = tuple(
            Option(letter, letter, words, (self.asked.answer or " ")[0] == letter)
            for letter, words in zip(LETTERS, self.asked.options, strict=False)
        )
        return replace(state, asked=self.asked.ask, plan=(), chosen=self.chosen, heading="", options=options, one=True)

    def lines(self) -> tuple[PlanLine, ...]:
        return () if isinstance(self.asked, Chosen) else super().lines()

    def _keys(self) -> list[str]:
        return list(LETTERS[: len(self.asked.options)]) if self.mode is Mode.CHOOSING else super()._keys()

    @property
    def texts(self) -> tuple[str, ...]:
        return self.asked.title, self.asked.ask, *self.asked.story

    def do_brief(self) -> None:
        asked = self.asked
        parts: list[Part] = [(f"{asked.title}\n", "bold $strong"), (asked.ask, "$text")]
        if asked.options:
            parts += [("\n", "")]
            parts += [
                (f"\n{letter}  {words}", "bold $text") for letter, words in zip(LETTERS, asked.options, strict=False)
            ]
        parts += [("\n\n", ""), *paragraphs(asked.story)]
        sitting = self.desk.sitting
        self.read(f"Question {sitting.number} of {len(sitting.numbers)}, lesson {self.lesson.number}", parts)

    # Answers.

    def _press(self, event: Picture.Pointed) -> None:
        if self._takes_answers():
            super()._press(event)

    def action_press(self, key: str) -> None:
        action = for_key(key, self.mode)
        if action is not None and action.name == "option" and not self.desk.sitting.is_over:
            self.give(LETTERS[int(key) - 1] if key.isdecimal() else key)
            self.show()
        else:
            super().action_press(key)

    def give(self, text: str) -> None:
        """Answers in words; what can't be is said instead."""

        def edit() -> None:
            self.desk.sitting.give(text)
            self.chosen = text

        if self.attempt(edit):
            self.said = self._answered()

    def _answered(self) -> str:
        sitting = self.desk.sitting
        onward = sitting.next_open()
        if onward is None:
            more = "Every question has an answer: Esc, and F hands in."
        elif self._is_last:
            more = f"This was the last question; {onward} has no answer yet. Esc: all questions."
        else:
            more = "n: next question."
        return f"{self._answer_told()} {more}"

    def _answer_told(self) -> str:
        """The answer in a sentence; of a place only that one is shown, as words would name its seam."""
        if self.mode is Mode.PLACE:
            return "Your place is shown."
        if self.mode in (Mode.CHOICE, Mode.DIAGNOSE):
            # By what stands before them here; letters are those of the sheet, and of line by line.
            chosen = [each for each in self.options if each.chosen]
            return f"Your answer is {'; '.join(f'{each.letter}, {each.words}'.lstrip(', ') for each in chosen)}."
        return f"Your answer is {self.asked.answer}."

    def do_option(self) -> None:
        self.said = "A, B, C or D answers; so does Enter, with the chosen line."

    def do_take_option(self) -> None:
        self.give(self.chosen)

    @on(Side.Chosen)
    def choose_option(self, event: Side.Chosen) -> None:
        if self.mode is Mode.CHOOSING:
            again = event.key == self.chosen
            self.chosen = event.key
            if again:
                self.give(event.key)
            self.show()

    def do_show_place(self) -> None:
        where = kept_place(self.session.edge, self.seeking_now().marker.along)
        if self.attempt(lambda: self.desk.sitting.give(where)):
            self.said = self._answered()

    def do_answer(self) -> None:
        unit, task = self.desk.unit, self.session.task
        if not isinstance(task, NumberTask):
            return
        if not self._takes_answers():
            return
        kind = kind_of(task.measure)

        def step(text: str, steps: int) -> str:
            return stepped_text(text, steps, unit, 0.0) if kind is Measured.LENGTH else stepped_figure(text, steps)

        def take(text: str | None) -> None:
            if text is not None:
                self.said = self._answered()
            self.show()

        words = f"{task.title}: your answer, in {asked_in(unit, kind)}. It is marked at the end.{self.taped_now()}"
        example = "such as 4 7/8" if unit is Unit.INCH and kind is Measured.LENGTH else "such as 12.5"
        prompt = Prompt(words, example, self.desk.sitting.give, step, enter="answer", ascii=self.desk.ascii)
        self.app.push_screen(prompt, take)

    def attempt(self, edit: Callable[[], object]) -> bool:
        """Makes an edit, unless the question takes none any more; a fault is said instead."""
        return self._takes_answers() and super().attempt(edit)

    def _takes_answers(self) -> bool:
        try:
            self.desk.sitting.check_open()
        except Fault as fault:
            told = f"This question {fault.what}" if fault.where == "question" else fault.what
            self.said = f"{told[0].upper()}{told[1:]}; {fault.right}."
            return False
        return True

    def do_check(self) -> None:
        """Marks this question before the end, when that may be, and after it was asked for twice."""
        sitting = self.desk.sitting
        if sitting.settled(sitting.number) is not None:
            self._tell_mark()
            return
        if sitting.quiz.spec.marks == "end" or self.asked.answer is None:
            self.attempt(sitting.mark_now)
            return

        def then(key: str | None) -> None:
            if key == "y" and self.attempt(sitting.mark_now):
                self._tell_mark()
            self.show()

        text = "Marks come at the end. Marked now, this question is settled: its answer can't be changed any more."
        self.read("Mark this question now?", paragraphs([text]), then, (("y", "mark it"),), "leave it")

    def _tell_mark(self) -> None:
        marked = self.desk.sitting.settled(self.desk.sitting.number)
        if marked is not None:
            verdict = "Right" if marked.passed else "Not right"
            parts: list[Part] = [(f"{verdict}: {out_of_100(marked.total)} of 100\n\n", "bold $strong")]
            self.read(f"Mark: {self.asked.title}", [*parts, *paragraphs(marked.feedback)], beside=True)

    # From question to question.

    def do_next_task(self) -> None:
        if self.desk.sitting.step(1):
            self._enter()
        else:
            self.said = "This is the last question. Esc: all questions, and handing in."

    def do_last_task(self) -> None:
        if self.desk.sitting.step(-1):
            self._enter()
        else:
            self.said = "This is the first question."

    def _enter(self) -> None:
        """Takes up the question at hand, as it was left or with what it asks in view."""
        self.lesson = self.asked.lesson
        self.forget()
        self.view = None
        self.session, remembered = self.desk.open(self.lesson)
        self._recall(remembered)
        if self.view is None:
            self.look_at_what_matters()
            self.do_brief()

    def do_lessons(self) -> None:
        """Back to the questions, whatever is being told: the footer says so."""
        self.leave()

    def leave(self) -> None:
        self._leave()

    def do_units(self) -> None:
        super().do_units()
        self._listed = None
