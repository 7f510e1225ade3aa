"""The change given where the new value was asked for, or the new value where the change was."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.nearness import as_shown
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
    yield _moved(abs(case.right - old), old)
    shown = abs(as_shown(case.of, case.right, unit) - as_shown(case.of, old, unit))
    if shown != abs(case.right - old):
        yield _moved(shown, old, again=True)


def _moved(by: float, old: float, again: bool = False) -> Figured:
    then = "Say what it comes to: start from what it was."
    return Figured(by, lambda show: f"{show(by)} is how far it moves, from {show(old)} at first.", then, again)


MISTAKE = Mistake("change-for-value", _figures, words="the change given for the new value, or the reverse")
