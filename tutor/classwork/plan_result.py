"""What is kept of a mark: for a figure its feedback, for an alteration its goals, its differences and its drawing."""

from __future__ import annotations

from tutor.classwork.outline_pictures import pictures
from tutor.classwork.result import GoalLine, Result
from tutor.classwork.seam_differences import differences
from tutor.marking.case import PlanCase
from tutor.marking.figures import bound_by_tolerance, bounds, shown
from tutor.marking.marked import GoalMark, Marked
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session
from tutor.units import Unit


def figure_result(marked: Marked, by: str) -> Result:
    """The result of a figure, or of other words."""
    return Result(
        by,
        marked.total,
        passed=marked.passed,
        near=is_near(marked),
        mistake=marked.mistake,
        feedback=(*marked.feedback, *marked.notes),
    )


def plan_result(session: Session, marked: Marked, theirs: Pattern | None, by: str) -> Result:
    """The result of an alteration. ``theirs`` is what came of it, None where paper refused."""
    wanted = wanted_pattern(session.plan_case())
    found = figure_result(marked, by)
    return Result(
        by,
        found.total,
        found.passed,
        found.near,
        found.mistake,
        found.feedback,
        goals=tuple(_goal_line(goal, session.unit) for goal in marked.goals),
        differences=differences(theirs, wanted, session.unit) if theirs and wanted and not marked.passed else (),
        pictures=pictures(session.pattern, theirs, wanted),
    )


def is_near(marked: Marked) -> bool:
    """Whether an answer that did not pass lies within three tolerances of every goal: then all have some credit."""
    return not marked.passed and bool(marked.goals) and all(goal.credit > 0 for goal in marked.goals)


def wanted_pattern(case: PlanCase) -> Pattern | None:
    """What the worked solution makes of the pattern: one right way, there may be others."""
    altered = None if case.plan is None else case.altered(case.plan)
    return None if altered is None else altered.after


def _goal_line(goal: GoalMark, unit: Unit) -> GoalLine:
    part, aim = goal.worst, goal.worst.aim
    within = "" if bound_by_tolerance(aim) else f", within {shown(part.measure, part.tolerance, unit)}"
    return GoalLine(part.words, shown(part.measure, part.figure, unit), f"{bounds(aim, unit)}{within}", goal.credit)
