"""The sleeve made the size of the arm."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from tutor.lesson.amount import Amount
from tutor.marking.case import Case, NumberCase, with_ease
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.units import Unit

NEXT = "An arm needs room to move: add the wearing ease to its girth."
NEXT_SMALLER = "The sleeve is to be smaller than the arm, as this cloth gives: take off what the brief says."
NEXT_ROUND = "What goes round it needs room as well: add that to its girth."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For a figure to be worked out from the arm, or from what goes round a part of it."""
    wanted = case.wanted
    if wanted is None or not (case.arm.wearing_ease if wanted.arm_and_ease else wanted.plus):
        return
    bare = structs.replace(wanted, plus=Amount(0.0)) if wanted.plus else wanted
    value = case.wanted_by(with_ease(case.arm, 0.0), bare)
    part = wanted.around or "arm"
    then = NEXT_ROUND if wanted.around else _next(case)
    yield Figured(value, lambda show: f"{show(value)} goes by the {part} alone.", then)


def _next(case: Case) -> str:
    return NEXT if case.arm.wearing_ease > 0 else NEXT_SMALLER


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
            _next(case),
            likely=likely,
        )


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    girth, arm = answer.after["bicep-girth"], float(answer.case.arm.girth)
    said = f"The bicep girth is {answer.length(girth)}, and the arm is {answer.length(arm)}: there is no ease."
    return said, _next(answer.case)


MISTAKE = Mistake("no-ease", _figures, _plans, words="the wearing ease left out")
