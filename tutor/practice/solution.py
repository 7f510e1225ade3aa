"""A task's worked solution, computed for the pattern at hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.lesson.goal import Sound
from tutor.lesson.task import ChoiceTask, NumberTask, PlanTask
from tutor.marking.asked import figure_words
from tutor.marking.choice import ChoiceCase
from tutor.marking.figures import shown
from tutor.marking.mark_choice import option_notes
from tutor.pattern.measures import words_for
from tutor.practice.ground import Ground
from tutor.practice.reckoning import reckoning
from tutor.practice.steps import plan_steps
from tutor.units import Unit


@dataclass(frozen=True, slots=True)
class Solution:
    """A worked solution: the plan computed for this pattern (None where none is asked for), and its steps in words."""

    plan: Plan | None
    steps: tuple[str, ...]


def worked_solution(ground: Ground, unit: Unit, worded: Callable[[str], str]) -> Solution:
    """The solution of the task that a ground is of; ``worded`` fills the lesson's texts.

    Raises Fault when the lesson's own plan can't be worked out.
    """
    task = ground.task
    if isinstance(task, PlanTask):
        return _altering(ground, task, unit)
    return Solution(None, tuple(map(worded, filter(None, [*_answering(ground, task, unit), task.why]))))


def _answering(ground: Ground, task: NumberTask | ChoiceTask, unit: Unit) -> tuple[str, ...]:
    if isinstance(task, ChoiceTask):
        return _choosing(ground.choice_case, unit)
    return *reckoning(ground.number_case, unit), figure_words(task, ground.right_figure(), unit)


def _choosing(case: ChoiceCase, unit: Unit) -> tuple[str, ...]:
    """What every option does, and which are right."""
    right = [each.words for each in case.weighed if each.right]
    verb = "is" if len(right) == 1 else "are"
    return *option_notes(case, unit), f"Right {verb}: {'; '.join(right)}."


def _altering(ground: Ground, task: PlanTask, unit: Unit) -> Solution:
    plan = ground.worked(task.solution)
    found = ground.result(plan)
    steps = list(plan_steps(ground.pattern, plan, unit))
    if isinstance(found, Altered):
        steps.append(_came_to(ground, task, ground.measures(found), unit))
    return Solution(plan, tuple(steps))


def _came_to(ground: Ground, task: PlanTask, after: Mapping[str, float], unit: Unit) -> str:
    """What the measures of the goals are afterwards, those apart that only say the seams are sound."""
    before, arm = ground.before, ground.lesson.arm
    aims = [aim for goal in task.goals if not isinstance(goal, Sound) for aim in goal.aims(before, arm)]
    names = dict.fromkeys(aim.measure for aim in aims if aim.measure in after)
    figures = [f"{words_for(name)} {shown(name, after[name], unit)}" for name in names]
    return f"It comes to: {'; '.join(figures)}."
