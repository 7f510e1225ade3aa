"""Lengths as plan files and lesson files have them."""

from __future__ import annotations

from fractions import Fraction

from tutor.faults import Fault
from tutor.units import Unit, parse_length

GREATEST_LENGTH = 10_000.0
"""mm; no length of a plan is believed beyond 10 m."""

Length = str | int | float


def read_length(value: Length, where: str, unit: Unit | None) -> float:
    """A length in mm, rounded once; a number counts as the decimals that it was written in.

    Raises Fault for what is no length, is beyond 10 m, or has no unit where the file has none for all.
    """
    shown = said(value)
    if isinstance(value, str):
        mm = parse_length(value, unit or Unit.MM, where)
        bare = unit is None and mm != parse_length(value, Unit.CM, where)
    elif not abs(value) <= GREATEST_LENGTH:
        raise Fault(where, f"{shown} is no length of a sleeve", 'write one such as "3 cm"')
    else:
        mm = float(Fraction(str(value)) * (unit or Unit.MM).mm)
        bare = unit is None and value != 0
    if bare:
        raise Fault(where, f"{shown} has no unit", 'write its unit, or units = "cm" at the top for all lengths')
    if abs(mm) > GREATEST_LENGTH:
        raise Fault(where, f"{shown} is beyond 10 m", 'write a length such as "3 cm"')
    return mm


def said(value: Length) -> str:
    """A length or a number for a message; a whole number may have more figures than a float can hold."""
    if isinstance(value, str):
        return f'"{value}"'
    return "a number that large" if isinstance(value, int) and abs(value) > GREATEST_LENGTH else f"{value:.12g}"
