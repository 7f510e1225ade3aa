"""Why a tolerance is what it is, in one short sentence."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.marking.figures import shown
from tutor.marking.marked import Part
from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit

BY_HAND = 3.2
"""mm, an eighth of an inch: drawing, cutting and taping by hand come no nearer (common practice)."""
_ROUNDING = "half the smallest division that you are asked for, so rounding costs nothing"
_SEWN = {
    "kink": "less of a turn doesn't show in the sewn seam",
    "underarm-mismatch": "seams that are nearer than that are sewn as equal",
    "side-mismatch": "seams that are nearer than that are sewn as equal",
}


def tolerance_reason(part: Part, unit: Unit, *, asked: bool = False) -> str:
    """What is allowed of a measure, and why: rounding, sewing, work by hand; ``asked`` is a figure asked for."""
    return _sentence([shown(part.measure, part.tolerance, unit)], _reason(part, asked=asked))


def tolerance_reasons(parts: Iterable[Part], unit: Unit) -> tuple[str, ...]:
    """The reasons for several measures; those that share one in one sentence."""
    allowed: dict[str, list[str]] = {}
    for part in parts:
        amounts = allowed.setdefault(_reason(part), [])
        text = shown(part.measure, part.tolerance, unit)
        if text not in amounts:
            amounts.append(text)
    return tuple(_sentence(amounts, reason) for reason, amounts in allowed.items())


def _sentence(amounts: list[str], reason: str) -> str:
    return f"Allowed {'is' if len(amounts) == 1 else 'are'} {' and '.join(amounts)}: {reason}."


def _reason(part: Part, *, asked: bool = False) -> str:
    if part.tolerance > part.aim.tolerance:
        return _ROUNDING
    if part.measure in _SEWN:
        return _SEWN[part.measure]
    if part.measure.startswith("notch-"):
        return "notches that are nearer than that are brought together in sewing"
    if asked:
        return "the question asks for it no closer, as measuring and working out by hand lose a little"
    if kind_of(part.measure) is not Kind.LENGTH:
        return "nobody could tell less of it on the finished sleeve"
    if part.tolerance <= BY_HAND:
        return "paper that is drawn, cut and taped by hand comes no nearer"
    return "so little is not felt in wear"
