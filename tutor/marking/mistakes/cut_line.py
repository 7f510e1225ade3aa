"""The cut edge measured, seam allowance and all, in place of the seam line."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.readings import at_cut_edge
from tutor.units import Unit

NEXT = "Measure on the seam line, inside the seam allowance."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For what is read off a pattern as it lies: a change comes out nearly the same on either line."""
    reading = None if case.plan is not None else at_cut_edge(case.of, case.allowance)
    value = None if reading is None else case.read(reading)
    if value is not None:
        allowance = case.allowance
        yield Figured(value, lambda show: f"{show(value)} is the cut edge, {show(allowance)} outside the seam.", NEXT)


MISTAKE = Mistake("cut-line", _figures)
