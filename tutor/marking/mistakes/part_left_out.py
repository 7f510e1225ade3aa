"""One of several things that belong together left out, and all the others done."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.amounts import MEANS, Means, means_used, without
from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong

NEXT = "More than one thing has to change here: go through all that is asked once more."
OTHERS: tuple[Means, ...] = ("slashes", "set-back", "armhole")
"""What nobody leaves out by itself; the armhole left as it was is a mistake of its own."""


def _plans(case: Case) -> Iterator[Wrong]:
    plan = case.plan
    used = () if plan is None else means_used(plan)
    if plan is None or len(used) < 2:
        return
    for means in used:
        if means not in OTHERS:
            yield Wrong(_Reply(means), without(plan, means), f"without {MEANS[means]}", NEXT)


class _Reply:
    """What is said when one thing is missing."""

    def __init__(self, means: Means) -> None:
        self.means = means

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        return f"This is what comes of it without {MEANS[self.means]}.", NEXT


MISTAKE = Mistake("part-left-out", plans=_plans, words="one of several things that belong together left out")
