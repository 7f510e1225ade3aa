"""Marking a diagnosis: the cause named, and whether the signs asked for prove it."""

from __future__ import annotations

from tutor.fit.causes import CAUSES
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import capital, causes_words, sign_words
from tutor.marking.finding import Finding
from tutor.marking.marked import Marked
from tutor.marking.mistake import Blamed
from tutor.marking.usual import MISTAKES
from tutor.units import Unit

UNPROVED = 0.5
"""The mark of the right cause when the signs asked for leave others, or show nothing off."""


def mark_diagnosis(case: DiagnosisCase, unit: Unit, finding: Finding) -> Marked:
    """The mark of a finding that names a cause."""
    if finding.cause == case.right and case.settled(finding.asked):
        feedback = tuple(filter(None, [f"Right: {CAUSES[case.right].words}.", case.task.why]))
        return _marked(case, 1.0, feedback, notes=diagnosis_notes(case, unit, finding))
    total = UNPROVED if finding.cause == case.right else 0.0
    found = recognise_diagnosis(case, unit, finding)
    if found is None:
        return _marked(case, total, ("That is not it.",))
    name, blamed = found
    return _marked(case, total, (blamed.said, blamed.then), mistake=name)


def recognise_diagnosis(case: DiagnosisCase, unit: Unit, finding: Finding) -> tuple[str, Blamed] | None:
    """The usual mistake that a finding shows, by its name, and what is said of it; None when it shows none."""
    for mistake in MISTAKES.values():
        if mistake.causes is not None and mistake.name not in case.task.unnamed:
            blamed = mistake.causes(case, finding, unit)
            if blamed is not None:
                return mistake.name, blamed
    return None


def diagnosis_notes(case: DiagnosisCase, unit: Unit, finding: Finding) -> tuple[str, ...]:
    """What each sign shows, what else the folds could have come of, and what mends it."""
    others = [cause for cause in case.alike if cause != case.right]
    notes = [f"The same folds can mean something else: {causes_words(others)}."] if others else []
    notes += [sign_words(case, sign, unit) for sign in case.signs]
    idle = len(case.idle(finding.asked))
    if idle:
        notes.append(f"{capital(_count(idle))} of the signs you asked for told nothing here.")
    return (*notes, f"What mends it: {CAUSES[case.right].remedy}.")


def _count(number: int) -> str:
    return {1: "one", 2: "two", 3: "three"}.get(number, str(number))


def _marked(
    case: DiagnosisCase,
    total: float,
    feedback: tuple[str, ...],
    *,
    notes: tuple[str, ...] = (),
    mistake: str | None = None,
) -> Marked:
    passed = total >= case.task.pass_mark - 1e-12
    return Marked((), total, case.task.pass_mark, passed, (), feedback, notes=notes, mistake=mistake)
