"""Overlapped for opened, lowered for raised: every amount the wrong way."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from tutor.alteration.plan import Plan
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.marking.case import Case, NumberCase, with_ease
from tutor.marking.likely import moved_by, telling
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import scaled
from tutor.units import Unit

NEXT = "Think which way it has to go before how far."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.is_change:
        turned = -case.right
        yield Figured(turned, lambda show: f"{show(turned)} has the wrong sign: it goes the other way.", NEXT)
    if case.wanted is not None:
        yield from _taken_off(case, case.wanted)


def _taken_off(case: NumberCase, wanted: Figure) -> Iterator[Figured]:
    """The ease, or the room, taken off the girth where it is to be added, or the reverse."""
    more = case.arm.wearing_ease if wanted.arm_and_ease else wanted.plus
    if more:
        other = structs.replace(wanted, plus=Amount(-more)) if wanted.plus else wanted
        value = case.wanted_by(with_ease(case.arm, -case.arm.wearing_ease), other)
        way = "taken off" if more > 0 else "added"
        name = "ease" if wanted.arm_and_ease else "room"
        yield Figured(value, lambda show: f"{show(value)} has the {name} {way}.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    if case.plan is None:
        return
    asked = isinstance(case, NumberCase) and not case.is_change
    number = f"when {_turned(case.plan)}" if asked else ""
    yield Wrong(_reply, scaled(case.plan, -1), number, NEXT, likely=moved_by(-1, telling(case.plan)))


def _turned(plan: Plan) -> str:
    """What the amounts of a plan do when all are turned round."""
    if plan.openings:
        return "the slashes are overlapped" if plan.openings[0].amount > 0 else "the slashes are opened"
    return "the armhole is taken in and raised" if plan.back.lower + plan.front.lower > 0 else "the armhole is let out"


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    of = "bicep-girth" if abs(answer.change("bicep-girth")) > 0.5 else "armhole"
    words = "bicep girth" if of == "bicep-girth" else "armhole"
    change = answer.change(of)
    way = "grown" if change > 0 else "shrunk"
    return f"The {words} has {way} by {answer.length(abs(change))}: every amount goes the wrong way.", NEXT


MISTAKE = Mistake("wrong-sign", _figures, _plans, words="the wrong way: overlapped for opened, or the reverse")
