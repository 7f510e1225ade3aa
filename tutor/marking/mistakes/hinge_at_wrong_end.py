"""Opened from the hem instead of from the cap, or the reverse: the hinge at the wrong end."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import GIRTHS, Case
from tutor.marking.likely import ENDS, TELLS
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import hinge_moved

NEXT = "A wedge is widest away from its hinge: leave the hinge at the end that has to stay as it is."


def _plans(case: Case) -> Iterator[Wrong]:
    moved = None if case.plan is None else hinge_moved(case.plan)
    if moved is not None:
        number = "with the hinge at the other end" if case.asks_for(*GIRTHS) else ""
        yield Wrong(_reply, moved, number, NEXT, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    """The wide end is not the one of the right plan, as far as hem and bicep line tell."""
    right, own = ([abs(of(name)) for name in ENDS] for of in (answer.case.gain, answer.change))
    return max(right) < TELLS or (own[0] > own[1]) != (right[0] > right[1])


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    return f"{answer.what_moved(*ENDS)}: the wedge is widest at the end that should hold.", NEXT


MISTAKE = Mistake("hinge-at-wrong-end", plans=_plans, words="the hinge at the wrong end")
