"""Variants that are fit to be set: drawn again until the tasks can be done, are as hard as the lesson's, and tell.

A variant tells when a right answer and every usual mistake can be told apart in centimetres and in inches.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache, partial

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.checking import start_measures
from tutor.lesson.lesson import Lesson, block_of, starting_pattern
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask
from tutor.lesson.variants import Variant, drawn
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.mark import mark_plan
from tutor.marking.named import RIGHT, Confusion
from tutor.marking.place import PlaceCase
from tutor.marking.recognise_number import candidates, number_confusions, number_hidden
from tutor.marking.recognise_place import place_candidates, place_confusions, place_hidden
from tutor.marking.recognise_plan import outcomes, plan_confusions, plan_hidden
from tutor.marking.usual import MISTAKES
from tutor.practice.worked import AnyCase, aims_of, case_of
from tutor.units import Unit

UNITS = (Unit.CM, Unit.INCH)
MOST_DRAWS = 400
STRICT = 40
"""After so many draws, what the lesson as written can't tell apart is let pass: some tasks never can."""
REMEMBERED = 64
AS_WRITTEN = 1024
"""How many tasks keep at hand what can be told apart in them as written."""

NO_BLOCK = "no block can be drafted"
NO_PLAN = "the pattern to start from, or the worked solution, can't be made"
UNTOLD = "{} and {} can't be told apart in task {}"
UNFAIR = "{} in task {}"
TYPED = frozenset(mistake.name for mistake in MISTAKES.values() if mistake.typed)
MET = "the block meets the goals as it is"
HARD = "too easy or too hard beside the lesson as written"
UNSOLVED = "the worked solution does not get full marks"
AT_LIMIT = "the worked solution of task {} leaves a hand no room within its tolerances"
USED = 0.75
"""The share of a tolerance that a worked plan may use up itself: the rest is for the hand that draws or reads it."""


@lru_cache(maxsize=REMEMBERED)
def variant_of(lesson: Lesson, seed: int, task: int | None = None) -> Variant:
    """The variant of this number, fit for all tasks, or for one alone that is counted from 1.

    Raises Fault when none that is fit comes up in 400 draws.
    """
    reasons: Counter[str] = Counter()
    for draw in range(MOST_DRAWS):
        variant = drawn(lesson, seed, draw)
        reason = why_not(lesson, variant.lesson, strict=draw < STRICT, task=task)
        if reason is None:
            return variant
        reasons[reason] += 1
    what = f"variant {seed} can't be drawn: in {MOST_DRAWS} draws mostly {reasons.most_common(1)[0][0]}"
    raise Fault(lesson.name, what, "give [vary] other spans, or name in unnamed what can't be told apart")


def why_not(lesson: Lesson, variant: Lesson, *, strict: bool = True, task: int | None = None) -> str | None:
    """Why a variant of a lesson is not fit to be set; None when it is. What is quickly seen is looked at first.

    With ``task`` only that one is looked at.
    Unless ``strict``, answers may be alike that the lesson as written can't tell apart either.
    """
    try:
        block_of(variant)
    except Fault:
        return NO_BLOCK
    numbers = range(1, len(lesson.tasks) + 1) if task is None else (task,)
    try:
        for looks in (_too_near_or_far, _unfair, _unsolved, partial(_untold, strict=strict)):
            for number in numbers:
                reason = looks(lesson, variant, number)
                if reason is not None:
                    return reason
    except (Fault, Refusal, ValueError):
        return NO_PLAN
    return None


def confusions(case: AnyCase, unit: Unit) -> tuple[Confusion, ...]:
    """The answers of a task that can't be told apart by a learner's unit; a choice is fair or not: see ``unfair``."""
    if isinstance(case, NumberCase):
        return number_confusions(case, unit)
    if isinstance(case, PlaceCase):
        return place_confusions(case, unit)
    return plan_confusions(case, unit) if isinstance(case, PlanCase) else ()


def hidden(case: AnyCase, unit: Unit) -> tuple[str, ...]:
    """The usual mistakes that pass, as none of the task's tolerances notices them."""
    if isinstance(case, NumberCase):
        return number_hidden(case, unit)
    if isinstance(case, PlaceCase):
        return place_hidden(case, unit)
    return plan_hidden(case, unit) if isinstance(case, PlanCase) else ()


def told(case: AnyCase, unit: Unit) -> frozenset[str]:
    """The usual mistakes that a task can tell from a right answer."""
    if isinstance(case, NumberCase):
        return frozenset(each.mistake for each in candidates(case, unit))
    if isinstance(case, PlaceCase):
        return frozenset(name for name, _ in place_candidates(case, unit))
    return frozenset(each.mistake for each in outcomes(case, unit)) if isinstance(case, PlanCase) else frozenset()


