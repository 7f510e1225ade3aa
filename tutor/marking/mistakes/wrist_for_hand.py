"""The wrist measured where the hand has to pass."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.units import Unit

NEXT = "The hand has to pass before the wrist is covered: measure round the hand, the thumb laid in."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.wanted is None or case.wanted.around != "hand" or case.arm.wrist is None:
        return
    value = case.wanted_by(structs.replace(case.arm, hand=case.arm.wrist))
    yield Figured(value, lambda show: f"{show(value)} goes by the wrist.", NEXT)


MISTAKE = Mistake("wrist-for-hand", _figures, words="the wrist measured, where the hand has to pass")
