"""A place being sought on the edge of the pattern: where the marker stands."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.practice.session import Session
from tutor.tui.marker import Marker, Track
from tutor.units import Unit, format_length

SEAM, SHARE = 3, 0.25
"""Where the marker starts, unless a place was shown before: a quarter along the hem, which is no place of its own."""


@dataclass(frozen=True)
class Seeking:
    """The marker on the edge."""

    track: Track
    marker: Marker

    def at(self, marker: Marker) -> Seeking:
        """The same with the marker elsewhere."""
        return replace(self, marker=marker)

    @property
    def point(self) -> complex:
        """Where the marker is, mm."""
        return self.track.point(self.marker)


def seeking_of(session: Session, along: float | None = None) -> Seeking:
    """The marker where it was left, or where a place was shown last."""
    track = Track(session.edge.outline, {})
    shown = session.shown_place if along is None else along
    start, end = track.edge.start(SEAM), track.edge.ends[SEAM]
    return Seeking(track, Marker(start + SHARE * (end - start) if shown is None else shown))


def seeking_words(seeking: Seeking, unit: Unit) -> str:
    """Where the marker is, without a word that tells which place it is."""
    edge = seeking.track.edge
    seam, far = edge.on_seam(seeking.marker.along)
    left = edge.outline.curves[seam].length() - far
    past, before = format_length(far, unit), format_length(left, unit)
    return f"The marker @ lies {past} from one end of its seam and {before} from the other."
