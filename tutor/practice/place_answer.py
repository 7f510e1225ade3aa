"""A place shown as an answer: read from words that do not name it, and kept as a distance along a seam."""

from __future__ import annotations

import re

from tutor.alteration.edge import Edge
from tutor.alteration.place_words import SEAM_WORDS
from tutor.alteration.plan import At, Landmark, Place
from tutor.faults import Fault
from tutor.marking.place import PlaceCase
from tutor.practice.place_text import read_place
from tutor.units import Unit, format_length

WHERE = "answer"
REACH = 20.0
"""mm; a point this near the edge stands for the nearest place on it."""
DECIMALS = 3
_ORIGIN = re.compile(r".*\bfrom\s+(?P<origin>.+?)(?:\s+(?:along|on)\s+.+)?", re.IGNORECASE)


def kept_place(edge: Edge, along: float) -> str:
    """A place in words that are read back the same in any unit: "62.4 mm along cap-back"."""
    seam, distance = edge.on_seam(along)
    return f"{distance:.{DECIMALS}f} mm along {edge.outline.names[seam]}"


def told_place(edge: Edge, along: float, unit: Unit) -> str:
    """A place as it is written on a sheet, in the learner's unit: "6.2 cm along cap-back"."""
    seam, distance = edge.on_seam(along)
    return f"{format_length(distance, unit)} along {edge.outline.names[seam]}"


def read_answer(text: str, case: PlaceCase, unit: Unit) -> float:
    """How far along the edge, mm, the place lies that the words mean. Raises Fault for words that mean none.

    The landmark that is asked for is not to be named, as that would show nothing.
    """
    words = " ".join(text.split())
    if not words:
        raise Fault(WHERE, "names no place", _example(case, unit))
    try:
        place = read_place(words, case.outline, unit)
    except Fault as fault:
        # What is known by name on this paper is not to be listed here.
        right = _example(case, unit) if "no place" in fault.what else fault.right
        raise Fault(WHERE, fault.what, right) from None
    if place == case.place and isinstance(place, Landmark):
        raise _named(case, unit)
    origin = _ORIGIN.fullmatch(words)
    if origin is not None and _is_asked_for(origin["origin"], case):
        raise _named(case, unit)
    found = _nearest(place, case) if isinstance(place, At) else case.along(place)
    if found is None:
        raise Fault(WHERE, f'"{words[:40]}" is not on the edge of the pattern', _example(case, unit))
    return found


def _is_asked_for(words: str, case: PlaceCase) -> bool:
    try:
        place = read_place(words, case.outline, Unit.MM)
    except Fault:
        return False
    return isinstance(case.place, Landmark) and place == case.place


def _nearest(place: Place, case: PlaceCase) -> float | None:
    assert isinstance(place, At)
    spot, off = case.outline.nearest(place.point)
    return case.edge.along(spot) if off <= REACH else None


def _named(case: PlaceCase, unit: Unit) -> Fault:
    return Fault(WHERE, "that names the place, and does not show it", _example(case, unit))


def _example(case: PlaceCase, unit: Unit) -> str:
    return f'write such as "{format_length(60, unit)} along {case.outline.names[0]}", or "point -3 cm, 5 cm"'


def edge_lines(case: PlaceCase, unit: Unit) -> tuple[str, ...]:
    """The edge in figures, for whoever can't see it: seams with their ends, marks on them, and the lines across.

    Nothing on it is called by its name but the seams.
    """
    outline, edge = case.outline, case.edge
    lines = []
    for name, curve in zip(outline.names, outline.curves, strict=True):
        long = format_length(curve.length(), unit)
        ends = f"from {_at(curve.start, unit)} to {_at(curve.end, unit)}"
        lines.append(f"{name} ({SEAM_WORDS.get(name, name)}), {long} long, {ends}")
    spots = [(mark, outline.on_seam(outline.names.index(mark.seam), mark.u)) for mark in outline.marks]
    for mark, spot in sorted(spots, key=lambda each: edge.along(each[1])):
        far = format_length(outline.curves[spot.seam].distance_at(spot.u), unit)
        what = "a notch" if mark.name.startswith("notch-") else "where a line across ends"
        lines.append(f"{what}: {far} along {mark.seam}, at {_at(spot.point, unit)}")
    return tuple(lines)


def _at(point: complex, unit: Unit) -> str:
    return f"({format_length(point.real, unit)}, {format_length(point.imag, unit)})"
