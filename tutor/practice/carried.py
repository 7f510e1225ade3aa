"""Whether a learner's own work can be gone on from: it must be sound, and leave the next task something to do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import structs

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.goal import KINK, UNDERARM_SEAMS, Balance, Sound
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, PlanTask, Task
from tutor.marking.case import with_ease
from tutor.marking.mark import mark_plan
from tutor.marking.recognise_number import number_passes
from tutor.practice.ground import Ground
from tutor.practice.work import Attempt
from tutor.units import Unit


def own_plan(attempts: Sequence[Attempt]) -> Plan | None:
    """What the learner really has of a task: the last plan that passed, or else the last that was marked."""
    plans = [(attempt.passed, attempt.given) for attempt in attempts if isinstance(attempt.given, Plan)]
    passed = [given for passed, given in plans if passed]
    given = [given for _, given in plans]
    return passed[-1] if passed else given[-1] if given else None


def own_figure(attempts: Sequence[Attempt]) -> float | None:
    """What the learner last took for right, in its own unit; None while there is nothing, or when right was found."""
    figures = [attempt.figure for attempt in attempts]
    return None if not figures or any(attempt.passed for attempt in attempts) else figures[-1]


def lesson_by(lesson: Lesson, task: NumberTask, figure: float, before: Mapping[str, float]) -> Lesson:
    """The lesson in which a wrong answer to a question for the girth with ease is right: its arm has another ease."""
    wanted = task.wanted
    assert wanted is not None
    girth = figure + (before.get(task.measure, 0.0) if task.asks == "change" else 0.0)
    girth *= 1 + (lesson.arm.stretch or 0.0) / 100 if wanted.stretched else 1
    return structs.replace(lesson, arm=with_ease(lesson.arm, girth - lesson.arm.girth))


def is_sound(altered: Altered | Refusal, task: Task) -> bool:
    """Whether paper can follow a plan made for a task, and its seams can be sewn.

    Where no goal of the task wants the underarm seams equal, as where one is to take a dart, they need not be.
    """
    if isinstance(altered, Refusal):
        return False
    after = altered.measures_after
    equal = isinstance(task, PlanTask) and any(isinstance(goal, Sound | Balance) for goal in task.goals)
    return after["kink"] <= KINK and not (equal and abs(after["underarm-mismatch"]) > UNDERARM_SEAMS)


def leaves_something(ground: Ground, unit: Unit) -> bool:
    """Whether a task on the learner's own ground still asks for something, and can be done."""
    task = ground.task
    try:
        if isinstance(task, NumberTask):
            case = ground.number_case
            start = 0.0 if case.is_change else ground.before.get(case.of, 0.0)
            return not number_passes(case, unit, start)
        if isinstance(task, ChoiceTask):
            return not ground.choice_case.trouble
        if isinstance(task, DiagnoseTask):
            return not ground.diagnosis_case.trouble
        if isinstance(task, PlaceTask):
            return ground.place_case.right >= 0
        worked = ground.result(ground.worked(task.solution))
    except (Fault, ValueError):
        return False
    if isinstance(worked, Refusal):
        return False
    marked = mark_plan(task, ground.lesson.arm, unit, ground.before, ground.measures(worked))
    return marked.total >= 1 and not all(
        abs(aim.off(ground.before[aim.measure])) <= aim.tolerance for aim in ground.aims
    )
