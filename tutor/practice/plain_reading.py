"""What the words of a line mean on the slash they are about: its ends, its stations, an amount."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Place, Slash
from tutor.faults import Fault
from tutor.practice.editing import End
from tutor.practice.plain_talk import Talk
from tutor.practice.stations import Station, end_words
from tutor.units import format_length, parse_length

_SHARE = re.compile(r"(\d{1,3})\s*(?:%|per cent)(?:\s+of the way)?")
_SMALL_WORDS = {"the", "at", "side", "point", "line", "corner", "on", "of"}


def ends_named(talk: Talk, slash: Slash, words: str) -> set[End]:
    """The ends of a slash that words name: start, end, both, none, or the places they are at."""
    found: set[End] = set()
    for part in filter(None, re.split(r"(?:\s*(?:,|\band\b|\bhinges?\b))+\s*(?:at\s+)?", words.strip())):
        bare = part.casefold().removeprefix("at ").removeprefix("the ").removesuffix(" ends").removesuffix(" end")
        if bare in ("none", "neither", "no"):
            continue
        if bare == "both":
            return {"start", "end"}
        found.add(_end(talk, slash, bare))
    return found


def _end(talk: Talk, slash: Slash, words: str) -> End:
    if words in ("start", "from"):
        return "start"
    if words in ("end", "to"):
        return "end"
    session = talk.session
    try:
        point = session.point(session.read_place(words))
    except Fault:
        point = None
    places: tuple[tuple[End, Place], ...] = (("start", slash.start), ("end", slash.end))
    for end, place in places:
        there = session.point(place)
        if point is not None and there is not None and abs(point - there) < 1e-3:
            return end
    hits = [end for end, place in places if _bag(words) and _bag(words) <= _bag(place_words(place, session.unit))]
    if len(hits) == 1:
        return hits[0]
    first, last = (end_words(place) for place in (slash.start, slash.end))
    raise Fault("hinge", f'"{words}" is no end of the slash', f"it has start ({first}) and end ({last})")


def amount_at_end(talk: Talk, words: str, word: str) -> tuple[str, float]:
    """The words before the amount, and the amount: what follows "by", or the longest end of the line that is one.

    The amount is in mm. Raises Fault, naming ``word``, where there is none.
    """
    unit = talk.session.unit
    before, found, after = split_at(words, " by ")
    if found or words.startswith("by "):
        text = after if found else words.removeprefix("by ")
        return (before if found else ""), parse_length(text, unit, word)
    parts = words.split()
    for k in range(len(parts)):
        try:
            return " ".join(parts[:k]), parse_length(" ".join(parts[k:]), unit, word)
        except Fault:
            continue
    example = f"{word} A at hem {format_length(30, unit)}"
    raise Fault(word, "has no amount that can be read at its end", f"write such as {example}")


def station_named(talk: Talk, slash: str, words: str, word: str) -> Station:
    """The station of a slash that words mean. Raises Fault when they mean none, or more than one."""
    stations = talk.session.stations(slash)
    if not stations:
        raise _nowhere(talk, slash, word)
    bare = words.strip().strip(",").casefold()
    if match := _SHARE.fullmatch(bare.removeprefix("at ").strip()):
        return _station_at(talk, slash, int(match[1]) / 100)
    key, wanted = bare.removeprefix("at ").removeprefix("the "), _bag(bare)
    exact = [s for s in stations if key == s.key.casefold() or (wanted and wanted == _bag(s.words))]
    hits = exact or [s for s in stations if wanted and wanted <= _bag(s.words)]
    if not bare and len(stations) == 1:
        return stations[0]
    if bare in ("half way", "halfway", "at half way", "the middle", "at the middle") and not hits:
        return _station_at(talk, slash, 0.5)
    if len(hits) == 1:
        return hits[0]
    there = listed((station.words for station in hits or stations), "or")
    what = f'"{bare}" could be more than one place on {slash}' if hits else f'"{bare}" is no place to open on {slash}'
    raise Fault(word, what if bare else f"does not say where on {slash}", f"write {there}, or such as at 40%")


def _nowhere(talk: Talk, slash: str, word: str) -> Fault:
    if talk.session.slash_line(slash) is None:
        return Fault(word, f"{slash} does not lie on this paper as it is", f"move {slash}, or take it away")
    return Fault(word, f"{slash} has no place to open: both ends hold and nothing crosses", f"cut {slash} at one end")


def _station_at(talk: Talk, slash: str, share: float) -> Station:
    line = talk.session.slash_line(slash)
    if line is None or not 0 <= share <= 1:
        raise Fault("open", "is no share of the slash", "write one between 0% and 100%")
    near = [s for s in talk.session.stations(slash) if not s.where and abs(s.share - share) < 1e-6]
    percent = f"{100 * share:.0f}%"
    point = line[0] + share * (line[1] - line[0])
    return near[0] if near else Station(slash, percent, f"{percent} of the way", share, point)


def split_at(text: str, between: str) -> tuple[str, bool, str]:
    """The text before and after the first ``between``, whatever its case, and whether it is there."""
    at = text.casefold().find(between)
    return (text[:at].strip(), True, text[at + len(between) :].strip()) if at >= 0 else (text, False, "")


def _bag(words: str) -> frozenset[str]:
    return frozenset(re.split(r"[\s,-]+", words.casefold())) - _SMALL_WORDS - {""}


def listed(words: Iterable[str], join: str = "and") -> str:
    *most, last = words
    return f"{', '.join(most)} {join} {last}" if most else last
