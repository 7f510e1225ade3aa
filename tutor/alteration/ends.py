"""Where slashes end: on the edge of the paper, or on one another, in whatever order they are given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from tutor.alteration.outline import SNAP, Outline, Spot
from tutor.alteration.plan import Slash
from tutor.alteration.refusal import STOPS_INSIDE, Refusal

End: TypeAlias = tuple[str, int]
"""A slash's name, and 0 for its start or 1 for its end."""
Line: TypeAlias = tuple[complex, complex]


def find_ends(outline: Outline, slashes: Sequence[Slash]) -> list[tuple[Spot, Spot]]:
    """Both ends of every slash. Raises Refusal for ends on no edge, and that lean on each other alone.

    Ends on the edge are known at once, an end on another slash as soon as both ends of that slash are. Of ends that
    are left over, waiting for each other, one is taken as it was given: so two slashes make a corner inside the paper.
    """
    spots = {(s.name, k): outline.spot(place, s.name) for s in slashes for k, place in enumerate((s.start, s.end))}
    waiting = {end for end, spot in spots.items() if spot.seam < 0}
    while waiting:
        lines = {s.name: (spots[s.name, 0].point, spots[s.name, 1].point) for s in slashes}
        known = {name: line for name, line in lines.items() if not {(name, 0), (name, 1)} & waiting}
        found = _landed(spots, waiting, known) or _cornered(spots, waiting, lines)
        if not found:
            raise _hanging(outline, spots, waiting)
        spots |= found
        waiting -= found.keys()
    return [(spots[s.name, 0], spots[s.name, 1]) for s in slashes]


def _landed(spots: Mapping[End, Spot], waiting: Iterable[End], known: Mapping[str, Line]) -> dict[End, Spot]:
    """The waiting ends that lie on slashes already known."""
    found = {}
    for end in waiting:
        spot = spots[end]
        if spot.slash:
            line = known.get(spot.slash)
            landed = line and replace(spot, point=line[0] + spot.share * (line[1] - line[0]))
        else:
            landed = _nearest(spot.point, known)
        if landed:
            found[end] = landed
    return found


def _cornered(spots: Mapping[End, Spot], waiting: Iterable[End], lines: Mapping[str, Line]) -> dict[End, Spot]:
    """The first by name of the waiting ends that lies on another slash as that was given, if there is one."""
    for end in sorted(waiting):
        others = {
            name: line for name, line in lines.items() if name != end[0] and line[0] == line[0] and line[1] == line[1]
        }
        landed = None if spots[end].slash else _nearest(spots[end].point, others)
        if landed:
            return {end: landed}
    return {}


def _nearest(point: complex, lines: Mapping[str, Line]) -> Spot | None:
    """The spot on the nearest slash within 0.5 mm; an end of it, if that is so near too."""
    best: tuple[float, str, Spot] | None = None
    for name, (a, b) in lines.items():
        if abs(b - a) <= SNAP:
            continue
        share = min(max(((point - a) / (b - a)).real, 0.0), 1.0)
        share = 0.0 if share * abs(b - a) <= SNAP else 1.0 if (1 - share) * abs(b - a) <= SNAP else share
        foot = a if share == 0 else b if share == 1 else a + share * (b - a)
        if abs(foot - point) <= SNAP and (best is None or (abs(foot - point), name) < best[:2]):
            best = abs(foot - point), name, Spot(foot, slash=name, share=share)
    return best and best[2]


def _hanging(outline: Outline, spots: Mapping[End, Spot], waiting: Iterable[End]) -> Refusal:
    """What to say of ends that reach nothing: of one that hangs in the paper sooner than of one that leans on it."""
    name, k = min(waiting, key=lambda end: (spots[end].slash != "", end))
    spot = spots[name, k]
    if not spot.slash:
        return outline.refuse_inside(spot, name)
    what = f"the slash {name} ends on {spot.slash}, which is no slash of this plan"
    if (spot.slash, 0) in spots:
        what = f"the slash {name} ends on {spot.slash}, which ends on it in turn; lead one of them on to an edge"
    other = spots[name, 1 - k]
    place = other.point if (name, 1 - k) not in set(waiting) else None
    return Refusal(STOPS_INSIDE, what, slash=name, piece=outline.name, place=place)
