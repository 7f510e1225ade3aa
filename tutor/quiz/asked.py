"""A question being asked: its texts, the answer as it stands, and its mark. As it is here, a task of a lesson."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tutor.alteration.plan import Plan
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import PlanTask
from tutor.marking.mark import mark_nothing
from tutor.marking.marked import Marked
from tutor.practice.session import Session
from tutor.practice.stored import plan_from, stored_plan
from tutor.quiz.question import Question
from tutor.units import Unit

LETTERS = "ABCDEFGH"
Given = dict[str, Any]
"""An answer as it was given: a plan's table, a text with its unit, or the number of an option from 1."""


class Asked:
    """A task of a lesson as a question. ``unit`` is the learner's; nothing is marked before ``mark``."""

    def __init__(self, question: Question, lesson: Lesson, unit: Unit) -> None:
        self.question = question
        self.lesson = lesson
        self.session = _session(question, lesson, unit)

    @property
    def title(self) -> str:
        """What is asked, in a few words."""
        return self.session.task.title

    @property
    def story(self) -> tuple[str, ...]:
        """What is to be known before the question, paragraph by paragraph: the brief, and what was asked before."""
        session, earlier = self.session, self.session.task.goes_on_from
        before = [f"Before that it was asked: {_ask_of(session, earlier)}"] if earlier else []
        before += [*session.plan_told(), *session.off_told()]
        cautions = session.cautions if isinstance(session.task, PlanTask) else ()
        return (*session.brief, *(f"Caution: {text}" for text in cautions), *before)

    @property
    def ask(self) -> str:
        """The question itself."""
        return self.session.ask

    @property
    def options(self) -> tuple[str, ...]:
        """What there is to choose from, in the learner's unit; nothing where nothing is to be chosen."""
        return ()

    @property
    def takes_several(self) -> bool:
        """Whether more than one of the options may be the answer."""
        return bool(self.options) and not self.session.task_picks_one

    @property
    def is_built(self) -> bool:
        """Whether the answer is built on the pattern, and not said."""
        return isinstance(self.session.task, PlanTask)

    def give(self, text: str) -> None:
        """Takes an answer in words. Raises Fault for one that can't be read."""
        self.session.give(text)

    @property
    def answer(self) -> str | None:
        """The answer in a few words, None while there is none."""
        given = self.session.given
        if isinstance(given, Plan):
            count = len(given.slashes)
            return f"{count} slash{'' if count == 1 else 'es'}" if count else "built"
        return None if given is None else self.session.answer_told

    def mark(self) -> Marked:
        """The mark of the answer as it stands."""
        if self.session.given is None:
            return mark_nothing(self.session.task, "There is no answer.")
        return self.session.check()

    def right_answer(self) -> str:
        """The right answer in words, where it can be said; "" otherwise."""
        if self.is_built:
            return ""
        try:
            return self.session.right_answer_told()
        except Fault:
            return ""

    def given(self) -> Given | None:
        """The answer as it was given, as a plain table; None while there is none."""
        given = self.session.given
        if given is None:
            return None
        return {"plan": stored_plan(given)} if isinstance(given, Plan) else {"text": given}

    def take(self, given: Mapping[str, Any]) -> None:
        """Takes an answer as ``given`` gave it. Raises Fault for one that can't be of this question."""
        if "plan" in given:
            self.session.adopt(plan_from(given["plan"]))
        else:
            self.session.give(str(given["text"]))

    def stored(self) -> dict[str, Any]:
        """All that is to be kept of it, as a plain table."""
        return self.session.dump()

    def restore(self, stored: Mapping[str, Any]) -> None:
        """Goes on from what ``stored`` gave. Raises Fault, KeyError, TypeError or ValueError for anything else."""
        unit = self.session.unit
        self.session = Session.load(self.lesson, stored)
        self.session.go_to_task(self.question.task)
        self.session.unit = unit


def _session(question: Question, lesson: Lesson, unit: Unit) -> Session:
    session = Session(lesson, unit, variant=question.variant(lesson))
    session.go_to_task(question.task)
    return session


def _ask_of(session: Session, number: int) -> str:
    here = session.task_number
    session.go_to_task(number)
    text = session.ask
    session.go_to_task(here)
    return text
