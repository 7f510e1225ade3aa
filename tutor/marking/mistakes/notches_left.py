"""The notches left at the points where they were, while the seam moved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.marking.case import Case, NumberCase
from tutor.marking.left_behind import old_notches
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.units import Unit

NEXT = "Measure each notch from the underarm point again, along the new seam, on both pieces."


def _notches(case: Case) -> Mapping[str, float]:
    altered = None if case.plan is None else case.altered(case.plan)
    return {} if altered is None else old_notches(altered)


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if not case.of.startswith("notch-mismatch"):
        return
    value = case.kept("notches", lambda: _notches(case)).get(case.of)
    if value is not None:
        value -= case.before.get(case.of, 0.0) if case.is_change else 0.0
        yield _figured(value)


def _figured(value: float) -> Figured:
    return Figured(value, lambda show: f"{show(value)} is with the notches left at their old places.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    """By its result alone: notches go with the seam when a plan is carried out here."""
    if not isinstance(case, NumberCase):
        yield Wrong(_reply, measures=lambda: _left(case), likely=_likely)


def _left(case: Case) -> Mapping[str, float] | None:
    after = None if case.plan is None else case.measures(case.plan)
    notches = case.kept("notches", lambda: _notches(case))
    return {**after, **notches} if after is not None and notches else None


def _likely(answer: PlanAnswer) -> bool:
    return _astray(answer) > 1


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    astray = answer.length(_astray(answer))
    return f"The seams fit, but a notch lies {astray} from where it belongs: the notches are at their old places.", NEXT


def _astray(answer: PlanAnswer) -> float:
    """How far the worst notch is from where the right plan has it, mm along the seam."""
    names = [name for name in answer.after if name.startswith("notch-mismatch")]
    return max((abs(answer.change(name) - answer.case.gain(name)) for name in names), default=0.0)


MISTAKE = Mistake("notches-left", _figures, _plans, words="the notches left at their old places")
