"""The whole length opened by the same amount, where one end had to hold."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import GIRTHS, Case
from tutor.marking.likely import ENDS, TELLS
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import unhinged

NEXT = "Leave a hinge at the end that has to stay: then the opening runs out to nothing there."


def _plans(case: Case) -> Iterator[Wrong]:
    plan = None if case.plan is None else unhinged(case.plan)
    if plan is not None:
        number = "when the whole length opens by the same amount" if case.asks_for(*GIRTHS) else ""
        yield Wrong(_reply, plan, number, NEXT, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    if max(abs(answer.case.gain(name)) for name in ENDS) < TELLS:
        return True
    hem, bicep = answer.change("hem-girth"), answer.change("bicep-girth")
    return abs(hem) > 1 and 0.7 < hem / (bicep or 1e-9) < 1.4


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    return f"{answer.what_moved('bicep-girth', 'hem-girth')}: nothing holds the slash at either end.", NEXT


MISTAKE = Mistake("parallel-for-hinged", plans=_plans, words="opened by the same all the way, with no hinge")
