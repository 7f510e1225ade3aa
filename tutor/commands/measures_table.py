"""Measures as tables for people."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from tutor.pattern.measures import Kind, kind_of, words_for
from tutor.units import Unit, format_angle, format_area, format_length

DECIMALS = 2
"""Of centimetres: a tenth of a millimetre, finer than any tape, so that what changes can be seen to."""


def shown(name: str, value: float, unit: Unit, *, signed: bool = False) -> str:
    """The value of a measure as people read it."""
    match kind_of(name):
        case Kind.LENGTH:
            return format_length(value, unit, signed, DECIMALS)
        case Kind.ANGLE:
            return format_angle(math.radians(value), signed)
        case Kind.AREA:
            return format_area(value, unit, signed)
        case Kind.SHARE:
            rounded = round(value, 1) + 0.0
            return f"{rounded:+.1f}%" if signed and rounded else f"{rounded:.1f}%"


def value_rows(measures: Mapping[str, float], unit: Unit) -> list[Sequence[str]]:
    """One row a measure: its words and its value."""
    return [(words_for(name), shown(name, value, unit)) for name, value in measures.items()]


def change_rows(before: Mapping[str, float], after: Mapping[str, float], unit: Unit) -> list[Sequence[str]]:
    """A head, and one row a measure: its words, before, after, and the change."""
    rows: list[Sequence[str]] = [("", "before", "after", "change")]
    for name, value in after.items():
        if name in before:
            change = shown(name, value - before[name], unit, signed=True)
            rows.append((words_for(name), shown(name, before[name], unit), shown(name, value, unit), change))
        else:
            rows.append((words_for(name), "", shown(name, value, unit), ""))
    return rows
