"""Cheap looks at an answer that tell what it clearly is not, before anything is cut."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.alteration.amounts import PlanAmount
from tutor.alteration.plan import Plan
from tutor.marking.mistake import Likely, PlanAnswer

ROOM = 2.0
"""mm."""
SHARE = 0.15
ENDS = ("hem-girth", "bicep-girth")
"""The measures at the ends of a slash along the sleeve."""
TELLS = 5.0
"""mm; a measure that moves less than this tells nothing, as where a wedge lies across the sleeve."""


def telling(amounts: Sequence[PlanAmount]) -> str:
    """The measure that shows how far amounts go: of the first, or of both armholes where those of both are changed."""
    if not amounts:
        return "bicep-girth"
    sides = {amount.side for amount in amounts}
    return "armhole" if amounts[0].means == "armhole" and len(sides) > 1 else amounts[0].tells


def moved_by(factor: float, measure: str, rest: Plan | None = None) -> Likely:
    """Whether a measure has moved by about so many times what the right plan moves it.

    With ``rest``, by so many times what the right plan does besides the rest of it.
    """

    def likely(answer: PlanAnswer) -> bool:
        case = answer.case
        base = 0.0 if rest is None else case.gain(measure, rest)
        own = case.gain(measure) - base
        if abs(own) < TELLS:
            return True
        return abs(answer.change(measure) - base - factor * own) <= ROOM + SHARE * abs(factor * own)

    return likely


def parted(answer: PlanAnswer) -> bool:
    """Whether the cap seam, or an underarm seam, came out otherwise than the right plan leaves it."""
    return any(abs(answer.change(name) - answer.case.gain(name)) > ROOM for name in ("cap-seam", "underarm-mismatch"))
