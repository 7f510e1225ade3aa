"""The sleeve made the size of the arm."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong

NEXT = "An arm needs room to move: add the wearing ease to its girth."


def _plans(case: Case) -> Iterator[Wrong]:
    if not case.arm.wearing_ease:
        return
    girth = float(case.arm.girth)

    def likely(answer: PlanAnswer) -> bool:
        return abs(answer.after.get("bicep-girth", girth) - girth) < 10

    if case.goes_by_ease:
        yield Wrong(
            _reply,
            lambda: case.solved_for(0.0),
            "when the sleeve is the size of the arm, with no ease",
            NEXT,
            likely=likely,
        )


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    girth, arm = answer.after["bicep-girth"], float(answer.case.arm.girth)
    return f"The bicep girth is {answer.length(girth)}, and the arm is {answer.length(arm)}: there is no ease.", NEXT


MISTAKE = Mistake("no-ease", plans=_plans)
