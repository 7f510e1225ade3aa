"""Lengths in the messages of a draft that is refused, in the unit that its measures were given in."""

from __future__ import annotations

import math

from tutor.units import Unit, format_length

DIVISION = {Unit.CM: 1.0, Unit.MM: 1.0, Unit.INCH: 25.4 / 16}
"""mm of the smallest division that a length is told to."""
BELIEVED = 1e5


def told(mm: float, unit: Unit) -> str:
    """A length for a message."""
    return format_length(mm, unit)


def told_outside(mm: float, low: float, high: float, unit: Unit) -> str:
    """The same for a length outside low to high, with as many decimals as it takes to see that it is."""
    if abs(mm) > BELIEVED:
        return f"{mm / float(unit.mm):.3g} {unit.value}"
    if unit is Unit.INCH and abs(mm - _rounded(mm, unit)) < 1e-9:
        return told(mm, unit)
    shown = (f"{mm / float(unit.mm):.{places}f}" for places in range(1, 12))
    seen = (f"{text} {unit.value}" for text in shown if not low - 1e-9 <= float(text) * float(unit.mm) <= high + 1e-9)
    return next(seen, told(mm, unit))


def told_range(low: float, high: float, unit: Unit) -> str:
    """``10.2 to 11.5 cm``, rounded inwards to whole divisions, so that all of it holds."""
    division = DIVISION[unit]
    inner_low, inner_high = math.ceil(low / division - 1e-9) * division, math.floor(high / division + 1e-9) * division
    if inner_low > inner_high:
        return f"{low / float(unit.mm):.3f} to {high / float(unit.mm):.3f} {unit.value}"
    return f"{told(inner_low, unit).removesuffix(f' {unit.value}')} to {told(inner_high, unit)}"


def _rounded(mm: float, unit: Unit) -> float:
    return round(mm / DIVISION[unit]) * DIVISION[unit]
