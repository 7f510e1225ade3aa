"""Answers marked, and the usual mistake named where one shows: what every face of the tutor marks by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.feedback import named_feedback
from tutor.marking.mark import mark_number, mark_plan
from tutor.marking.marked import Marked
from tutor.marking.mistake import PlanAnswer
from tutor.marking.recognise_number import recognise_number
from tutor.marking.recognise_plan import recognise_plan
from tutor.units import Unit


def mark_figure(case: NumberCase, unit: Unit, figure: float) -> Marked:
    """The mark of a figure in mm, degrees or per cent. Raises ValueError when the right one can't be worked out."""
    marked = mark_number(case.task, unit, case.right, figure)
    if marked.passed:
        return marked
    named = recognise_number(case, unit, figure)
    if named is None:
        return marked
    first, *rest = marked.feedback
    return replace(marked, mistake=named.mistake, feedback=(first, *named.said, *rest))


def mark_result(
    case: PlanCase,
    unit: Unit,
    after: Mapping[str, float],
    plan: Plan | None = None,
    altered: Altered | None = None,
    watched: Sequence[str] = (),
) -> Marked:
    """The mark of an altered pattern by its measures; ``plan`` and ``altered`` say how it came about, where known."""
    marked = mark_plan(case.task, case.arm, unit, case.before, after, watched)
    return marked if marked.settled else with_mistake(marked, PlanAnswer(case, unit, after, plan, altered))


def with_mistake(marked: Marked, answer: PlanAnswer) -> Marked:
    """The mark of an alteration with the usual mistake named that it shows, if it shows one clearly."""
    named = recognise_plan(answer)
    if named is None:
        return marked
    return replace(marked, mistake=named.mistake, feedback=named_feedback(marked.feedback, named.said))
