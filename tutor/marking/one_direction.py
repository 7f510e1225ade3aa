"""Armholes whose gain goes into width or depth alone: all of it, or the one share with the other left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tutor.alteration.plan import Answer
from tutor.marking.case import Case, NumberCase
from tutor.marking.mistake import PlanAnswer, Plans, Reply, Wrong
from tutor.marking.wrong_plans import has_answers


def one_direction(reply: Reply, number: str, then: str, *, width: bool) -> Plans:
    """The plans with nought for one of width and depth, unless that is all there is, or there is none of it.

    For a number, only the other share is left out.
    """

    still = ("bust-gain",) if not width else ("side-seam-back", "side-seam-front")

    def likely(answer: PlanAnswer) -> bool:
        return all(abs(answer.change(name)) < 1 for name in still)

    def plans(case: Case) -> Iterator[Wrong]:
        plan = case.plan
        if plan is None or not has_answers(plan):
            return
        for whole in (False,) if isinstance(case, NumberCase) else (False, True):
            back, front = (_turned(answer, whole, width) for answer in (plan.back, plan.front))
            turned = replace(plan, back=back, front=front)
            if has_answers(turned) and turned != plan:
                yield Wrong(reply, turned, number, then, likely=likely)

    return plans


def _turned(answer: Answer, whole: bool, width: bool) -> Answer:
    if width:
        return Answer(answer.widen + (answer.lower if whole else 0.0), 0.0)
    return Answer(0.0, answer.lower + (answer.widen if whole else 0.0))
