"""Opened from the hem instead of from the cap, or the reverse: the hinge at the wrong end."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import GIRTHS, Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import hinge_moved

NEXT = "A wedge is widest away from its hinge: leave the hinge at the end that has to stay as it is."


def _plans(case: Case) -> Iterator[Wrong]:
    moved = None if case.plan is None else hinge_moved(case.plan)
    if moved is not None:
        number = "with the hinge at the other end" if case.asks_for(*GIRTHS) else ""
        yield Wrong(_reply, moved, number, NEXT, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    return abs(answer.change("hem-girth")) > abs(answer.change("bicep-girth"))


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    hem, bicep = answer.moved("hem-girth"), answer.moved("bicep-girth")
    return f"The hem has {hem}, the bicep girth has {bicep}: the wedge is widest at the end that should hold.", NEXT


MISTAKE = Mistake("hinge-at-wrong-end", plans=_plans, words="the hinge at the wrong end")
