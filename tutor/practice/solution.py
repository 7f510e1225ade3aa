"""A task's worked solution, computed for the pattern at hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tutor.alteration.alter import Altered
from tutor.alteration.place_words import LANDMARK_WORDS, SEAM_WORDS, place_words
from tutor.alteration.plan import At, Plan
from tutor.alteration.plan_places import SEAM_ENDS
from tutor.lesson.goal import Sound
from tutor.lesson.task import AnswerTask, ChoiceTask, DiagnoseTask, PlaceTask, PlanTask
from tutor.marking.asked import figure_words
from tutor.marking.choice import ChoiceCase
from tutor.marking.figures import shown
from tutor.marking.mark_choice import option_notes
from tutor.marking.place import PlaceCase
from tutor.pattern.measures import words_for
from tutor.practice.diagnosis_steps import diagnosis_steps
from tutor.practice.ground import Ground
from tutor.practice.reckoning import reckoning
from tutor.practice.steps import plan_steps
from tutor.units import Unit, format_length

AT_END = 0.05
"""mm; a place this near the end of a seam is its end."""


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


def _answering(ground: Ground, task: AnswerTask, unit: Unit) -> tuple[str, ...]:
    if isinstance(task, ChoiceTask):
        return _choosing(ground.choice_case, unit)
    if isinstance(task, DiagnoseTask):
        return diagnosis_steps(ground.diagnosis_case, unit)
    if isinstance(task, PlaceTask):
        return _showing(ground.place_case, unit)
    return *reckoning(ground.number_case, unit), figure_words(task, ground.right_figure(), unit)


def _choosing(case: ChoiceCase, unit: Unit) -> tuple[str, ...]:
    """What every option does, and which are right."""
    right = [each.words for each in case.weighed if each.right]
    verb = "is" if len(right) == 1 else "are"
    return *option_notes(case, unit), f"Right {verb}: {'; '.join(right)}."


def _showing(case: PlaceCase, unit: Unit) -> tuple[str, ...]:
    """Where the place lies: where seams meet, or along its seam from both ends; and across and up."""
    seam, far = case.edge.on_seam(case.right)
    names, left = case.outline.names, case.outline.curves[seam].length() - far
    start, end = (f"the {LANDMARK_WORDS[each]}" for each in SEAM_ENDS[names[seam]])
    where = f"is {format_length(far, unit)} from {start} and {format_length(left, unit)} from {end}"
    if min(far, left) < AT_END:
        first, last = (seam - 1, seam) if far < left else (seam, (seam + 1) % len(names))
        where = f"is where the {SEAM_WORDS[names[first]]} and the {SEAM_WORDS[names[last]]} meet"
    what = place_words(case.place, unit)
    point = place_words(At(case.edge.point(case.right)), unit)
    return (f"{what[:1].upper()}{what[1:]} {where}: {point}.",)


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
