"""A question made: one task of a lesson, in one form, for one body. The same three make the same question."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.variants import Variant
from tutor.marking.case import NumberCase, PlanCase
from tutor.practice.variants import difficulty, variant_of
from tutor.practice.worked import case_of
from tutor.quiz.choices import options, right_option
from tutor.quiz.forms import Asking
from tutor.quiz.question import Question, values_of
from tutor.quiz.shares import Shares
from tutor.quiz.spotting import spotting

GENERATOR = 1
REMEMBERED = 1 << 15
DECIMALS = 6


@lru_cache(maxsize=REMEMBERED)
def question_of(lesson: Lesson, asking: Asking, body: int) -> Question | None:
    """The question, or None where this body makes none that is fit."""
    try:
        return _asked(lesson, asking, _fit(lesson, body, asking.task))
    except (Fault, Refusal, ValueError):
        return None


@lru_cache(maxsize=REMEMBERED)
def _fit(lesson: Lesson, body: int, task: int) -> Variant:
    """The variant of a body that is fit for one task; two forms of the task are asked of it."""
    return variant_of(lesson, body, task)


@lru_cache(maxsize=REMEMBERED)
def is_offered(lesson: Lesson, asking: Asking) -> bool:
    """Whether the lesson as written can be asked so; its variants can as a rule if it can."""
    try:
        return _made(lesson, asking, Shares("offered")) is not None
    except (Fault, Refusal, ValueError):
        return False


def _asked(lesson: Lesson, asking: Asking, variant: Variant) -> Question | None:
    made = _made(variant.lesson, asking, Shares(GENERATOR, lesson.name, lesson.version, asking.task, variant.seed))
    if made is None:
        return None
    return Question(
        lesson.name,
        lesson.version,
        asking.task,
        asking.form,
        variant.seed,
        variant.draw,
        variant.generator,
        values_of(variant.values),
        relative_difficulty(lesson, variant.lesson, asking.task),
        made.figures,
        made.mistakes,
        made.plan,
    )


@dataclass(frozen=True, slots=True)
class _Made:
    """What a form adds to a task."""

    figures: tuple[float, ...] = ()
    mistakes: tuple[str, ...] = ()
    plan: Plan | None = None


def _made(lesson: Lesson, asking: Asking, shares: Shares) -> _Made | None:
    """What the form adds to the task; None where it can't be made."""
    if asking.form == "task":
        return _Made()
    case = case_of(lesson, asking.task)
    if asking.form == "choice" and isinstance(case, NumberCase):
        figures = options(case, shares)
        return None if figures is None or right_option(case, figures) is None else _Made(figures)
    if asking.form == "spot" and isinstance(case, PlanCase):
        found = spotting(case, shares)
        return None if found is None else _Made(mistakes=found.mistakes, plan=found.plan)
    return None


def relative_difficulty(lesson: Lesson, variant: Lesson, task: int) -> float:
    """How far a task's goal is in a variant, in times the lesson's own; 1 where nothing is to change."""
    own, found = difficulty(lesson, task), difficulty(variant, task)
    if not own or not found:
        return 1.0
    return round(found / own, DECIMALS)


def strain(question: Question) -> float:
    """The logarithm of a question's difficulty: harder above 0, easier below."""
    return math.log(question.difficulty)
