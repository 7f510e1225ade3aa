"""Marking a place that was shown, by how far along the edge it is from the right one."""

from __future__ import annotations

import math
from dataclasses import replace

from tutor.alteration.place_words import place_words
from tutor.marking.credit import BEYOND, credit, tolerance_of
from tutor.marking.marked import GoalMark, Marked, Part
from tutor.marking.place import PlaceCase
from tutor.marking.reasons import tolerance_reason
from tutor.marking.recognise_place import recognise_place
from tutor.pattern.measures import words_for
from tutor.units import Unit, format_length

WHOLE = {Unit.CM: 10.0, Unit.MM: 10.0, Unit.INCH: 12.7}
"""mm; how far off a place is, is told in multiples of these."""
FAR = 10
"""A place this many tolerances off is called far off."""


def mark_place(case: PlaceCase, unit: Unit, along: float) -> Marked:
    """The mark of a place by how far along the edge it lies. Raises ValueError where the right one isn't there."""
    tolerance, off = tolerance_of(case.aim, unit), case.off(along)
    part = Part(case.aim, words_for(case.aim.measure), off, off, tolerance, credit(off, tolerance))
    goal = GoalMark("reach", (part,), 1.0, False, case.task.why)
    passed = goal.credit >= case.task.pass_mark - 1e-12
    said = _said(case, unit, goal, passed)
    marked = Marked((goal,), goal.credit, case.task.pass_mark, passed, (), said)
    named = None if passed else recognise_place(case, unit, along)
    return marked if named is None else replace(marked, mistake=named.mistake, feedback=(*marked.feedback, *named.said))


def _said(case: PlaceCase, unit: Unit, goal: GoalMark, passed: bool) -> tuple[str, ...]:
    part = goal.worst
    if passed:
        right = "Right" if goal.met else "Near enough"
        return tuple(filter(None, [f"{right}: that is {place_words(case.place, unit)}.", case.task.why]))
    near = "a little way off" if part.credit > 0 else "far off" if part.off > FAR * part.tolerance else "off"
    far = roughly(part.off, part.tolerance, unit)
    return (f"That is not the place: it is {near}, {far} along the edge.", tolerance_reason(part, unit))


def roughly(off: float, tolerance: float, unit: Unit) -> str:
    """How far off a place is, mm, in words: no finer than what earns no credit, and in whole cm or half inches.

    A finer figure would be the answer itself, to be walked in one of two ways.
    """
    step = WHOLE[unit] * max(math.ceil(BEYOND * tolerance / WHOLE[unit]), 1)
    if off < max(BEYOND * tolerance, step / 2):
        return f"less than {_whole(step, unit)}"
    return f"about {_whole(max(round(off / step), 1) * step, unit)}"


def _whole(length: float, unit: Unit) -> str:
    """A length in whole centimetres, millimetres or half inches, as such."""
    return format_length(length, unit).replace(".0 ", " ")
