"""The cut edge measured, seam allowance and all, in place of the seam line; or the seam line for the cut edge."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.pattern.cut_edge import at_cut_edge
from tutor.units import Unit

NEXT = "Measure on the seam line, inside the seam allowance."
NEXT_OUT = "Measure where the paper is cut, outside the seam allowance."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For what is read off a pattern as it lies: a change comes out nearly the same on either line."""
    if case.at_cut_edge:
        yield from _seam_line(case)
        return
    reading = None if case.plan is not None else at_cut_edge(case.of, case.allowance)
    value = None if reading is None else case.read(reading)
    if value is not None:
        allowance = case.allowance
        yield Figured(value, lambda show: f"{show(value)} is the cut edge, {show(allowance)} outside the seam.", NEXT)


def _seam_line(case: NumberCase) -> Iterator[Figured]:
    """The seam line measured where it is the cut edge that is asked for."""
    value = None if case.is_change else case.before.get(case.of)
    if case.plan is None and value is not None:
        yield Figured(value, lambda show: f"{show(value)} is the seam line, inside the allowance.", NEXT_OUT)


MISTAKE = Mistake("cut-line", _figures, words="the cut edge measured for the seam line, or the reverse")
