"""Where paper laps over paper, or parts, though nobody asked for it."""

from __future__ import annotations

from tutor.alteration.alter import Altered
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Opening, Slash
from tutor.alteration.refusal import Refusal
from tutor.alteration.solving import parting, place_opening
from tutor.units import Unit, format_area, format_length

NOTICED = 0.5
"""mm; edges that are nearer together lie on each other for every hand."""
NOTICED_AREA = 50.0
"""mm2."""


def lap_words(altered: Altered, unit: Unit) -> tuple[str, ...]:
    """A sentence for every cut end that moves the other way than its slash was opened, and one for paper that laps."""
    said = [words for slash in altered.plan.slashes for words in _ends(altered, slash, unit)]
    overlap, _ = altered.areas
    if not said and overlap >= NOTICED_AREA:
        said.append(f"Paper lies on paper, {format_area(overlap, unit)} in all.")
    return tuple(said)


def _ends(altered: Altered, slash: Slash, unit: Unit) -> list[str]:
    """A sentence for each end of a slash that is cut through, not asked about, and goes the other way."""
    asked = [opening for opening in altered.plan.openings if opening.slash == slash.name]
    amounts = [opening.amount for opening in asked]
    way = -1 if min(amounts, default=0) < 0 and max(amounts) <= 0 else 1
    said = []
    for share, place, hinge in ((0.0, slash.start, slash.start_hinge), (1.0, slash.end, slash.end_hinge)):
        if hinge or any(not opening.where and opening.share == share for opening in asked):
            continue
        opened = _opened(altered, Opening(slash.name, 0.0, share))
        if opened * way < -NOTICED:
            where = f"at {place_words(place, unit)}, where {slash.name} is cut through"
            does = "laps over" if opened < 0 else "parts"
            amount = format_length(abs(opened), unit)
            said.append(f"The paper {does} by {amount} {where}; a hinge there would hold it.")
    return said


def _opened(altered: Altered, opening: Opening) -> float:
    """How far a slash has opened at one of its places, mm; 0 where that can't be said."""
    try:
        place = place_opening(altered.paper, opening)
    except Refusal:
        return 0.0
    return parting([piece.move for piece in altered.pieces], place).real
