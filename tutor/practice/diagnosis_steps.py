"""A diagnosis worked out step by step: the folds, the causes they can have, and sign after sign what is left."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.fit.causes import CAUSES
from tutor.fit.look import folds_told
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import capital, causes_words, look_words, sign_words
from tutor.units import Unit, format_length


def diagnosis_steps(case: DiagnosisCase, unit: Unit) -> tuple[str, ...]:
    """The steps, each a sentence or two."""
    return tuple(_steps(case, unit))


def _steps(case: DiagnosisCase, unit: Unit) -> Iterator[str]:
    felt = folds_told(case.complaint.folds, case.pattern.sleeve, felt=True)
    yield f"First the folds. {' '.join(felt)}"
    yield f"{capital(look_words(case))} can mean {causes_words(case.alike)}."
    asked: list[str] = []
    for sign in case.way():
        before = case.left(asked)
        asked.append(sign)
        after = case.left(asked)
        yield f"{sign_words(case, sign, unit)} {_leaves(before, after)}"
    amount = format_length(float(case.task.amount), unit)
    cause = CAUSES[case.right]
    yield f"It is {cause.words}, by {amount}. What mends it: {cause.remedy}."


def _leaves(before: tuple[str, ...], after: tuple[str, ...]) -> str:
    if before == after:
        return "That leaves what was left before, and shows that it is so."
    if len(after) == 1:
        return f"That leaves one: {CAUSES[after[0]].words}."
    return f"That leaves {causes_words(after)}."
