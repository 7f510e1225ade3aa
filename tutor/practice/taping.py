"""A tape measure laid between two places of the sleeve as it lies."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tutor.alteration.edge import Edge
from tutor.alteration.outline import Outline, whole
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Place
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.pattern.sleeve import Sleeve
from tutor.practice.place_text import read_place
from tutor.units import Unit, format_length

_ENDS = re.compile(r"(?:from\s+)?(?P<first>.+?)\s+to\s+(?P<last>.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Taped:
    """What a tape measure reads between two places, in mm.

    ``across`` is square to the grain and ``up`` along it, below 0 where the second place is the lower. ``along`` is
    the way along the edge, the shorter one round; None where one of the places is not on the edge.
    """

    straight: float
    across: float
    up: float
    along: float | None

    def words(self, unit: Unit) -> str:
        """All of it as a sentence: ``21.6 cm straight, 16.0 cm across, 14.6 cm down, 23.1 cm along the edge.``"""
        sinks = format_length(self.up, unit).startswith("-")
        parts = [(self.straight, "straight"), (self.across, "across"), (abs(self.up), "down" if sinks else "up")]
        if self.along is not None:
            parts.append((self.along, "along the edge"))
        return ", ".join(f"{format_length(mm, unit)} {how}" for mm, how in parts) + "."


def taped(first: complex, last: complex, way: float | None, grain: complex = 1j) -> Taped:
    """What a tape reads from point to point, where ``way`` mm lie between them along the edge.

    ``grain`` is the direction of the grain line, of any length but 0.
    """
    apart = (last - first) * 1j / (grain / abs(grain))
    return Taped(abs(apart), abs(apart.real), apart.imag, None if way is None else abs(way))


def taped_words(text: str, sleeve: Sleeve, unit: Unit) -> str:
    """What is read between two places in words, ``crown to back underarm``. Raises Fault for words that mean none."""
    match = _ENDS.fullmatch(" ".join(text.split()))
    outline = whole(sleeve)
    if match is None:
        raise Fault("measure", "needs two places", "write such as measure crown to back underarm")
    first, last = (read_place(words, outline, unit) for words in (match["first"], match["last"]))
    (start, at_start), (end, at_end) = _found(first, outline), _found(last, outline)
    edge = Edge(outline)
    way = None if at_start is None or at_end is None else edge.way(at_start, at_end)
    read = taped(start, end, way, grain_of(sleeve)).words(unit)
    return f"From {place_words(first, unit)} to {place_words(last, unit)}: {read}"


def grain_of(sleeve: Sleeve) -> complex:
    """The direction of the grain line, upwards."""
    along = sleeve.grain[0] - sleeve.grain[1]
    return along if along.imag >= 0 else -along


def _found(place: Place, outline: Outline) -> tuple[complex, float | None]:
    """A place as a point, and how far along the edge it lies if it is on it."""
    try:
        spot = outline.spot(place, "")
    except Refusal as refusal:
        raise Fault("measure", str(refusal), "places shows what there is") from None
    return spot.point, Edge(outline).along(spot) if spot.seam >= 0 else None
