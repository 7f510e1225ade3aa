"""Places on a pattern in words, as people type them.

| words | place |
|---|---|
| ``crown``, ``back underarm``, ``front notch``, ``hem`` | a landmark; word order and hyphens don't matter |
| ``6 cm along cap-back``, ``6 cm along cap-back from crown`` | so far along a seam, from its start or from that end |
| ``half way along hem``, ``40% along cap-front``, ``1/3 along hem`` | a share of a seam |
| ``half way along grain`` | a share of a slash of that name, from its start |
| ``point 3 cm, -12 cm`` | across (+ to the front) and up from where grain and bicep line cross |
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction

from tutor.alteration.outline import Outline
from tutor.alteration.place_words import LANDMARK_WORDS, SEAM_WORDS
from tutor.alteration.plan import Along, At, Landmark, OnSlash, Place, Share
from tutor.alteration.plan_places import SEAM_ENDS
from tutor.faults import Fault
from tutor.units import Unit, format_length, parse_length

_OTHER_NAMES = {
    "hem": "grain-hem",
    "grain": "grain-hem",
    "top": "crown",
    "shoulder notch": "crown",
    "back notch": "notch-back-1",
    "lower back notch": "notch-back-1",
    "upper back notch": "notch-back-2",
    "bicep line": "grain-bicep",
}
_FILLERS = {"the", "point", "corner", "at", "line", "seam"}

_ALONG = re.compile(r"(?P<far>.+?)\s+(?:along|on)\s+(?:the\s+)?(?P<seam>.+?)(?:\s+from\s+(?P<origin>.+))?")
_FROM_ALONG = re.compile(r"(?P<far>.+?)\s+from\s+(?P<origin>.+?)\s+(?:along|on)\s+(?:the\s+)?(?P<seam>.+)")
_OF = re.compile(r"(?P<far>.+?)\s+of\s+(?:the\s+)?(?P<seam>.+?)(?:\s+from\s+(?P<origin>.+))?")
_POINT = re.compile(r"point\s+(?P<x>.+?)\s*(?:;|,\s|\sand\s|\s,)\s*(?P<y>.+)")
_SHARES = {"half way": 0.5, "halfway": 0.5, "half": 0.5, "midway": 0.5, "middle": 0.5}


def read_place(text: str, outline: Outline, unit: Unit, slashes: Sequence[str] = ()) -> Place:
    """The place that the words mean on this outline; bare numbers count in ``unit``, ``slashes`` can be ended on.

    Raises Fault for words that name no place.
    """
    words = " ".join(text.split()).casefold()
    if match := _POINT.fullmatch(words):
        return At(complex(parse_length(match["x"], unit, "place"), parse_length(match["y"], unit, "place")))
    name = _landmark(words, outline)
    if name is not None:
        return Landmark(name)
    match = _FROM_ALONG.fullmatch(words) or _ALONG.fullmatch(words) or _OF.fullmatch(words)
    if match is None:
        raise Fault("place", f'"{text.strip()}" is no place on this paper', f"there are {_known(outline)}")
    return _along(match["far"], match["seam"], match["origin"], outline, unit, slashes)


def landmark_names(outline: Outline) -> tuple[str, ...]:
    """The landmarks of an outline that a slash can start or end at, each place once."""
    named = [*outline.spots, *(mark.name for mark in outline.marks)]
    if "grain-cap" in named and "crown" in named:
        grain, crown = outline.spots["grain-cap"], outline.spots["crown"]
        if abs(grain.point - crown.point) < 1e-6:
            named.remove("grain-cap")
    return tuple(named)


def _landmark(words: str, outline: Outline) -> str | None:
    """The landmark that the words name, if they name one and no other."""
    known = [*outline.spots, *(mark.name for mark in outline.marks)]
    bare = words.removeprefix("the ")
    for name in (bare, bare.replace(" ", "-"), _OTHER_NAMES.get(bare.replace("-", " "), "")):
        if name in known:
            return name
    wanted = _bag(words)
    hits = [name for name in known if wanted and wanted in (_bag(name), _bag(LANDMARK_WORDS.get(name, name)))]
    return hits[0] if len(hits) == 1 else None


def _bag(words: str) -> frozenset[str]:
    return frozenset(words.replace("-", " ").split()) - _FILLERS


def _seam(words: str, outline: Outline) -> str | None:
    bare = words.removeprefix("the ")
    if bare.replace(" ", "-") in outline.names:
        return bare.replace(" ", "-")
    hits = [name for name in outline.names if _bag(words) in (_bag(name), _bag(SEAM_WORDS.get(name, name)))]
    return hits[0] if len(hits) == 1 else None


def _along(far: str, along: str, origin: str | None, outline: Outline, unit: Unit, slashes: Sequence[str]) -> Place:
    share = _share(far)
    slash = next((name for name in slashes if name.casefold() == along), None)
    seam = _seam(along, outline)
    if slash is not None and seam is None:
        if share is None:
            what = f'"{far}" along {slash} is no share'
            raise Fault("place", what, f'write such as "half way along {slash}" or "40% along {slash}"')
        return OnSlash(slash, share)
    if seam is None:
        seams = ", ".join(outline.names)
        raise Fault("place", f'"{along}" is no seam of this paper', f"there are {seams}")
    from_end = origin is not None and _from_end(origin, seam)
    if share is not None:
        return Share(seam, 1 - share if from_end else share)
    distance = parse_length(far, unit, "place")
    length = outline.curves[outline.names.index(seam)].length()
    if not 0 <= distance <= length:
        most = f"it is {format_length(length, unit)} long"
        raise Fault("place", f"{format_length(distance, unit)} is not on the {SEAM_WORDS.get(seam, seam)}", most)
    return Along(seam, distance, from_end)


def _share(words: str) -> float | None:
    """A share of the way, 0 to 1, from "half way", "40%" or "1/3"; None when it is none of these."""
    if words in _SHARES:
        return _SHARES[words]
    if match := re.fullmatch(r"(\d{1,3}(?:[.,]\d{1,6})?)\s*(?:%|per cent|percent)(?:\s+of the way)?", words):
        share = float(match[1].replace(",", ".")) / 100
        return _believed(share, words)
    if match := re.fullmatch(r"(\d{1,3})/(\d{1,3})(?:\s+of the way)?", words):
        under = int(match[2])
        return _believed(float(Fraction(int(match[1]), under)) if under else math.inf, words)
    return None


def _believed(share: float, words: str) -> float:
    if not 0 <= share <= 1:
        raise Fault("place", f'"{words}" is no share of the way', "write one between 0% and 100%")
    return share


def _from_end(origin: str, seam: str) -> bool:
    ends = SEAM_ENDS[seam]
    bare = origin.removeprefix("the ")
    if bare in ("start", "its start", "end", "its end"):
        return bare.endswith("end")
    wanted = _bag(origin)
    for from_end, name in ((False, ends[0]), (True, ends[1])):
        if bare == name or wanted in (_bag(name), _bag(LANDMARK_WORDS[name])):
            return from_end
    # "the hem" and "the underarm" are one end each of most seams.
    hits = [from_end for from_end, name in ((False, ends[0]), (True, ends[1])) if wanted and wanted < _bag(name)]
    if len(hits) == 1:
        return hits[0]
    raise Fault("place", f'"{origin}" is no end of the {SEAM_WORDS.get(seam, seam)}', f"it has {ends[0]} and {ends[1]}")


def _known(outline: Outline) -> str:
    return ", ".join(landmark_names(outline)) + ', or such as "6 cm along cap-back from crown"'
