"""Why paper can't do what a plan asks, in the trade's words."""

from __future__ import annotations

import re

from tutor.faults import printable
from tutor.units import Unit, format_length

LOCKED = "locked"
LOOSE = "loose"
STOPS_INSIDE = "stops inside the paper"
NOT_ON_OUTLINE = "not on the outline"
CROSSES_SEAM = "crosses the seam twice"
CUT_TWICE = "cut twice"
CROSSES_ITSELF = "crosses itself"
NO_ROOM = "no room"


_LENGTH = re.compile("\0([^\0]*)\0")


def length(mm: float) -> str:
    """A length inside a refusal's words, written out only when it is known in which unit it will be read."""
    return f"\0{mm!r}\0"


class Refusal(Exception):
    """A plan that paper can't follow: its kind, what is wrong, and the slash, piece and place (mm) it is about.

    ``str()`` and ``what`` speak in centimetres; ``words`` speaks in any unit.
    """

    def __init__(self, kind: str, what: str, *, slash: str = "", piece: str = "", place: complex | None = None) -> None:
        super().__init__(kind, what)
        self.kind = kind
        self.slash = slash
        self.piece = piece
        self.place = place
        self._what = what

    @property
    def what(self) -> str:
        """Why, in words, with lengths in centimetres."""
        return self.words(Unit.CM)

    def words(self, unit: Unit) -> str:
        """What is wrong and what would be right, one line, lengths in ``unit``."""
        return printable(_LENGTH.sub(lambda found: format_length(float(found[1]), unit), self._what))

    def __str__(self) -> str:
        return f"{self.kind}: {self.what}"
