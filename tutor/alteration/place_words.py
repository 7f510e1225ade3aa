"""Places of a pattern in words: its landmarks and seams by name, and what stands after "at" or "from"."""

from __future__ import annotations

from tutor.alteration.plan import Along, At, Landmark, OnSlash, Place, Share
from tutor.alteration.plan_places import SEAM_ENDS
from tutor.units import Unit, format_length

LANDMARK_WORDS = {
    "crown": "crown",
    "underarm-back": "back underarm point",
    "underarm-front": "front underarm point",
    "hem-back": "back hem corner",
    "hem-front": "front hem corner",
    "grain-hem": "hem at the grain",
    "grain-cap": "cap at the grain",
    "grain-bicep": "bicep line at the grain",
    "notch-front": "front notch",
    "notch-back-1": "lower back notch",
    "notch-back-2": "upper back notch",
    "elbow-back": "back elbow point",
    "elbow-front": "front elbow point",
}
"""Landmarks in words; other names are shown as they are."""

SEAM_WORDS = {
    "cap-back": "back cap seam",
    "cap-front": "front cap seam",
    "underarm-back": "back underarm seam",
    "underarm-front": "front underarm seam",
    "hem": "hem",
    "bicep-line": "bicep line",
}


def place_words(place: Place, unit: Unit) -> str:
    """A place in words, to stand after "at" or "from"."""
    match place:
        case Landmark(name):
            return "the " + LANDMARK_WORDS.get(name, name)
        case Along(seam, distance, from_end):
            end = "the " + LANDMARK_WORDS[SEAM_ENDS[seam][from_end]]
            return f"{format_length(distance, unit)} from {end} along the {SEAM_WORDS.get(seam, seam)}"
        case Share(seam, share):
            return f"{100 * share:.0f}% along the {SEAM_WORDS.get(seam, seam)}"
        case OnSlash(slash, share):
            return f"{100 * share:.0f}% along {slash}"
        case At(point):
            side = "in front of" if point.real >= 0 else "behind"
            level = "above" if point.imag >= 0 else "below"
            across, up = format_length(abs(point.real), unit), format_length(abs(point.imag), unit)
            return f"the point {across} {side} the grain, {up} {level} the bicep line"
