"""Signs as a learner meets them: what can be done to a worn sleeve, and of what was done, what showed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tutor.fit.signs import SIGNS
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import capital, figure_words
from tutor.units import Unit


@dataclass(frozen=True, slots=True)
class SignRow:
    """A sign: its number from 1, its name, what is done to see it, and, once it was asked for, what shows.

    ``shows`` and ``figure`` are None before that; the figure is "0.0 cm" where nothing is off.
    """

    number: int
    name: str
    words: str
    shows: str | None = None
    figure: str | None = None

    @property
    def asked(self) -> bool:
        return self.shows is not None


def sign_rows(case: DiagnosisCase, asked: Sequence[str], unit: Unit) -> tuple[SignRow, ...]:
    """All signs of a task in their order, those asked for with what they show."""
    return tuple(_row(case, number, sign, asked, unit) for number, sign in enumerate(case.signs, 1))


def _row(case: DiagnosisCase, number: int, sign: str, asked: Sequence[str], unit: Unit) -> SignRow:
    words = capital(SIGNS[sign].words)
    if sign not in asked:
        return SignRow(number, sign, words)
    return SignRow(number, sign, words, case.complaint.shows(sign), figure_words(case, sign, unit))
