"""Whether a learner's own work can be gone on from: it must be sound, and leave the next task something to do."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.goal import KINK, UNDERARM_SEAMS
from tutor.lesson.task import ChoiceTask, NumberTask
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


def is_sound(altered: Altered | Refusal) -> bool:
    """Whether paper can follow a plan, and its seams can be sewn."""
    if isinstance(altered, Refusal):
        return False
    after = altered.measures_after
    return after["kink"] <= KINK and abs(after["underarm-mismatch"]) <= UNDERARM_SEAMS


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
        worked = ground.result(ground.worked(task.solution))
    except (Fault, ValueError):
        return False
    if isinstance(worked, Refusal):
        return False
    marked = mark_plan(task, ground.lesson.arm, unit, ground.before, ground.measures(worked))
    return marked.total >= 1 and not all(
        abs(aim.off(ground.before[aim.measure])) <= aim.tolerance for aim in ground.aims
    )
