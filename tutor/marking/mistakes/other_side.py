"""Front shown for back, or back for front."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, Landmark, Place, Share
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_slips import Slip, advice, slip, would_show
from tutor.marking.finding import Finding
from tutor.marking.mistake import Blamed, Mistake, Placed
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


def _causes(case: DiagnosisCase, finding: Finding, unit: Unit) -> Blamed | None:
    if slip(case, finding) is not Slip.OTHER_SIDE:
        return None
    return Blamed(f"That is the other half. {would_show(case, finding.cause)}", advice(case, finding))


MISTAKE = Mistake("other-side", places=_places, causes=_causes, words="front taken for back, or the reverse")
