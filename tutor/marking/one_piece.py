"""Armholes of which one bodice piece was forgotten."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.plan import Answer
from tutor.marking.case import Case
from tutor.marking.mistake import PlanAnswer, Plans, Wrong
from tutor.marking.wrong_plans import answer_of, with_answer


def one_piece(changed: str, forgotten: str) -> Plans:
    """The plans that leave the ``forgotten`` piece as it was."""
    then = f"Do the same for the {forgotten}: each half of the cap goes into its own armhole."

    def reply(answer: PlanAnswer) -> tuple[str, str]:
        gain = answer.length(answer.change(f"armhole-{changed}"))
        return f"The {changed} armhole has changed by {gain}, and the {forgotten} one is as it was.", then

    def likely(answer: PlanAnswer) -> bool:
        return abs(answer.change(f"armhole-{forgotten}")) < 1

    def plans(case: Case) -> Iterator[Wrong]:
        plan = case.plan
        if plan is None or Answer() in (plan.back, plan.front) or answer_of(plan, changed) == Answer():
            return
        one = with_answer(plan, forgotten, Answer())
        yield Wrong(reply, one, f"with the {forgotten} bodice as it was", then, likely=likely)

    return plans
