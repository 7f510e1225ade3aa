"""Why paper can't do what a plan asks, in the trade's words."""

from __future__ import annotations

from tutor.faults import printable

LOCKED = "locked"
LOOSE = "loose"
STOPS_INSIDE = "stops inside the paper"
NOT_ON_OUTLINE = "not on the outline"
CROSSES_SEAM = "crosses the seam twice"
CUT_TWICE = "cut twice"
CROSSES_ITSELF = "crosses itself"


class Refusal(Exception):
    """A plan that paper can't follow: its kind, what is wrong, and the slash, piece and place (mm) it is about."""

    def __init__(self, kind: str, what: str, *, slash: str = "", piece: str = "", place: complex | None = None) -> None:
        super().__init__(kind, what)
        self.kind = kind
        self.what = what
        self.slash = slash
        self.piece = piece
        self.place = place

    def __str__(self) -> str:
        return printable(f"{self.kind}: {self.what}")
