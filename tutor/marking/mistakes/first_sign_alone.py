"""The right cause named before the signs asked for prove it."""

from __future__ import annotations

from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import causes_words
from tutor.marking.finding import Finding
from tutor.marking.mistake import Blamed, Mistake
from tutor.units import Unit

NEXT = "Ask for a sign that tells them apart, and name the cause then."
SHOW = "Ask for a sign that shows something off, and name the cause then."


def _causes(case: DiagnosisCase, finding: Finding, unit: Unit) -> Blamed | None:
    if finding.cause != case.right or case.settled(finding.asked):
        return None
    left = [cause for cause in case.left(finding.asked) if cause != finding.cause]
    if not left:
        return Blamed("That may be so, but nothing that you asked for shows anything off.", SHOW)
    seen = "what you asked for leaves" if finding.asked else "the folds alone come of"
    return Blamed(f"That may be so, but {seen} more than that: {causes_words(left)}.", NEXT)


MISTAKE = Mistake("first-sign-alone", causes=_causes, words="a cause named before a second sign proved it")
