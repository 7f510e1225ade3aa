"""One answer marked, as the tutor would mark it on the screen: the same session, goals, credit and usual mistakes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from typing import Any

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.plan_file import plan_of
from tutor.alteration.refusal import Refusal
from tutor.classwork.deal import Deal
from tutor.classwork.drawn_answer import mark_drawing, mark_points
from tutor.classwork.given import Given, GivenDrawing, GivenPlan, GivenPoints, GivenText
from tutor.classwork.homework import Homework, Question
from tutor.classwork.plan_result import figure_result, plan_result
from tutor.classwork.result import Result, unmarked
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import PlanTask
from tutor.lesson.variants import Variant
from tutor.practice.session import Session
from tutor.toml_reading import Document
from tutor.units import Unit

REMEMBERED = 32
"""How many variants keep their patterns at hand: as many as are likely to be dealt in turn."""


class Marker:
    """Marks answers to one homework."""

    def __init__(self, homework: Homework) -> None:
        self.homework = homework
        self._as_set = {name: homework.as_marked(lesson) for name, lesson in homework.lessons.items()}
        self._variants: OrderedDict[tuple[str, str], Variant] = OrderedDict()
        self._fingerprints = {q.number: homework.fingerprint(q) for q in homework.questions}

    def fingerprint(self, question: Question) -> str:
        """What marks of a question are marked by now."""
        return self._fingerprints[question.number]

    def session(self, question: Question, code: str, deal: Deal, unit: Unit) -> Session:
        """A session at the task of a question, in the variant that was dealt. Raises Fault when it can't be made."""
        variant = self._variant(question.lesson, code, deal)
        try:
            session = Session(self._as_set[question.lesson.name], unit, variant=variant)
            session.go_to_task(question.task_number)
            _ = session.pattern
        except (Refusal, ValueError) as reason:
            raise Fault(question.lesson.name, f"can't be set: {reason}", "the lesson needs mending") from None
        return session

    def mark(self, question: Question, code: str, deal: Deal, unit: Unit, given: Given) -> Result:
        """The mark of an answer; of one that can't be marked, the reason."""
        by = self.fingerprint(question)
        try:
            session = self.session(question, code, deal, unit)
            return _marked(session, given, by)
        except Fault as fault:
            return unmarked(by, fault)

    def _variant(self, lesson: Lesson, code: str, deal: Deal) -> Variant | None:
        key = (code, lesson.name)
        if key in self._variants:
            self._variants.move_to_end(key)
            return self._variants[key]
        variant = deal.lessons[lesson.name].variant(lesson)
        if variant is None:
            return None
        marked = self.homework.as_marked(variant.lesson)
        self._variants[key] = Variant(marked, variant.seed, variant.draw, variant.values, variant.generator)
        if len(self._variants) > REMEMBERED:
            self._variants.popitem(last=False)
        return self._variants[key]


def _marked(session: Session, given: Given, by: str) -> Result:
    if not isinstance(session.task, PlanTask):
        if not isinstance(given, GivenText):
            raise Fault("", "is no figure or word, and that is what this task asks for", "write it as answer")
        return figure_result(session.answer(given.text), by)
    match given:
        case GivenPlan(table):
            return _plan_result(session, _plan(table), by)
        case GivenDrawing(svg):
            return mark_drawing(session, svg, by)
        case GivenPoints(lines):
            return mark_points(session, lines, by)
    raise Fault("", "is a figure or a word, and this task asks for an alteration", "give a plan or a pattern")


def _plan(table: Mapping[str, Any]) -> Plan:
    return plan_of(Document(table, "", "plan")).plan


def _plan_result(session: Session, plan: Plan, by: str) -> Result:
    session.adopt(plan)
    marked = session.check()
    found = session.preview()
    return plan_result(session, marked, found.after if isinstance(found, Altered) else None, by)
