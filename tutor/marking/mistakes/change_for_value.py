"""The change given where the new value was asked for, or the new value where the change was."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.units import Unit


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    old = case.before.get(case.of)
    if case.plan is None or old is None:
        return
    if case.is_change:
        new = case.right + old
        yield Figured(new, lambda show: f"{show(new)} is what it comes to in the end.", "Say how far it has moved.")
        return
    moved = abs(case.right - old)
    said = "is how far it moves, from {} at first."
    then = "Say what it comes to: start from what it was."
    yield Figured(moved, lambda show: f"{show(moved)} {said.format(show(old))}", then)


MISTAKE = Mistake("change-for-value", _figures)
