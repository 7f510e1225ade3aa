"""Where on the paper something happened, in words and by how much the paper parted there."""

from __future__ import annotations

from tutor.alteration.alter import Altered
from tutor.alteration.outline import lower_part, whole
from tutor.alteration.place_words import LANDMARK_WORDS
from tutor.alteration.plan import Along, Landmark, Place, Share
from tutor.alteration.refusal import Refusal

SAME = 1e-3
_WORDS = {"crown": "crown", "grain-hem": "hem", "grain-bicep": "bicep line", "grain-cap": "cap"}


def hinge_words(place: Place) -> str:
    """A place in a few words, to stand after "at"."""
    match place:
        case Landmark(name) if name in _WORDS:
            return f"the {_WORDS[name]}"
        case Landmark(name):
            return f"the {LANDMARK_WORDS.get(name, name.replace('-', ' '))}"
        case Along(seam, _, _) | Share(seam, _):
            return f"the {seam.replace('-', ' ')} seam" if seam != "hem" else "the hem"
    return "that end"


def point_of(altered: Altered, place: Place) -> complex | None:
    """Where a place was before anything moved; None when this paper has no such place."""
    outline = (lower_part if altered.plan.set_back else whole)(altered.before.sleeve)
    try:
        return outline.spot(place, "").point
    except Refusal:
        return None


def slid(altered: Altered, place: Place) -> tuple[str, float] | None:
    """Which piece has come away at the end of a slash, and how far, mm; None when nothing is cut there."""
    point = point_of(altered, place)
    if point is None:
        return None
    paper = altered.paper
    for cut in paper.cuts:
        for share in (cut.start, cut.end):
            if share in (0.0, 1.0) and abs(paper.along(cut.slash, share) - point) < SAME:
                left, right = altered.pieces[cut.left], altered.pieces[cut.right]
                away = abs(left.move(point) - right.move(point))
                piece = next((each for each in (left, right) if "cap" in each.name), left)
                return piece.name, away
    return None
