"""The edge of the paper that a plan's slashes cut."""

from __future__ import annotations

from functools import lru_cache

from tutor.alteration.outline import Outline, lower_part, whole
from tutor.alteration.plan import Plan
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve


def outline_of(pattern: Pattern, plan: Plan) -> Outline:
    """The whole sleeve's outline, or the lower part's when the cap is lifted off first."""
    return _outline(pattern.sleeve, plan.set_back)


@lru_cache(maxsize=32)
def _outline(sleeve: Sleeve, set_back: bool) -> Outline:
    return (lower_part if set_back else whole)(sleeve)
