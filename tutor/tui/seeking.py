"""A place being sought on the edge of the pattern: where the marker stands."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.alteration.edge import Edge
from tutor.alteration.place_words import SEAM_WORDS
from tutor.practice.session import Session
from tutor.tui.marker import Marker, Track
from tutor.units import Unit, format_length

SEAM, SHARES = 3, (0.25, 0.3, 0.35, 0.4)
"""Where the marker starts, unless a place was shown before: a quarter along the hem, which is no place of its own.

Further along where its way from an end of the hem would be that of the place asked for from an end of its seam.
"""
ALIKE = 3.0
"""mm; two figures that differ by less might be taken for one."""


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
    return Seeking(track, Marker(_beginning(session, track.edge) if shown is None else shown))


def _beginning(session: Session, edge: Edge) -> float:
    """A place on the hem, mm along the edge, whose figures are not those asked for."""
    start, end = edge.start(SEAM), edge.ends[SEAM]
    asked = _from_ends(edge, session.right_place())
    places = [start + share * (end - start) for share in SHARES]
    unlike = (p for p in places if all(abs(a - b) > ALIKE for a in _from_ends(edge, p) for b in asked))
    return next(unlike, places[0])


def _from_ends(edge: Edge, along: float) -> tuple[float, float]:
    """How far a place is from both ends of its seam, mm."""
    seam, far = edge.on_seam(along)
    return far, edge.outline.curves[seam].length() - far


def seeking_words(seeking: Seeking, unit: Unit) -> str:
    """Where the marker is, without a word that tells which place it is."""
    edge = seeking.track.edge
    seam, _ = edge.on_seam(seeking.marker.along)
    past, before = (format_length(far, unit) for far in _from_ends(edge, seeking.marker.along))
    words = SEAM_WORDS[edge.outline.names[seam]]
    return f"The marker @ is on the {words}, {past} and {before} from its ends."
