"""Where an altered pattern differs from a wanted one: by how much each stretch of seam is out, told in words."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tutor.geometry.curve import Curve
from tutor.pattern.measures import curve_lengths
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Mark
from tutor.units import Unit, format_inches

LEAST = 2.0
"""mm; smaller differences are not told."""
TOLD = 5
SIDES = ("back", "front")

Stretch = tuple[str, str, str]
"""A seam, and the two places of it between which a stretch lies, in words."""


@dataclass(frozen=True, slots=True)
class Difference:
    """How much longer (+) or shorter a stretch is than it should be, mm."""

    seam: str
    start: str
    end: str
    off: float

    def words(self, unit: Unit) -> str:
        size = format_inches(abs(self.off)) if unit is Unit.INCH else f"{abs(self.off):.0f} mm"
        return f"{self.seam} {size} {'long' if self.off > 0 else 'short'} between {self.start} and {self.end}"


def differences(theirs: Pattern, wanted: Pattern, unit: Unit) -> tuple[str, ...]:
    """Where the seams of a pattern differ from those wanted, the largest difference first, five at the most."""
    return tuple(each.words(unit) for each in found_differences(theirs, wanted)[:TOLD])


def found_differences(theirs: Pattern, wanted: Pattern) -> list[Difference]:
    """All stretches that differ by 2 mm or more, the largest difference first.

    Stretches lie between places that both patterns have: a notch that one of them lacks parts nothing.
    """
    here, there = _places(theirs), _places(wanted)
    shared = {seam: [place for place in there[seam] if place in here[seam]] for seam in there if seam in here}
    own, other = (_lengths(pattern, places, shared) for pattern, places in ((theirs, here), (wanted, there)))
    off = [Difference(*stretch, own[stretch] - other[stretch]) for stretch in other if stretch in own]
    return sorted((each for each in off if abs(each.off) >= LEAST), key=lambda each: -abs(each.off))


Places = Mapping[str, Mapping[str, float]]
"""For each seam, in words, the places on it in words, with their u, in the order of the seam."""


def _places(pattern: Pattern) -> Places:
    return {name: places for name, _, places in _seams(pattern)}


def _seams(pattern: Pattern) -> Iterator[tuple[str, Curve, Mapping[str, float]]]:
    """Every seam that differences are told of: its words, its curve, and the places on it."""
    sleeve = pattern.sleeve
    ends = {
        "cap-back": ("back cap seam", "underarm point", "crown"),
        "cap-front": ("front cap seam", "crown", "underarm point"),
        "underarm-back": ("back underarm seam", "hem", "underarm point"),
        "underarm-front": ("front underarm seam", "underarm point", "hem"),
        "hem": ("hem", "its front corner", "its back corner"),
    }
    for name, (words, start, end) in ends.items():
        yield words, sleeve.seam(name), _on(sleeve.seam(name), start, end, [m for m in sleeve.marks if m.seam == name])
    for side in SIDES:
        piece = pattern.armhole(side)
        if piece is not None:
            yield f"{side} armhole", piece.seam, _on(piece.seam, "underarm point", "shoulder tip", list(piece.marks))
    line = Curve.line(sleeve.underarm_point_back, sleeve.underarm_point_front)
    yield "bicep line", line, _on(line, "back underarm point", "front underarm point", [])


def _on(seam: Curve, start: str, end: str, marks: list[Mark]) -> Mapping[str, float]:
    inner = {_mark_words(mark.name): mark.u for mark in sorted(marks, key=lambda mark: mark.u)}
    return {start: 0.0, **inner, end: float(len(seam))}


def _mark_words(name: str) -> str:
    """A mark in words: "notch", "notch 2", "elbow line"."""
    if name.startswith("elbow"):
        return "elbow line"
    last = name.rpartition("-")[2]
    return f"notch {last}" if last.isdecimal() else "notch"


def _lengths(pattern: Pattern, places: Places, shared: Mapping[str, list[str]]) -> dict[Stretch, float]:
    """The length of each stretch between neighbouring shared places, where those follow each other along the seam."""
    parts: dict[Stretch, Curve] = {}
    for words, seam, _ in _seams(pattern):
        for start, end in itertools.pairwise(shared.get(words, [])):
            low, high = places[words][start], places[words][end]
            if low < high:
                parts[words, start, end] = seam.part(low, high)
    found = curve_lengths({"\n".join(stretch): curve for stretch, curve in parts.items()})
    return {stretch: found["\n".join(stretch)] for stretch in parts}
