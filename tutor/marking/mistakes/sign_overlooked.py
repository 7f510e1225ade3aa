"""A cause named that a sign asked for rules out."""

from __future__ import annotations

from tutor.fit.signs import SIGNS
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import sign_words, small
from tutor.marking.finding import Finding
from tutor.marking.mistake import Blamed, Mistake
from tutor.units import Unit

NEXT = "Look again at what each of the signs you asked for shows, and which cause would show it so."


def _causes(case: DiagnosisCase, finding: Finding, unit: Unit) -> Blamed | None:
    sign = case.ruled_out_by(finding.cause, finding.asked)
    if sign is None:
        return None
    would = small(case.complaint.shows(sign, finding.cause).rstrip("."))
    doing = SIGNS[sign].words
    said = f"{sign_words(case, sign, unit)} If that were the cause, you would {doing} and find: {would}."
    return Blamed(said, NEXT)


MISTAKE = Mistake("sign-overlooked", causes=_causes, words="a cause named although a sign spoke against it")
