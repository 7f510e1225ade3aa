"""Overlapped for opened, lowered for raised: every amount the wrong way."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.marking.case import Case, NumberCase, with_ease
from tutor.marking.likely import moved_by
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.plan_parts import Part, parts
from tutor.pattern.measures import words_for
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
    for number, part in enumerate(parts(case.plan)):
        whole = number == 0
        words = _turned(part) if asked and whole else ""
        yield Wrong(_Reply(part, whole), part.scaled(-1), words, NEXT, likely=moved_by(-1, part.tells, part.rest))


def _turned(part: Part) -> str:
    """What the amounts of a part do when all are turned round."""
    if part.openings:
        return "when the slashes are " + ("overlapped" if part.plan.openings[0].amount > 0 else "opened")
    if part.is_armholes:
        lower = part.plan.back.lower + part.plan.front.lower
        return "when the armhole is " + ("taken in and raised" if lower > 0 else "let out")
    return f"with {part.turned()}"


class _Reply:
    """What is said of a part turned the wrong way, which is the ``whole`` plan or one thing of several."""

    def __init__(self, part: Part, whole: bool) -> None:
        self.part = part
        self.all = "every amount goes" if whole and len(part.amounts) + len(part.plan.openings) != 1 else "that is"

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        of = self.part.tells
        change = answer.change(of)
        way = "grown" if change > 0 else "shrunk"
        return f"The {words_for(of)} has {way} by {answer.length(abs(change))}: {self.all} the wrong way.", NEXT


MISTAKE = Mistake("wrong-sign", _figures, _plans, words="the wrong way: overlapped for opened, or the reverse")
