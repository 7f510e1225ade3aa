"""Places along a slash where an opening can be set, in words: its free ends, its crossings, and levels it passes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from tutor.alteration.outline import Outline
from tutor.alteration.place_words import LANDMARK_WORDS, SEAM_WORDS
from tutor.alteration.plan import At, Landmark, Opening, Place, Plan, Slash
from tutor.alteration.refusal import Refusal
from tutor.pattern.sleeve import Sleeve, level_of

_SHORT = {"grain-hem": "hem", "grain-bicep": "bicep line", "grain-cap": "cap"}
NEAR_END = 0.02
"""A level within this share of an end of the slash, or of a crossing, has no station of its own."""
SAME_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class Station:
    """A place on the slash ``slash``, at ``share`` of its way, ``point`` in mm before anything has moved.

    ``where`` names the slash crossing there, ``toward`` ("start", "end") the side of the crossing. ``key`` tells the
    stations of a slash apart and stays the same while the slash does: "start", "end", "middle", "bicep-line",
    "elbow-line", "40%", or "grain:end". ``amount`` is the opening asked there now, mm; None when there is none.
    """

    slash: str
    key: str
    words: str
    share: float
    point: complex
    where: str = ""
    toward: str = ""
    amount: float | None = None

    def opening(self, amount: float) -> Opening:
        """The opening of ``amount`` mm at this station."""
        if self.where:
            return Opening(self.slash, amount, where=self.where, toward=self.toward)
        return Opening(self.slash, amount, share=self.share)

    def is_at(self, opening: Opening) -> bool:
        """Whether an opening of a plan is the one of this station."""
        if opening.slash != self.slash or opening.where != self.where:
            return False
        return opening.toward == self.toward if self.where else abs(opening.share - self.share) < SAME_SHARE


def stations(sleeve: Sleeve, outline: Outline, plan: Plan, name: str) -> tuple[Station, ...]:
    """The stations of a slash from its start to its end; none while its ends can't be found on the paper."""
    # Where they are does not go by the amounts, which change with every key.
    shut = tuple(replace(opening, amount=0.0) for opening in plan.openings)
    found = _found(sleeve, outline, Plan(plan.slashes, shut), name)
    return tuple(_with_amount(station, plan) for station in found)


@lru_cache(maxsize=64)
def _found(sleeve: Sleeve, outline: Outline, plan: Plan, name: str) -> tuple[Station, ...]:
    """The stations of a slash without their amounts."""
    slash = plan.slash(name)
    line = slash_line(outline, plan, name)
    if slash is None or line is None:
        return ()
    found = [*_ends(slash, line, plan), *_crossings(outline, plan, slash, line)]
    crossed = [station.share for station in found]
    found += [level for level in _levels(sleeve, slash, line) if _apart(level.share, crossed) > NEAR_END]
    if not any(NEAR_END < station.share < 1 - NEAR_END for station in found):
        found.append(_at(slash, line, 0.5, "middle", "half way"))
    found += _others(slash, line, plan, found)
    return tuple(sorted(found, key=lambda station: (station.share, station.toward != "start")))


def slash_line(outline: Outline, plan: Plan, name: str) -> tuple[complex, complex] | None:
    """Both ends of a slash as points, before anything has moved; None when they can't be found on the paper."""
    return _line(outline, plan, name, frozenset())


def _line(outline: Outline, plan: Plan, name: str, waiting: frozenset[str]) -> tuple[complex, complex] | None:
    slash = plan.slash(name)
    if slash is None or name in waiting:
        return None
    ends: list[complex] = []
    for place in (slash.start, slash.end):
        try:
            spot = outline.spot(place, name)
        except Refusal:
            return None
        if spot.slash:
            other = _line(outline, plan, spot.slash, waiting | {name})
            if other is None:
                return None
            ends.append(other[0] + spot.share * (other[1] - other[0]))
        else:
            ends.append(spot.point)
    return (ends[0], ends[1]) if abs(ends[1] - ends[0]) > 1e-6 else None


def end_words(place: Place) -> str:
    """An end of a slash in as few words as tell it: "crown", "back underarm point", "cap seam"."""
    match place:
        case Landmark(name):
            return _SHORT.get(name, LANDMARK_WORDS.get(name, name))
        case At():
            return "its end"
        case _:
            name = getattr(place, "seam", getattr(place, "slash", ""))
            return SEAM_WORDS.get(name, name)


