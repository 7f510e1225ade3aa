"""Notches that were left out of a drawing, as far as its task looks at them, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.marked import Marked
from tutor.pattern.measures import words_for
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_ids import SIDES

MEASURE = "notch-mismatch-"


def missing_notches(theirs: Pattern, block: Pattern, marked: Marked) -> tuple[str, ...]:
    """Which notches of the block that a goal would measure a drawn pattern lacks, in words; nothing for none."""
    wanted = [part.measure for goal in marked.goals for part in goal.parts if part.is_missing]
    lacks: list[str] = []
    for measure in dict.fromkeys(name for name in wanted if name.startswith(MEASURE)):
        name = f"notch-{measure.removeprefix(MEASURE)}"
        notch = words_for(measure).removesuffix(" apart")
        here = set(_bearers(theirs, name))
        lacks += [f"the {notch} of the {piece} ({i})" for piece, i in _bearers(block, name) if (piece, i) not in here]
    if not lacks:
        return ()
    which = lacks[0] if len(lacks) == 1 else f"{', '.join(lacks[:-1])} and {lacks[-1]}"
    said = f"The drawing lacks {which}."
    which = "it" if len(lacks) == 1 else "each"
    how = "as a short line that starts on the seam, or trace its point, under the name in brackets"
    return said, f"Draw {which} {how}; then hand the drawing in anew."


def _bearers(pattern: Pattern, name: str) -> Iterator[tuple[str, str]]:
    """The pieces that bear a notch, in words, and the ids that it is drawn under there."""
    for mark in pattern.sleeve.marks:
        if mark.name == name:
            yield "sleeve", name
    for side in SIDES:
        piece = pattern.armhole(side)
        if piece is not None and piece.mark(name) is not None:
            yield f"{side} armhole", f"armhole-{name}"
