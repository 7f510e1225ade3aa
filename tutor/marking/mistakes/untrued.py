"""The corner left where pieces parted: the seam not redrawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.marking.case import Case, NumberCase
from tutor.marking.left_behind import untrued_kink
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.units import Unit

NEXT = "True the seam: redraw it in one smooth curve across the place where the pieces parted."


def _kink(case: Case) -> float | None:
    altered = None if case.plan is None else case.altered(case.plan)
    kink = 0.0 if altered is None else untrued_kink(altered)
    return kink if kink > 0 else None


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    kink = None if case.of != "kink" else case.kept("untrued", lambda: _kink(case))
    if kink is not None:
        yield Figured(kink, lambda show: f"{show(kink)} is the corner as the pieces lie, before truing.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    """By its result alone: a plan carried out here is always trued."""
    if not isinstance(case, NumberCase):
        yield Wrong(_reply, measures=lambda: _left(case), likely=lambda answer: answer.after.get("kink", 0.0) > 1)


def _left(case: Case) -> Mapping[str, float] | None:
    after = None if case.plan is None else case.measures(case.plan)
    kink = case.kept("untrued", lambda: _kink(case))
    return None if after is None or kink is None else {**after, "kink": kink}


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    kink = answer.show("kink", answer.after["kink"])
    return f"The cap seam turns by {kink} at one place: the corner where the pieces parted is still there.", NEXT


MISTAKE = Mistake("untrued", _figures, _plans, words="the seam not redrawn where pieces parted")