def difficulty(lesson: Lesson, number: int) -> float | None:
    """How far the farthest goal of a task is from where it starts, in tolerances; None where nothing is to change."""
    task = lesson.tasks[number - 1]
    if isinstance(task, PlanTask):
        before = start_measures(starting_pattern(lesson, task), lesson.arm.girth)
        return max(abs(aim.off(before[aim.measure])) / aim.tolerance for aim in aims_of(lesson, number))
    case = case_of(lesson, number)
    if not isinstance(case, NumberCase) or case.lies_there or case.of not in case.before:
        return None
    start = 0.0 if case.is_change else case.before[case.of]
    return abs(case.right - start) / case.task.tolerance.of(case.of)


def _too_near_or_far(lesson: Lesson, variant: Lesson, number: int) -> str | None:
    own = difficulty(lesson, number)
    found = None if own is None else difficulty(variant, number)
    if own is None or found is None:
        return None
    if found <= 1:
        return MET
    easiest, hardest = (own * factor for factor in lesson.vary.difficulty)
    return None if easiest <= found <= hardest else HARD


def unfair(lesson: Lesson, number: int) -> str | None:
    """Why the right ones of a choice or of causes can't be told from the wrong; None when they can, or in other tasks.

    Raises as ``case_of`` does.
    """
    if not isinstance(lesson.tasks[number - 1], ChoiceTask | DiagnoseTask):
        return None
    case = case_of(lesson, number)
    trouble = case.trouble if isinstance(case, ChoiceCase | DiagnosisCase) else ""
    return UNFAIR.format(trouble, number) if trouble else None


def _unfair(lesson: Lesson, variant: Lesson, number: int) -> str | None:
    return unfair(variant, number)


def _unsolved(lesson: Lesson, variant: Lesson, number: int) -> str | None:
    """Whether a worked plan does not get full marks in both units, or does and has more luck than room."""
    case = case_of(variant, number)
    if not isinstance(case, PlanCase) or case.plan is None:
        return None
    after = case.measures(case.plan)
    if after is None:
        return NO_PLAN
    marks = (mark_plan(case.task, case.arm, unit, case.before, after).total for unit in UNITS)
    if min(marks) < 1:
        return UNSOLVED
    return AT_LIMIT.format(number) if _used(variant, number) > max(USED, _used_as_written(lesson, number)) else None


def _used(lesson: Lesson, number: int) -> float:
    """The largest share of a tolerance that a worked plan uses up: 0 where every figure is as it is wanted."""
    case = case_of(lesson, number)
    after = case.measures(case.plan) if isinstance(case, PlanCase) and case.plan is not None else None
    if after is None:
        return 0.0
    return max((abs(aim.off(after[aim.measure])) / aim.tolerance for aim in aims_of(lesson, number)), default=0.0)


@lru_cache(maxsize=AS_WRITTEN)
def _used_as_written(lesson: Lesson, number: int) -> float:
    return _used(lesson, number)


def _untold(lesson: Lesson, variant: Lesson, number: int, *, strict: bool) -> str | None:
    """Which answers can't be told apart, that the lesson as written tells apart, or that nothing tells apart."""
    case = case_of(variant, number)
    for unit in UNITS:
        known = () if strict else _confused_as_written(lesson, number, unit)
        for pair in confusions(case, unit):
            if pair in known:
                continue
            return UNTOLD.format(pair.first, pair.second, number)
        lost = sorted(_told_as_written(lesson, number, unit) - told(case, unit) - TYPED)
        if lost:
            return UNTOLD.format(lost[0], RIGHT, number)
        passing = set(hidden(case, unit)) - set(_hidden_as_written(lesson, number, unit)) - TYPED
        if passing:
            return UNTOLD.format(min(passing), RIGHT, number)
    return None


@lru_cache(maxsize=AS_WRITTEN)
def _confused_as_written(lesson: Lesson, number: int, unit: Unit) -> tuple[Confusion, ...]:
    return confusions(case_of(lesson, number), unit)


@lru_cache(maxsize=AS_WRITTEN)
def _told_as_written(lesson: Lesson, number: int, unit: Unit) -> frozenset[str]:
    return told(case_of(lesson, number), unit)


@lru_cache(maxsize=AS_WRITTEN)
def _hidden_as_written(lesson: Lesson, number: int, unit: Unit) -> tuple[str, ...]:
    return hidden(case_of(lesson, number), unit)
