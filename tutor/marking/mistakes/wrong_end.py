"""Measured from the other end of the seam."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, Share
from tutor.marking.mistake import Mistake, Placed
from tutor.marking.place import PlaceCase
from tutor.units import Unit

NEXT = "Begin at the end of the seam that is named."


def _places(case: PlaceCase, unit: Unit) -> Iterator[Placed]:
    place = case.place
    if isinstance(place, Along):
        other: Along | Share = replace(place, from_end=not place.from_end)
    elif isinstance(place, Share):
        other = replace(place, share=1 - place.share)
    else:
        return
    along = case.along(other)
    if along is not None:
        yield Placed(along, f"That is {place_words(other, unit)}: measured from the other end.", NEXT)


MISTAKE = Mistake("wrong-end", places=_places, words="measured from the wrong end of a seam")
