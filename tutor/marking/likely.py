"""Cheap looks at an answer that tell what it clearly is not, before anything is cut."""

from __future__ import annotations

from tutor.alteration.plan import Plan
from tutor.marking.mistake import Likely, PlanAnswer

ROOM = 2.0
"""mm."""
SHARE = 0.15
ENDS = ("hem-girth", "bicep-girth")
"""The measures at the ends of a slash along the sleeve."""
TELLS = 5.0
"""mm; ends that move less than this tell nothing, as where a wedge lies across the sleeve."""


def telling(plan: Plan, side: str = "") -> str:
    """The measure that shows how far a plan's amounts go: of the sleeve, or else of the armholes, or one of them."""
    if side:
        return f"armhole-{side}"
    return "bicep-girth" if plan.openings else "armhole"


def moved_by(factor: float, measure: str) -> Likely:
    """Whether a measure has moved by about so many times what the right plan moves it."""

    def likely(answer: PlanAnswer) -> bool:
        wanted = factor * answer.case.gain(measure)
        return abs(answer.change(measure) - wanted) <= ROOM + SHARE * abs(wanted)

    return likely


def parted(answer: PlanAnswer) -> bool:
    """Whether the cap seam, or an underarm seam, came out otherwise than the right plan leaves it."""
    return any(abs(answer.change(name) - answer.case.gain(name)) > ROOM for name in ("cap-seam", "underarm-mismatch"))
