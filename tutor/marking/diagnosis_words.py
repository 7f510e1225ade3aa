"""What is said of folds, signs and causes: in the learner's unit, and for somebody who doesn't see the picture."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.fit.causes import CAUSES
from tutor.fit.look import folds_told
from tutor.fit.misfit import Misfit
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
    return _figure(case.complaint.misfit, sign, unit)


def sign_words(case: DiagnosisCase, sign: str, unit: Unit) -> str:
    """What is done, and what shows: "Pinch the cloth: there is less to pinch than planned (-1.8 cm)."."""
    return shown_by(case.complaint.misfit, sign, unit)


def shown_by(misfit: Misfit, sign: str, unit: Unit) -> str:
    """The same of any misfit."""
    known = SIGNS[sign]
    figure = f" ({_figure(misfit, sign, unit)})" if known.way(misfit) else ""
    return f"{capital(known.words)}: {small(known.shows(misfit).rstrip('.'))}{figure}."


def _figure(misfit: Misfit, sign: str, unit: Unit) -> str:
    known = SIGNS[sign]
    return shown(LENGTH, known.read(misfit), unit, signed=known.way(misfit) != 0)


def causes_words(causes: Iterable[str]) -> str:
    """Causes listed: "too little room at the upper arm; or a cap too high for the shoulder"."""
    *most, last = [CAUSES[cause].words for cause in causes]
    return f"{'; '.join(most)}; or {last}" if most else last


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    return text[:1].lower() + text[1:]
