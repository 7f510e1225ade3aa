"""A cause named that shows the same folds, and that nothing asked for tells from the right one."""

from __future__ import annotations

from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_slips import Slip, advice, slip, would_show
from tutor.marking.finding import Finding
from tutor.marking.mistake import Blamed, Mistake
from tutor.units import Unit


def _causes(case: DiagnosisCase, finding: Finding, unit: Unit) -> Blamed | None:
    if slip(case, finding) is not Slip.ALIKE:
        return None
    return Blamed(f"It is not that. {would_show(case, finding.cause)}", advice(case, finding))


MISTAKE = Mistake("look-alike", causes=_causes, words="a cause named that shows the same folds")
