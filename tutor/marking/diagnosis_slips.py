"""What a wrongly named cause has to do with the right one, where no sign asked for rules it out."""

from __future__ import annotations

from enum import Enum

from tutor.fit.causes import contrary_of, other_side_of
from tutor.fit.signs import SIGNS
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import look_words
from tutor.marking.finding import Finding


class Slip(Enum):
    """The same on the other half; too much for too little; one that shows the same folds; any other."""

    OTHER_SIDE = "other side"
    CONTRARY = "contrary"
    ALIKE = "alike"
    OTHER = "other"


def slip(case: DiagnosisCase, finding: Finding) -> Slip | None:
    """Which of these a finding is; None for the right cause, or one that a sign asked for rules out."""
    cause = finding.cause
    if cause == case.right or case.ruled_out_by(cause, finding.asked) is not None:
        return None
    if cause == other_side_of(case.right):
        return Slip.OTHER_SIDE
    if cause == contrary_of(case.right):
        return Slip.CONTRARY
    return Slip.ALIKE if cause in case.alike else Slip.OTHER


def would_show(case: DiagnosisCase, cause: str) -> str:
    """What folds a cause would show, beside those that do show."""
    here, there = look_words(case), look_words(case, cause)
    if cause in case.alike:
        return f"It would show the same: {there}."
    return f"It would show {there}; here there are {here}."


def advice(case: DiagnosisCase, finding: Finding) -> str:
    """What to do next: a sign that tells the cause named from the right one, or a look at the folds."""
    if finding.cause not in case.alike:
        return "Compare which way the folds run, on which half, and how far down."
    rest = [sign for sign in case.signs if case.complaint.tells(sign, finding.cause)]
    # One that shows something off is more easily understood than one that is as it should be.
    rest.sort(key=lambda sign: not case.complaint.is_off(sign))
    if not rest:
        return "No sign tells them apart here."
    return f"This tells them apart: {SIGNS[rest[0]].words}."
