"""What is said of folds, signs and causes: in the learner's unit, and for somebody who doesn't see the picture."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.fit.causes import CAUSES
from tutor.fit.look import folds_told
from tutor.fit.signs import SIGNS
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.figures import shown
from tutor.units import Unit

LENGTH = "bicep-girth"
"""A measure in whose way the figures of signs are shown."""


def folds_lines(case: DiagnosisCase) -> tuple[str, ...]:
    """The folds in sentences, as they are to be seen."""
    return folds_told(case.complaint.folds, case.pattern.sleeve)


def look_words(case: DiagnosisCase, cause: str | None = None) -> str:
    """What the folds look like, or would look like if this were the cause: "crosswise folds on both halves"."""
    look = case.complaint.look if cause is None else case.complaint.look_of(cause)
    return "no folds" if look is None else look.words


def figure_words(case: DiagnosisCase, sign: str, unit: Unit) -> str:
    """The figure that a sign shows: "-1.8 cm"; "0.0 cm" where nothing is off."""
    return shown(LENGTH, case.figure(sign), unit, signed=case.complaint.is_off(sign))


def sign_words(case: DiagnosisCase, sign: str, unit: Unit) -> str:
    """What is done, and what shows: "Pinch the cloth: there is less to pinch than planned (-1.8 cm)."."""
    words, shows = SIGNS[sign].words, case.complaint.shows(sign)
    figure = f" ({figure_words(case, sign, unit)})" if case.complaint.is_off(sign) else ""
    return f"{capital(words)}: {small(shows.rstrip('.'))}{figure}."


def causes_words(causes: Iterable[str]) -> str:
    """Causes listed: "too little room at the upper arm; or a cap too high for the shoulder"."""
    *most, last = [CAUSES[cause].words for cause in causes]
    return f"{'; '.join(most)}; or {last}" if most else last


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    return text[:1].lower() + text[1:]