def _side_words(slash: Slash) -> tuple[str, str]:
    """What the start and end of a slash are called as sides of a crossing."""
    words = (end_words(slash.start), end_words(slash.end))
    if words[0] == words[1]:
        return "start", "end"
    short = tuple(word.removesuffix(" point").removesuffix(" corner").removesuffix(" at the grain") for word in words)
    return short[0], short[1]


def _at(slash: Slash, line: tuple[complex, complex], share: float, key: str, words: str) -> Station:
    return Station(slash.name, key, words, share, line[0] + share * (line[1] - line[0]))


def _ends(slash: Slash, line: tuple[complex, complex], plan: Plan) -> list[Station]:
    """The ends that are cut through; one that is hinged only if an opening is asked there all the same."""
    found = []
    start = (0.0, "start", slash.start, slash.start_hinge)
    end = (1.0, "end", slash.end, slash.end_hinge)
    for share, key, place, hinge in (start, end):
        words = f"at the {end_words(place)}".replace("at the its", "at its")
        station = _at(slash, line, share, key, words)
        if not hinge or any(station.is_at(opening) for opening in plan.openings):
            found.append(station)
    return found


def _crossings(outline: Outline, plan: Plan, slash: Slash, line: tuple[complex, complex]) -> list[Station]:
    found: list[Station] = []
    met: list[float] = []
    sides = _side_words(slash)
    for other in plan.slashes:
        across = slash_line(outline, plan, other.name) if other.name != slash.name else None
        share = _meeting(line, across) if across is not None else None
        # Where a slash ends on another, its end is the station; where three meet, the first crossing is.
        if share is None or not SAME_SHARE < share < 1 - SAME_SHARE or _apart(share, met) < SAME_SHARE:
            continue
        met.append(share)
        point = line[0] + share * (line[1] - line[0])
        for toward, side in zip(("start", "end"), sides, strict=True):
            words = f"at {other.name}, {side} side"
            found.append(Station(slash.name, f"{other.name}:{toward}", words, share, point, other.name, toward))
    return found


def _meeting(line: tuple[complex, complex], other: tuple[complex, complex]) -> float | None:
    """The share of ``line`` at which another stretch meets it, ends included; None when it doesn't."""
    (a, b), (c, d) = line, other
    cross = ((b - a).conjugate() * (d - c)).imag
    if abs(cross) < 1e-9 * abs(b - a) * abs(d - c):
        return None
    share = ((c - a).conjugate() * (d - c)).imag / cross
    along = ((c - a).conjugate() * (b - a)).imag / cross
    slack = 1e-6
    return min(max(share, 0.0), 1.0) if -slack <= share <= 1 + slack and -slack <= along <= 1 + slack else None


def _levels(sleeve: Sleeve, slash: Slash, line: tuple[complex, complex]) -> list[Station]:
    """Where the slash passes the bicep line and the elbow line."""
    found = []
    for key, words, level in (
        ("bicep-line", "at the bicep line", 0.0),
        ("elbow-line", "at the elbow line", level_of(sleeve, "elbow")),
    ):
        rise = (line[1] - line[0]).imag
        if level is None or abs(rise) < 1e-6:
            continue
        share = (level - line[0].imag) / rise
        if NEAR_END < share < 1 - NEAR_END:
            found.append(_at(slash, line, share, key, words))
    return found


def _others(slash: Slash, line: tuple[complex, complex], plan: Plan, known: Sequence[Station]) -> list[Station]:
    """Openings of the plan at shares of their own, and at crossings that are no more."""
    found = []
    for opening in plan.openings:
        if opening.slash != slash.name or any(station.is_at(opening) for station in known):
            continue
        crossing = next((station for station in known if station.where == opening.where), None)
        if crossing is not None and opening.where:
            found.append(replace(crossing, key=opening.where, words=f"at {opening.where}", toward=opening.toward))
        elif opening.where:
            key, words = f"{opening.where}:{opening.toward}", f"at {opening.where}, which does not cross it"
            found.append(Station(slash.name, key, words, 1.0, line[1], opening.where, opening.toward))
        else:
            percent = f"{100 * opening.share:.0f}%"
            found.append(_at(slash, line, opening.share, percent, f"{percent} of the way"))
    return found


def _with_amount(station: Station, plan: Plan) -> Station:
    amount = next((opening.amount for opening in plan.openings if station.is_at(opening)), None)
    return replace(station, amount=amount)


def _apart(share: float, others: Sequence[float]) -> float:
    return min((abs(share - other) for other in others), default=1.0)
