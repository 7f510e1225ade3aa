"""Another landmark shown than the one that was asked for."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Landmark
from tutor.marking.mistake import Mistake, Placed
from tutor.marking.place import PlaceCase
from tutor.marking.sides import mirrored
from tutor.units import Unit

NEXT = "Read again which place is asked for, and what makes it what it is."
SAME = 1e-3
"""mm; names of places nearer than this are two names of one place."""


def _places(case: PlaceCase, unit: Unit) -> Iterator[Placed]:
    """For a landmark: every other one but its partner on the other side, each place once."""
    if not isinstance(case.place, Landmark):
        return
    partner = case.along(Landmark(mirrored(case.place.name)))
    met = [case.right] if partner is None else [case.right, partner]
    for name in (*case.outline.spots, *(mark.name for mark in case.outline.marks)):
        along = case.along(Landmark(name))
        if along is not None and all(abs(case.edge.way(other, along)) > SAME for other in met):
            met.append(along)
            yield Placed(along, f"That is {place_words(Landmark(name), unit)}.", NEXT)


MISTAKE = Mistake("other-landmark", places=_places, words="another landmark than the one asked for")
