"""Marking an alteration by what it does to the pattern, whatever slashes did it; and marking a number."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from tutor.alteration.refusal import Refusal
from tutor.lesson.goal import Aim, Goal
from tutor.lesson.setting import Arm
from tutor.lesson.task import NumberTask, PlanTask, Task
from tutor.marking.asked import asked_words
from tutor.marking.credit import credit, tolerance_of
from tutor.marking.feedback import number_feedback, plan_feedback
from tutor.marking.marked import Cost, GoalMark, Marked, Part
from tutor.pattern.measures import kind_of, words_for
from tutor.units import Unit

NOTICED = {"mm": 0.5, "degrees": 0.1, "%": 0.1, "mm2": 100.0}
"""Smaller changes are no cost that anybody would notice."""


UNCHANGED = 1e-6


def mark_plan(
    task: PlanTask,
    arm: Arm,
    unit: Unit,
    before: Mapping[str, float],
    after: Mapping[str, float],
    watched: Sequence[str] = (),
) -> Marked:
    """The mark of a pattern that has come from measures ``before`` to ``after``.

    A pattern in which no measure of any goal has changed gets no marks for what was right from the start. A goal over
    a measure that the altered pattern no longer has counts as missed. ``watched`` are measures whose
    change is told as a cost.
    """
    goals = tuple(_goal_mark(goal, goal.aims(before, arm), unit, after) for goal in task.goals)
    total = sum(goal.weight * goal.credit for goal in goals) / sum(goal.weight for goal in goals)
    untouched = all(
        abs(after.get(part.measure, math.inf) - before.get(part.measure, 0.0)) < UNCHANGED
        for goal in goals
        for part in goal.parts
    )
    if untouched:
        total = 0.0
    enough = total >= task.pass_mark - 1e-12
    passed = enough and all(goal.met for goal in goals if goal.must)
    aimed = {part.measure for goal in goals for part in goal.parts}
    costs = _costs([name for name in watched if name not in aimed], before, after)
    feedback = plan_feedback(goals, passed, enough, before, unit)
    if untouched:
        feedback = ("Nothing that this task looks at has changed yet.", *feedback)
    return Marked(goals, total, task.pass_mark, passed, costs, feedback, untouched=untouched)


def mark_refused(task: PlanTask, refusal: Refusal) -> Marked:
    """The mark of a plan that paper can't follow: none, and the reason."""
    return Marked((), 0.0, task.pass_mark, False, (), (f"Paper can't do this. {_sentence(refusal.what)}",), refusal)


def mark_nothing(task: Task, what: str) -> Marked:
    """The mark of an answer that was not given."""
    return Marked((), 0.0, task.pass_mark, False, (), (what,))


def mark_number(task: NumberTask, unit: Unit, right: float, answer: float) -> Marked:
    """The mark of a figure (mm, degrees or per cent) where ``right`` is the true one."""
    aim = Aim(task.measure, right, right, task.tolerance.of(task.measure))
    part = _part(aim, unit, answer)
    part = replace(part, words=asked_words(task))
    goal = GoalMark("reach", (part,), 1.0, False, task.why)
    passed = goal.credit >= task.pass_mark - 1e-12
    return Marked((goal,), goal.credit, task.pass_mark, passed, (), number_feedback(task, goal, passed, unit))


def _goal_mark(goal: Goal, aims: Sequence[Aim], unit: Unit, after: Mapping[str, float]) -> GoalMark:
    parts = tuple(_part(aim, unit, after.get(aim.measure)) for aim in aims)
    return GoalMark(str(goal.__struct_config__.tag), parts, goal.weight, goal.must, goal.why)


def _part(aim: Aim, unit: Unit, figure: float | None) -> Part:
    tolerance = tolerance_of(aim, unit)
    if figure is None:
        return Part(aim, words_for(aim.measure), math.nan, 0.0, tolerance, 0.0)
    off = aim.off(figure)
    return Part(aim, words_for(aim.measure), figure, off, tolerance, credit(off, tolerance))


def _costs(names: Sequence[str], before: Mapping[str, float], after: Mapping[str, float]) -> tuple[Cost, ...]:
    both = [name for name in names if name in before and name in after]
    rows = [Cost(name, words_for(name), before[name], after[name]) for name in both]
    return tuple(row for row in rows if abs(row.change) >= NOTICED[kind_of(row.measure).value])


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."
