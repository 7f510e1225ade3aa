"""The crown kept closed where the cap height had to stay: the halves turn, and the cap comes down."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import crossed

NEXT = "Cut the crown through, or lift the cap off whole, so that it can keep its height."


def _plans(case: Case) -> Iterator[Wrong]:
    if case.plan is None:
        return
    plan = crossed(case.plan, 0.0)
    if plan is not None and plan != case.plan:
        shown = case.asks_for("cap-height") or (case.asks_for("cap-seam", "cap-ease") and not case.plan.set_back)
        number = "when the crown is kept closed" if shown else ""
        yield Wrong(_reply, plan, number, NEXT, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    return abs(answer.change("cap-height")) > 2 and abs(answer.change("cap-seam")) < 5


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    return f"The crown is closed, so the halves of the cap have turned: it has {answer.moved('cap-height')}.", NEXT


MISTAKE = Mistake("crown-closed", plans=_plans, words="the crown kept closed")
