"""Per cent taken of the wrong whole: of the arm for those of the sleeve, of the cap seam for those of the armhole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.units import Unit

OF_SLEEVE = "Stretch counts in per cent of the cloth as it lies unstretched: of the sleeve, not of the arm."
OF_ARMHOLE = "Cap ease counts in per cent of the armhole that the seam is eased into."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.wanted is not None:
        yield from _taken_off(case)
        return
    known = case.before if case.plan is None else case.measures(case.plan)
    if known is None or case.is_change:
        return
    if case.of == "stretch-used":
        value = 100 * max(float(case.arm.girth) - known["bicep-girth"], 0.0) / float(case.arm.girth)
        yield Figured(value, lambda show: f"{show(value)} is counted of the arm.", OF_SLEEVE)
    if case.of == "cap-ease-percent":
        yield _of_seam(known)


def _of_seam(known: Mapping[str, float]) -> Figured:
    value = 100 * known["cap-ease"] / known["cap-seam"]
    return Figured(value, lambda show: f"{show(value)} is counted of the cap seam.", OF_ARMHOLE)


def _taken_off(case: NumberCase) -> Iterator[Figured]:
    """The stretch taken off what the cloth has to go round: 20 % off 30 cm is 24 cm, which needs 25 %."""
    if case.wanted is None or not case.wanted.stretched:
        return
    stretch = (case.arm.stretch or 0.0) / 100
    start = case.before.get(case.of, 0.0) if case.is_change else 0.0
    value = (case.right + start) * (1 + stretch) * (1 - stretch) - start
    yield Figured(value, lambda show: f"{show(value)} has the stretch taken off the arm.", OF_SLEEVE)


MISTAKE = Mistake("wrong-whole", _figures, words="per cent taken of the wrong whole")
