"""What was measured before the alteration, given for what it is after it."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.marking.nearness import as_shown
from tutor.pattern.measures import words_for
from tutor.units import Unit

GAINS = ("bust-gain", "gap", "overlap")
"""What comes of an alteration alone, and was nothing before it."""
NEXT = "The tape tells of the pattern as it was: start from there, and add what the alteration has changed."
NEXT_CHANGE = "Say the difference alone, between then and now."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For an altered pattern that is measured once more: its old figure still stands on the tape."""
    old = case.before.get(case.of)
    if old is None or case.of in GAINS or case.plan is None or not case.task.goes_on_from:
        return
    if case.is_change and not as_shown(case.of, old, unit):
        return
    then = NEXT_CHANGE if case.is_change else NEXT
    words = words_for(case.of)
    yield Figured(old, lambda show: f"{show(old)} is the {words} as it was before the alteration.", then)


MISTAKE = Mistake("old-for-new", _figures, words="what it was before the alteration, given for what it is after")
