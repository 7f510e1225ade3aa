"""Front or back alone, where both together were asked for."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import GIRTHS, NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.wrong_plans import SIDES
from tutor.units import Unit

OTHER = {"back": "front", "front": "back"}
OF_BOTH = ("cap-seam", "armhole", "cap-ease")


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.at_cut_edge and case.of in GIRTHS:
        yield from _one_allowance(case)
    if case.of not in OF_BOTH:
        return
    for side in SIDES:
        reading = case.reading(f"{case.of}-{side}")
        value = None if reading is None else case.read(reading)
        if value is not None:
            yield _figured(value, side)


def _one_allowance(case: NumberCase) -> Iterator[Figured]:
    """A girth from the seam line at one edge to the cut line at the other: half way from the one girth to the other."""
    seam = None if case.is_change or case.plan is not None else case.before.get(case.of)
    if seam is not None:
        value = (seam + case.right) / 2
        then = "Ask at how many edges the tape passes it."
        yield Figured(value, lambda show: f"{show(value)} has the seam allowance at one edge alone.", then)


def _figured(value: float, side: str) -> Figured:
    return Figured(value, lambda show: f"{show(value)} is the {side} half alone.", f"Add the {OTHER[side]} half to it.")


MISTAKE = Mistake("one-side", _figures, words="front or back counted alone")
