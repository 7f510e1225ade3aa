"""Front shown for back, or back for front."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, Landmark, Place, Share
from tutor.marking.mistake import Mistake, Placed
from tutor.marking.place import PlaceCase
from tutor.marking.sides import mirrored
from tutor.units import Unit

NEXT = "The back has two notches and the front has one; right side up, the back lies to the left."


def _places(case: PlaceCase, unit: Unit) -> Iterator[Placed]:
    place = _other(case.place)
    along = None if place is None else case.along(place)
    if place is not None and along is not None:
        yield Placed(along, f"That is {place_words(place, unit)}.", NEXT)


def _other(place: Place) -> Place | None:
    """The same place on the other side; None for one in the middle."""
    match place:
        case Landmark(name) if mirrored(name) != name:
            return Landmark(mirrored(name))
        case Along(seam, distance, from_end) if mirrored(seam) != seam:
            # The seams of a sleeve run on clockwise: where one starts at the crown, its partner ends there.
            return Along(mirrored(seam), distance, not from_end)
        case Share(seam, share) if mirrored(seam) != seam:
            return Share(mirrored(seam), 1 - share)
    return None


MISTAKE = Mistake("other-side", places=_places, words="front taken for back, or the reverse")
