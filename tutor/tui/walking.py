"""A cap being walked round its armhole: how far, and what there is to say about it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.alteration.place_words import LANDMARK_WORDS
from tutor.pattern.cap_walk import CapWalk
from tutor.pattern.pattern import Pattern
from tutor.tui.side_lines import Told
from tutor.units import Unit, format_length

STEP = {Unit.CM: 10.0, Unit.MM: 10.0, Unit.INCH: 25.4 / 2}
"""mm rolled at a key."""
SAME = 0.1
"""mm; what is nearer than this is at one place."""


@dataclass(frozen=True)
class Walking:
    """A walk ``along`` mm from the underarm points."""

    walk: CapWalk
    along: float = 0.0

    def rolled(self, mm: float) -> Walking:
        """Rolled on, or back, as far as it goes."""
        return replace(self, along=min(max(self.along + mm, 0.0), self.walk.most))

    def to_stop(self, way: int) -> Walking:
        """Rolled to the next notch, or the one before; to the end where there is none."""
        ahead = [stop for stop in self.walk.stops if (stop - self.along) * way > 1e-6]
        return self if not ahead else replace(self, along=min(ahead) if way > 0 else max(ahead))


def walking(pattern: Pattern, side: str, along: float = 0.0) -> Walking | None:
    """The walk of one half; None where the pattern has no such armhole."""
    armhole = pattern.armhole(side)
    return None if armhole is None else Walking(CapWalk.of(pattern.sleeve, armhole)).rolled(along)


def walking_words(walking: Walking, unit: Unit) -> str:
    """Where the walk is, and what that shows."""
    walk = walking.walk
    here = format_length(walking.along, unit)
    if walking.along >= walk.most:
        rest = format_length(abs(walk.cap_length - walk.armhole_length), unit)
        longer = "cap" if walk.cap_length >= walk.armhole_length else "armhole"
        return f"The end after {here}: the {longer} has {rest} left over. That is the {walk.side} half's ease."
    at: dict[str, list[str]] = {}
    for what, notches in (("cap", walk.cap_notches), ("armhole", walk.armhole_notches)):
        for name, far in notches:
            if abs(far - walking.along) < SAME:
                at.setdefault(name, []).append(what)
    words = [f"the {LANDMARK_WORDS.get(name, name)} of the {' and the '.join(of)}" for name, of in at.items()]
    where = " and ".join(words) or "cap and armhole touch at @"
    return f"{walk.side.capitalize()}, {here} from the underarm point: {where}. → rolls on, Tab goes to the next notch."


def walking_told(walking: Walking, unit: Unit) -> tuple[Told, ...]:
    """Where the ease lies, from notch to notch; the stretch that the walk is in stands out."""
    walked = 0.0
    rows = [Told(f"the {walking.walk.side} half, from notch to notch", heading=True)]
    for stretch in walking.walk.stretches:
        start, end = (LANDMARK_WORDS.get(name, name) for name in (stretch.start, stretch.end))
        cap, hole = format_length(stretch.cap, unit), format_length(stretch.armhole, unit)
        ease = format_length(stretch.ease, unit, signed=True)
        told = f"{start} to {end}: cap {cap}, armhole {hole}, ease {ease}"
        here = walked - SAME <= walking.along < walked + stretch.cap - SAME
        rows.append(Told(told, now=here))
        walked += stretch.cap
    return tuple(rows)
