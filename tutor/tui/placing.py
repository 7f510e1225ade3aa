"""A slash being placed: where the marker stands, and what is already set."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.alteration.cutting import cut_paper
from tutor.alteration.plan import Place, Slash
from tutor.alteration.refusal import Refusal
from tutor.practice.session import Session
from tutor.tui.marker import Marker, Track

CANDIDATE = "new"
"""The name, while it is tried out, of a slash that has none yet."""


@dataclass(frozen=True)
class Placing:
    """``set_at`` is the end already set, if one is. A slash that is moved has a name, and ``moving`` its end."""

    track: Track
    marker: Marker
    set_at: Place | None = None
    set_point: complex | None = None
    set_hinge: bool = False
    name: str = ""
    moving: str = ""

    def at(self, marker: Marker) -> Placing:
        """The same with the marker elsewhere."""
        return replace(self, marker=marker)

    @property
    def point(self) -> complex:
        return self.track.point(self.marker)

    @property
    def place(self) -> Place:
        return self.track.place(self.marker)

    @property
    def candidate(self) -> tuple[complex, complex] | None:
        """Both ends of the slash as it would be, once one is set."""
        if self.set_point is None or abs(self.set_point - self.point) < 1e-6:
            return None
        return self.set_point, self.point

    def slash(self, old: Slash | None, *, hinge: bool = False) -> Slash | None:
        """The slash as it would be with the marker's place set; None while an end is missing."""
        if old is not None:
            return replace(old, start=self.place) if self.moving == "start" else replace(old, end=self.place)
        if self.set_at is None:
            return None
        return Slash(CANDIDATE, self.set_at, self.place, self.set_hinge, hinge)


def track_of(session: Session, leaving: str = "") -> Track:
    """What the marker walks on: the edge, and the slashes there are but for the one that is moved."""
    lines = {
        slash.name: line
        for slash in session.draft.slashes
        if slash.name != leaving and (line := session.slash_line(slash.name)) is not None
    }
    return Track(session.outline, lines)


def refused(session: Session, placing: Placing) -> Refusal | None:
    """Why the slash as it would be can't be cut, if it can't."""
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
