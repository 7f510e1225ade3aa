"""What is done on one side and was forgotten on the other: on a bodice piece, or at an edge of the sleeve."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.amounts import means_used
from tutor.marking.case import Case
from tutor.marking.mistake import Likely, PlanAnswer, Plans, Reply, Wrong
from tutor.marking.plan_parts import sides


def one_piece(changed: str, forgotten: str) -> Plans:
    """The plans that leave the ``forgotten`` side as it was."""

    def plans(case: Case) -> Iterator[Wrong]:
        for part in sides(case.plan) if case.plan is not None else ():
            if part.side == forgotten:
                reply, number, then, likely = _bodice(changed, forgotten) if part.is_armholes else _edge(forgotten)
                alone = "shoulder" not in means_used(part.plan)
                yield Wrong(reply, part.scaled(0), number, then, likely=likely if alone else None)

    return plans


def _bodice(changed: str, forgotten: str) -> tuple[Reply, str, str, Likely | None]:
    then = f"Do the same for the {forgotten}: each half of the cap goes into its own armhole."

    def reply(answer: PlanAnswer) -> tuple[str, str]:
        gain = answer.length(answer.change(f"armhole-{changed}"))
        return f"The {changed} armhole has changed by {gain}, and the {forgotten} one is as it was.", then

    def likely(answer: PlanAnswer) -> bool:
        return abs(answer.change(f"armhole-{forgotten}")) < 1

    return reply, f"with the {forgotten} bodice as it was", then, likely


def _edge(forgotten: str) -> tuple[Reply, str, str, Likely | None]:
    then = f"Do the same at the {forgotten} edge: each of the two takes its half."

    def reply(answer: PlanAnswer) -> tuple[str, str]:
        return f"The {forgotten} edge of the sleeve is as it was: only the other has changed.", then

    # In a figure the other edge alone is one side's share, which is a mistake of its own.
    return reply, "", then, None
