"""Width and depth added up, where the seam between them runs across."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.wrong_plans import SIDES, answer_of
from tutor.units import Unit

NEXT = "The curve goes across the corner, not round it: it gains less than both together."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For a gain of the armhole, or of one of its halves (common practice counts it as width plus depth)."""
    if case.plan is None or not case.is_change or not case.of.startswith("armhole"):
        return
    answers = [answer_of(case.plan, side) for side in SIDES if case.of in ("armhole", f"armhole-{side}")]
    total = sum(answer.widen + answer.lower for answer in answers)
    yield Figured(total, lambda show: f"{show(total)} is width and depth added up.", NEXT)


MISTAKE = Mistake("sum-for-seam", _figures, words="width and depth added up for the seam")
