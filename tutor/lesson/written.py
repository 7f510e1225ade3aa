"""Figures written in a lesson, in goals and in what plans are solved for: by name, and given anew for a variant."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeVar

from msgspec import structs

from tutor.fit.causes import CAUSES
from tutor.lesson.amount import Amount
from tutor.lesson.goal import AtLeast, AtMost, Figure, Goal, Reach
from tutor.lesson.recipe import Recipe
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask, Task, goals_of

FIGURED = (Reach, AtMost, AtLeast)

AnyFigure = TypeVar("AnyFigure", bound=Figure)


def amount_of(figure: Figure | None) -> Amount | None:
    """The ``value`` or ``change`` that a figure is written with; None for one that goes by the arm, or none."""
    return None if figure is None else figure.change if figure.value is None else figure.value


def goal_figures(task: Task) -> Iterator[tuple[int, str, float]]:
    """Number, measure and figure, in the measure's own unit, of the goals of a task that are written with one."""
    for number, goal in enumerate(goals_of(task), 1):
        amount = amount_of(goal) if isinstance(goal, FIGURED) else None
        if amount is not None and isinstance(goal, FIGURED):
            yield number, goal.measure, amount.of(goal.measure)


def plan_figures(recipe: Recipe) -> Iterator[tuple[int, str, float]]:
    """The same of what a plan is solved for, counted from 1."""
    for number, sought in enumerate(recipe.sought, 1):
        amount = amount_of(sought.figure)
        if amount is not None:
            yield number, sought.measure, amount.of(sought.measure)


def complaint_measures(task: Task) -> tuple[str, ...]:
    """The measures that the causes of a diagnosis are counted in; none for another task."""
    causes = task.causes if isinstance(task, DiagnoseTask) else ()
    return tuple(dict.fromkeys(CAUSES[cause].measure for cause in causes if cause in CAUSES))


def with_complaint(task: Task, cause: str, amount: float) -> Task:
    """The diagnosis with another cause and amount, mm. Raises KeyError for another task, or no such cause."""
    if not isinstance(task, DiagnoseTask) or cause not in CAUSES:
        raise KeyError(cause)
    return structs.replace(task, cause=cause, amount=Amount(amount, amount))


def with_goal_figure(task: Task, number: int, figure: float) -> Task:
    """The task with the figure of one of its goals given anew. Raises KeyError when that goal is written with none."""
    if not isinstance(task, PlanTask | ChoiceTask) or number not in {found for found, _, _ in goal_figures(task)}:
        raise KeyError(number)
    goals: list[Goal] = list(task.goals)
    goal = goals[number - 1]
    assert isinstance(goal, FIGURED)
    goals[number - 1] = _with(goal, figure)
    return structs.replace(task, goals=tuple(goals))


def with_plan_figure(recipe: Recipe, number: int, figure: float) -> Recipe:
    """The plan with one figure that it is solved for given anew. Raises KeyError when there is none."""
    sought = list(recipe.sought)
    old = sought[number - 1].figure if 1 <= number <= len(sought) else None
    if old is None or amount_of(old) is None:
        raise KeyError(number)
    sought[number - 1] = replace(sought[number - 1], figure=_with(old, figure))
    return replace(recipe, sought=tuple(sought))


def _with(figure: AnyFigure, value: float) -> AnyFigure:
    amount = Amount(value, value)
    changes = {"change": amount} if figure.value is None else {"value": amount}
    return structs.replace(figure, **changes)
