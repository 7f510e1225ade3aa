"""Too much taken for too little, or too little for too much."""

from __future__ import annotations

from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_slips import Slip, advice, slip, would_show
from tutor.marking.finding import Finding
from tutor.marking.mistake import Blamed, Mistake
from tutor.units import Unit


def _causes(case: DiagnosisCase, finding: Finding, unit: Unit) -> Blamed | None:
    if slip(case, finding) is not Slip.CONTRARY:
        return None
    said = f"Too much and too little change places there. {would_show(case, finding.cause)}"
    return Blamed(said, advice(case, finding))


MISTAKE = Mistake("contrary-cause", causes=_causes, words="too much taken for too little, or the reverse")
