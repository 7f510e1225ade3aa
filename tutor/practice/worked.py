"""Plans of a lesson worked out for its pattern, and the cases that answers are compared with; each made once."""

from __future__ import annotations

from functools import lru_cache
from typing import TypeAlias

from tutor.alteration.alter import altered_once
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.fit.causes import CAUSES
from tutor.fit.misfit import Misfit
from tutor.lesson.checking import start_measures
from tutor.lesson.goal import Aim
from tutor.lesson.lesson import Lesson, starting_pattern
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlaceTask, PlanTask, goals_of, plan_asked_after
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.place import PlaceCase

AnyCase: TypeAlias = NumberCase | PlanCase | ChoiceCase | PlaceCase | DiagnosisCase

CASES = 24
"""How many cases are kept: each holds some twenty patterns."""
PLANS = 256


def aims_of(lesson: Lesson, number: int) -> tuple[Aim, ...]:
    """What the goals of a task, counted from 1, come to on this lesson's pattern; none for a task without."""
    task = lesson.tasks[number - 1]
    goals = goals_of(task)
    if not goals:
        return ()
    before = start_measures(starting_pattern(lesson, task), lesson.arm.girth)
    return tuple(aim for goal in goals for aim in goal.aims(before, lesson.arm))


def worked_plan(lesson: Lesson, number: int, name: str) -> Plan:
    """One of the lesson's plans with its amounts worked out for a task, counted from 1.

    Raises Refusal when paper can't do it, and ValueError for a measure that has no figure.
    """
    goals = {aim.measure: aim.centre for aim in reversed(aims_of(lesson, number))}
    needed = tuple((name, goals[name]) for name in lesson.plans[name].goals_needed if name in goals)
    return _solved(lesson, lesson.tasks[number - 1].start, name, needed)


@lru_cache(maxsize=PLANS)
def _solved(lesson: Lesson, start: str, name: str, goals: tuple[tuple[str, float], ...]) -> Plan:
    task = next(task for task in lesson.tasks if task.start == start)
    return lesson.plans[name].solved(starting_pattern(lesson, task), lesson.arm, dict(goals))


@lru_cache(maxsize=CASES)
def case_of(lesson: Lesson, number: int) -> AnyCase:
    """What an answer to a task, counted from 1, is compared with. Raises as ``worked_plan`` does."""
    task = lesson.tasks[number - 1]
    pattern = starting_pattern(lesson, task)
    name = task.solution if isinstance(task, PlanTask) else plan_asked_after(task)
    plan = worked_plan(lesson, number, name) if name else None
    recipe = lesson.plans[name] if name else None
    allowance = float(lesson.seam_allowance)
    if isinstance(task, PlanTask):
        return PlanCase(pattern, lesson.arm, plan, recipe, allowance, task=task)
    if isinstance(task, ChoiceTask):
        plans = {option.plan: _plan_or_refusal(lesson, number, option.plan) for option in task.options}
        misfit = misfit_of(lesson, task)
        return ChoiceCase(pattern, lesson.arm, plan, recipe, allowance, task=task, plans=plans, misfit=misfit)
    if isinstance(task, DiagnoseTask):
        return DiagnosisCase(pattern, lesson.arm, None, None, allowance, task=task)
    if isinstance(task, PlaceTask):
        return PlaceCase(pattern, lesson.arm, None, None, allowance, task=task)
    return NumberCase(pattern, lesson.arm, plan, recipe, allowance, task=task)


def misfit_of(lesson: Lesson, task: ChoiceTask) -> Misfit | None:
    """What the options of a choice are to mend; None where it mends nothing."""
    complaint = lesson.tasks[task.mends - 1] if task.mends else None
    return CAUSES[complaint.cause].made(float(complaint.amount)) if isinstance(complaint, DiagnoseTask) else None


def _plan_or_refusal(lesson: Lesson, number: int, name: str) -> Plan | Refusal:
    """A plan that can be chosen; where paper refuses it, that is what there is to know of it."""
    try:
        plan = worked_plan(lesson, number, name)
        altered_once(starting_pattern(lesson, lesson.tasks[number - 1]), plan)
    except Refusal as refusal:
        return refusal
    return plan
