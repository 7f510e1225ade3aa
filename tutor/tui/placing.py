"""A slash being placed: where the marker stands, and what is already set."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from tutor.alteration.cutting import cut_paper
from tutor.alteration.plan import Place, Slash
from tutor.alteration.refusal import Refusal
from tutor.practice.session import Session
from tutor.tui.marker import Marker, Track

CANDIDATE = "new"
"""The name, while it is tried out, of a slash that has none yet."""


@dataclass(frozen=True)
class Placing:
    """``first`` is where the slash starts, once that is set. A slash that is moved has a name.

    Then ``moving`` is its end on the move, "start" or "end", and ``other`` where its other end is, in mm. With
    ``measuring`` it is no slash that is placed but a tape measure.
    """

    track: Track
    marker: Marker
    first: Marker | None = None
    first_hinge: bool = False
    name: str = ""
    moving: str = ""
    other: complex | None = None
    measuring: bool = False

    def at(self, marker: Marker) -> Placing:
        """The same with the marker elsewhere."""
        return replace(self, marker=marker)

    @property
    def point(self) -> complex:
        """Where the marker is, mm."""
        return self.track.point(self.marker)

    @property
    def place(self) -> Place:
        """Where the marker is, as a place of a plan."""
        return self.track.place(self.marker)

    @property
    def set_place(self) -> Place | None:
        """Where the slash starts, once that is set."""
        return None if self.first is None else self.track.place(self.first)

    @property
    def candidate(self) -> tuple[complex, complex] | None:
        """Both ends of the slash as it would be, once one is set; None while they are one place."""
        fixed = self.other if self.first is None else self.track.point(self.first)
        return None if fixed is None or abs(fixed - self.point) < 1e-6 else (fixed, self.point)

    def slash(self, old: Slash | None, *, hinge: bool = False) -> Slash | None:
        """The slash as it would be with the marker's place set; None while an end is missing."""
        if old is not None:
            return replace(old, start=self.place) if self.moving == "start" else replace(old, end=self.place)
        if self.set_place is None:
            return None
        return Slash(CANDIDATE, self.set_place, self.place, self.first_hinge, hinge)


def track_of(session: Session, leaving: str = "") -> Track:
    """What the marker walks on: the edge, and the slashes there are but for the one that is moved."""
    lines = {
        slash.name: line
        for slash in session.draft.slashes
        if slash.name != leaving and (line := session.slash_line(slash.name)) is not None
    }
    return Track(session.outline, lines)


def picked_up(session: Session, name: str, end: str) -> Placing | None:
    """An end of a slash picked up from where it is; None for a slash that is nowhere on the paper."""
    line = session.slash_line(name)
    if line is None:
        return None
    track = track_of(session, leaving=name)
    moved, other = line if end == "start" else line[::-1]
    marker = track.nearest(moved, 1.0) or track.nearest_on_edge(moved)[0]
    return Placing(track, marker, name=name, moving=end, other=other)


def refused(session: Session, placing: Placing) -> Refusal | None:
    """Why the slash as it would be can't be cut, if it can't. A tape measure can lie anywhere."""
    if placing.measuring:
        return None
    old = session.draft.slash(placing.name) if placing.name else None
    slash = placing.slash(old)
    if slash is None:
        return None
    others = tuple(each for each in session.draft.slashes if each.name != slash.name)
    try:
        cut_paper(session.outline, (*others, slash))
    except Refusal as refusal:
        return refusal
    return None


def kept_placing(placing: Placing) -> dict[str, Any]:
    """What has to be kept to come back to it, as a plain table."""
    first = placing.first
    return {
        "marker": [placing.marker.along, placing.marker.line],
        "first": None if first is None else [first.along, first.line],
        "hinge": placing.first_hinge,
        "name": placing.name,
        "moving": placing.moving,
        "measuring": placing.measuring,
    }


def placing_from(session: Session, kept: Mapping[str, Any]) -> Placing | None:
    """The placing that was kept; None when the slash it moved is gone. Raises as a table out of shape does."""
    marker = _marker(kept["marker"])
    if kept["moving"]:
        up = picked_up(session, str(kept["name"]), "start" if kept["moving"] == "start" else "end")
        return None if up is None or not _stands(up.track, marker) else up.at(marker)
    track = track_of(session)
    first = None if kept["first"] is None else _marker(kept["first"])
    if not _stands(track, marker) or (first is not None and not _stands(track, first)):
        return None
    return Placing(track, marker, first, bool(kept["hinge"]), measuring=bool(kept.get("measuring", False)))


def _marker(kept: Any) -> Marker:
    along, line = float(kept[0]), str(kept[1])
    if not math.isfinite(along):
        raise ValueError(along)
    return Marker(along, line)


def _stands(track: Track, marker: Marker) -> bool:
    return not marker.line or marker.line in track.slashes
