"""A figure of a measure as people read it, in the learner's unit."""

from __future__ import annotations

import math

from tutor.lesson.goal import Aim
from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit, format_area, format_length


def shown(measure: str, figure: float, unit: Unit, signed: bool = False) -> str:
    """A figure with its unit: "36.0 cm", "14 1/8 in", "0.4°", "3.1%"; "missing" for what is not a number."""
    if math.isnan(figure):
        return "missing"
    kind = kind_of(measure)
    if kind is Kind.LENGTH:
        return format_length(figure, unit, signed)
    if kind is Kind.AREA:
        return format_area(figure, unit, signed)
    text = f"{figure:+.1f}" if signed else f"{figure:.1f}"
    text = text.replace("-0.0", "0.0").replace("+0.0", "0.0")
    return text + {Kind.ANGLE: "°", Kind.SHARE: "%"}[kind]


def bound_by_tolerance(aim: Aim) -> bool:
    """Whether the tolerance is the limit that is meant: of a measure that can't be below nought, such as a kink."""
    return math.isinf(aim.low) and aim.high == 0


def bounds(aim: Aim, unit: Unit) -> str:
    """What is wanted: "36.0 cm", "at most 1.5 cm", "0.5 cm to 1.5 cm"."""
    if bound_by_tolerance(aim):
        return f"at most {shown(aim.measure, aim.tolerance, unit)}"
    low, high = (shown(aim.measure, bound, unit) if math.isfinite(bound) else "" for bound in (aim.low, aim.high))
    if low and high:
        return low if aim.low == aim.high else f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}"
