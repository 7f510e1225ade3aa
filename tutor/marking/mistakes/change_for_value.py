"""The change given where the new value was asked for, or the new value where the change was."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.units import Unit


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    old = case.before.get(case.of)
    if old is None or case.lies_there:
        return
    if case.is_change:
        new = case.right + old
        end = "at the cut edge" if case.at_cut_edge and case.plan is None else "in the end"
        yield Figured(new, lambda show: f"{show(new)} is what it comes to {end}.", "Say the difference alone.")
        return
    moved = abs(case.right - old)
    said = "is how far it moves, from {} at first."
    then = "Say what it comes to: start from what it was."
    yield Figured(moved, lambda show: f"{show(moved)} {said.format(show(old))}", then)


MISTAKE = Mistake("change-for-value", _figures, words="the change given for the new value, or the reverse")
