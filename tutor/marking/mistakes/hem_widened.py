"""The hem grown by as much as the upper arm, its hinge cut through."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case, NumberCase
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import hem_opened
from tutor.units import Unit

NEXT = "What is done at the upper arm need not run down to the hem: leave a hinge there."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    after = None if case.plan is None or case.of != "hem-girth" else case.measures(case.plan)
    if after is None:
        return
    gain = after["bicep-girth"] - case.before["bicep-girth"]
    value = gain if case.is_change else case.before["hem-girth"] + gain
    said = "lets the hem grow by as much as the upper arm" if gain > 0 else "takes as much off the hem as the upper arm"
    yield Figured(value, lambda show: f"{show(value)} {said}.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    plan = None if case.plan is None else hem_opened(case.plan)
    if plan is not None:
        yield Wrong(_reply, plan, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    return abs(answer.change("hem-girth")) > 1


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    return f"{answer.what_moved('hem-girth', 'bicep-girth')}: the hinge at the hem is cut through.", NEXT


MISTAKE = Mistake("hem-widened", _figures, _plans, words="the hinge at the hem cut through, so that the hem grew")
