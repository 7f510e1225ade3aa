"""A pattern: a sleeve, and the bodice armholes it goes into."""

from __future__ import annotations

from dataclasses import dataclass

from tutor.pattern.armhole import Armhole
from tutor.pattern.sleeve import Sleeve


@dataclass(frozen=True, slots=True)
class Pattern:
    """A sleeve in its frame, with the back and front armhole where they are known."""

    sleeve: Sleeve
    armhole_back: Armhole | None = None
    armhole_front: Armhole | None = None
    title: str = ""

    def armhole(self, side: str) -> Armhole | None:
        """The armhole of ``side``, "back" or "front"."""
        return {"back": self.armhole_back, "front": self.armhole_front}[side]
