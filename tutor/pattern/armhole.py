"""A bodice armhole: the curve from underarm point to shoulder tip, and the side seam below it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.geometry.curve import JOIN, Curve
from tutor.geometry.move import Move
from tutor.pattern.sleeve import Mark


@dataclass(frozen=True, slots=True)
class Armhole:
    """One bodice piece's armhole, in mm.

    ``side`` is "front" or "back". ``seam`` runs from the underarm point up to the shoulder tip; ``across`` is the
    place u on it of the across-front or across-back point, below which the armhole is redrawn when the underarm
    moves. ``side_seam`` runs from the underarm point downwards, if the piece shows it. ``marks`` are its notches.
    Raises ValueError when the side seam does not start at the underarm point, or a place is off the seam.
    """

    side: str
    seam: Curve
    across: float
    side_seam: Curve | None = None
    marks: tuple[Mark, ...] = ()

    def __post_init__(self) -> None:
        if self.side_seam is not None and abs(self.side_seam.start - self.seam.start) > JOIN:
            raise ValueError(f"the {self.side} side seam does not start at the underarm point")
        if not 0 < self.across <= len(self.seam):
            raise ValueError(f"the across-{self.side} point is not on the {self.side} armhole")
        if any(not 0 <= mark.u <= len(self.seam) for mark in self.marks):
            raise ValueError(f"a notch is not on the {self.side} armhole")

    @property
    def underarm_point(self) -> complex:
        """Where the armhole begins, on the side seam."""
        return self.seam.start

    @property
    def shoulder_tip(self) -> complex:
        """Where the armhole ends, on the shoulder seam."""
        return self.seam.end

    @property
    def across_point(self) -> complex:
        """The point below which the armhole is redrawn."""
        return self.seam.point(self.across)

    @property
    def outward(self) -> float:
        """+1 when the side seam lies to the right of the across point, else -1."""
        return 1.0 if self.underarm_point.real >= self.across_point.real else -1.0

    def mark(self, name: str) -> Mark | None:
        """The notch of that name; None when there is none."""
        return next((mark for mark in self.marks if mark.name == name), None)

    def moved(self, move: Move) -> Armhole:
        """The piece after a rigid move."""
        side_seam = None if self.side_seam is None else self.side_seam.moved(move)
        return replace(self, seam=self.seam.moved(move), side_seam=side_seam)
