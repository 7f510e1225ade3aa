"""A figure as people type it: a length in any unit, or a bare number where degrees or per cent are asked for."""

from __future__ import annotations

import re

from tutor.faults import Fault
from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit, parse_length

LONGEST = 40
WHERE = "answer"
_SIGNS = {Kind.ANGLE: ("°", "degrees", "degree", "deg"), Kind.SHARE: ("%", "per cent", "percent")}


def with_unit(text: str, measure: str, unit: Unit) -> str:
    """A figure as it was typed, with its unit where it was typed without one."""
    if not text[-1:].isnumeric():
        return text
    kind = kind_of(measure)
    return f"{text} {unit.value}" if kind is Kind.LENGTH else f"{text}{_SIGNS[kind][0] if kind in _SIGNS else ''}"


def read_figure(text: str, measure: str, unit: Unit) -> float:
    """The figure, in mm, degrees or per cent; a bare length is in ``unit``.

    Raises Fault, with what would be readable, for text that is no such figure, or that can mean two.
    """
    kind = kind_of(measure)
    if kind is Kind.LENGTH:
        return parse_length(text, unit, WHERE)
    bare = " ".join(text.split()).casefold()
    sign = next((sign for sign in _SIGNS.get(kind, ()) if bare.endswith(sign)), "")
    try:
        # A bare number is read by the rules of lengths: fractions, comma or point, and nothing that means two.
        return parse_length(f"{bare.removesuffix(sign).strip()} mm", Unit.MM, WHERE)
    except Fault as fault:
        told = next(
            (what for what in ("can mean two numbers", "can't be read as one number") if what in fault.what), ""
        )
        words = re.sub(r"\s*mm\b", "", fault.right) if told else "write such as 3.5"
        what = told or "is no number"
        raise Fault(WHERE, f'"{text.strip()[:LONGEST]}" {what}', words) from None
