"""The sleeve changed alone, and the armhole it goes into left as it was."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.amounts import BODICE, given, means_used, without
from tutor.alteration.plan import Plan
from tutor.marking.case import Case, NumberCase
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import has_answers

NEXT = "Let the armhole take what the cap seam has gained, on back and front."


def _plans(case: Case) -> Iterator[Wrong]:
    """For a number, the armhole alone may be what was asked to change; a plan must have changed the sleeve."""
    plan = case.plan
    if plan is None or not has_answers(plan) or not (_changes_sleeve(plan) or isinstance(case, NumberCase)):
        return
    likely = None if "shoulder" in means_used(plan) else _likely
    yield Wrong(_reply, without(plan, "armhole"), "with the armhole as it was", NEXT, likely=likely)


def _changes_sleeve(plan: Plan) -> bool:
    return bool(plan.openings) or any(amount.means not in BODICE for amount in given(plan))


def _likely(answer: PlanAnswer) -> bool:
    return abs(answer.change("armhole")) < 1


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    seam = answer.length(answer.change("cap-seam"))
    return f"The cap seam has changed by {seam}, and the armhole not at all: they no longer fit.", NEXT


MISTAKE = Mistake("armhole-forgotten", plans=_plans, words="the armhole left as it was")
