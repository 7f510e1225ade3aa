"""Which usual mistake a drawn pattern shows: the outline each would lead to is worked out, and the nearest is it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tutor.classwork.left_undone import LEFT_UNDONE
from tutor.classwork.outline_points import OutlinePoints, apart, outline_points
from tutor.marking.case import PlanCase
from tutor.marking.mistake import PlanAnswer, Wrong
from tutor.marking.named import Named, clear_winner
from tutor.marking.recognise_plan import plan_passes
from tutor.marking.usual import MISTAKES
from tutor.pattern.pattern import Pattern

NEAR = 1.0
"""mm that an outline may lie from what a mistake leads to: an unsteady hand, and amounts rounded to the millimetre."""
CLEAR = 0.15
"""mm by which every other mistake must lie farther away, at the least."""
CLEARER = 1.4
"""And how many times as far."""


@dataclass(frozen=True, slots=True)
class Outline:
    """What a mistake makes of the outline."""

    mistake: str
    wrong: Wrong
    pattern: Pattern
    points: OutlinePoints


def recognise_outline(pattern: Pattern, answer: PlanAnswer) -> Named | None:
    """The mistake that a drawn pattern shows; None when it shows none clearly."""
    found = outlines(answer.case, answer)
    points = outline_points(pattern)
    ranked = [(apart(points, each.points), each.mistake) for each in found]
    if not ranked:
        return None
    nearest = min(distance for distance, _ in ranked)
    if apart(points, _untouched(answer.case)) <= nearest:
        return None
    best = clear_winner(ranked, NEAR, max(CLEAR, (CLEARER - 1) * nearest))
    return None if best is None else Named(found[best].mistake, found[best].wrong.reply(answer))


def _untouched(case: PlanCase) -> OutlinePoints:
    """The outline of the pattern as it lay, which is no mistake but an answer that does nothing."""
    return case.kept("untouched outline", lambda: outline_points(case.pattern))


def outlines(case: PlanCase, answer: PlanAnswer) -> tuple[Outline, ...]:
    """The outlines that usual mistakes lead to, those left out that paper can't follow, or that would pass."""
    return case.kept(("outlines", answer.unit), lambda: tuple(_failing(case, answer)))


def _failing(case: PlanCase, answer: PlanAnswer) -> Iterator[Outline]:
    for name, wrong, pattern in _led_to(case):
        after = wrong.result(case)
        if after is not None and not plan_passes(case, answer.unit, after):
            yield Outline(name, wrong, pattern, outline_points(pattern))


def _led_to(case: PlanCase) -> Iterator[tuple[str, Wrong, Pattern]]:
    for mistake in MISTAKES.values():
        if mistake.plans is None or mistake.name in case.task.unnamed:
            continue
        for wrong in mistake.plans(case):
            pattern = _pattern(case, mistake.name, wrong)
            if pattern is not None:
                yield mistake.name, wrong, pattern


def _pattern(case: PlanCase, name: str, wrong: Wrong) -> Pattern | None:
    """The altered pattern that a mistake leads to."""
    if name in LEFT_UNDONE:
        right = None if case.plan is None else case.altered(case.plan)
        return None if right is None else LEFT_UNDONE[name](right)
    plan = wrong.made()
    altered = None if plan is None else case.altered(plan)
    return None if altered is None else altered.after
