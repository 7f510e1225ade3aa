"""Figures that a task's text may name in braces: a measure of its pattern, or an amount written in one of the plans."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from tutor.alteration.amounts import BY_NAME
from tutor.lesson.recipe import Recipe
from tutor.lesson.task import NumberTask, Task
from tutor.lesson.written import goal_figures, plan_figures
from tutor.pattern.measures import MEASURES, Kind, kind_of

When = Literal["before", "after", "change"]


def measure_named(words: str) -> tuple[str, When] | None:
    """The measure, and when it is meant, of words such as "bicep-girth change"; None when they name none."""
    name, _, when = words.partition(" ")
    if name not in MEASURES:
        return None
    match when:
        case "" | "before":
            return name, "before"
        case "after":
            return name, "after"
        case "change":
            return name, "change"
    return None


def amount_named(words: str, plans: Mapping[str, Recipe], task: Task | None = None) -> float | str | None:
    """The amount, mm, of words such as "out-and-down back widen" or "one-open opening 2"; None when they name none.

    It is told without its sign, which the text around it says in words; "half one-open opening 2" is half of it.
    "goal 1" is the figure of the task's first goal and "crossed for 1" the first that a plan is solved for; of what is
    no length the text is given. "tolerance" is that of a task which asks for a figure.
    """
    part, _, rest = words.partition(" ")
    if part == "half":
        whole = amount_named(rest, plans, task)
        return whole / 2 if isinstance(whole, float) else None
    written = _written(words, plans, task)
    if written is not None:
        return _told(*written)
    amount = _amount(words, plans)
    return None if amount is None else abs(amount)


def _written(words: str, plans: Mapping[str, Recipe], task: Task | None) -> tuple[str, float] | None:
    """The measure and the figure that a goal of the task, or a plan, is written with."""
    match words.split():
        case ["tolerance"] if isinstance(task, NumberTask):
            return task.measure, task.tolerance.of(task.measure)
        case ["goal", number] if task is not None:
            figures = goal_figures(task)
        case [name, "for", number] if name in plans:
            figures = plan_figures(plans[name])
        case _:
            return None
    return {str(k): (measure, figure) for k, measure, figure in figures}.get(number)


def _told(measure: str, figure: float) -> float | str:
    kind = kind_of(measure)
    if kind is Kind.LENGTH:
        return abs(figure)
    return f"{abs(figure):g}{ {Kind.ANGLE: '°', Kind.SHARE: '%'}.get(kind, '') }"


def _amount(words: str, plans: Mapping[str, Recipe]) -> float | None:
    match words.split():
        case [name, "opening", number] if name in plans and number.isdecimal():
            openings = plans[name].plan.openings
            return openings[int(number) - 1].amount if 1 <= int(number) <= len(openings) else None
        case [name, *rest] if name in plans and (amount := BY_NAME.get(" ".join(rest))):
            return amount.read(plans[name].plan)
    return None
