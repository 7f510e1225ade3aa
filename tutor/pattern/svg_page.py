"""The lines and points of a drawing, each as a pattern needs it: an open seam, the ends of a line, a mark on a seam."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tutor.faults import Fault
from tutor.geometry import cubic
from tutor.geometry.curve import Curve
from tutor.pattern.joining import MEET, Apart, Corner, chained, without_specks
from tutor.pattern.sleeve import Mark
from tutor.pattern.svg_drawing import FARTHEST, Drawing

ON_SEAM = 1.0
"""A notch, or an end of a line that should reach a seam, lies at most this far from it, in mm."""
SHORTEST = 1.0
"""No seam or grain line is shorter than this, in mm."""
MOST_CUBICS = 10_000
"""Of one seam."""


def _as_drawn(name: str, curve: Curve) -> Curve:
    return curve


@dataclass(frozen=True, slots=True)
class Care:
    """With how much care a pattern must have been drawn, and what is made of a seam that was drawn with less.

    Ends of seams may miss each other by ``meet`` mm, and marks their seam by ``near`` mm; ``smooth`` makes a seam of
    what is drawn under its id, and ``corner`` says where two seams meet that miss each other, in place of the middle.
    Seams may cross within ``loop`` mm of their corner; they then end where they cross. ``upright`` says by what a
    bodice piece is turned to stand as it should, a complex number of modulus 1, from the id and line of its armhole;
    None where pieces must be drawn upright.
    """

    meet: float = MEET
    near: float = ON_SEAM
    smooth: Callable[[str, Curve], Curve] = _as_drawn
    corner: Corner | None = None
    loop: float = 0.0
    upright: Callable[[str, Curve], complex] | None = None


EXACT = Care()


@dataclass(frozen=True, slots=True)
class Page:
    """What is drawn under the ids of a pattern, in page millimetres, y up."""

    drawing: Drawing
    where: str
    care: Care = EXACT

    def has(self, name: str) -> bool:
        """Whether anything is drawn under an id."""
        return name in self.drawing.ids

    def fault(self, name: str, what: str, right: str = "") -> Fault:
        """A fault about what is drawn under an id."""
        return Fault(self.drawing.place(name), what, right)

    def seam(self, name: str) -> Curve:
        """The one open line under an id, several that meet joined, cubics of no length left out.

        Raises Fault for a closed shape, for lines that don't meet, below 1 mm or above 100 m, and for more than
        10,000 curves.
        """
        lines = self.drawing.lines(name)
        if any(line.closed for line in lines):
            raise self.fault(name, "is a closed shape", "a seam is an open line")
        pieces = [Curve(rows) for line in lines if len(rows := without_specks(line.controls))]
        length = sum(float(cubic.polygon_lengths(piece.controls).sum()) for piece in pieces)
        if not SHORTEST <= length <= FARTHEST:
            raise self.fault(name, f"is {length:.3g} mm long", "look at the scale of the page, or draw the seam anew")
        count = sum(map(len, pieces))
        if count > MOST_CUBICS:
            raise self.fault(name, f"is drawn in {count:,} curves", f"at most {MOST_CUBICS:,}; a seam needs a few")
        try:
            return self.care.smooth(name, chained(pieces, self.care.meet))
        except Apart as apart:
            raise self.fault(
                name,
                f"is drawn in {len(pieces)} lines that miss each other by {apart.gap:.2f} mm",
                f"draw one line, or let them meet within {self.care.meet} mm",
            ) from None

    def ends(self, name: str) -> tuple[complex, complex]:
        """The ends of the longest line under an id, so that arrow heads don't matter. Raises Fault below 1 mm."""
        lines = [line for line in self.drawing.lines(name) if len(line.controls)]
        ends = [(complex(line.controls[0, 0]), complex(line.controls[-1, 3])) for line in lines]
        first, last = max(ends, key=lambda pair: abs(pair[1] - pair[0]), default=(0j, 0j))
        if abs(last - first) < SHORTEST:
            raise self.fault(name, f"is shorter than {SHORTEST:g} mm", "draw it as a straight line")
        return first, last

    def mark(self, name: str, called: str, seams: Mapping[str, Curve]) -> Mark:
        """The mark drawn under an id, on the nearest of some seams. Raises Fault when it is too far from each."""
        point = self.drawing.point(name)
        near = {seam: curve.nearest(point) for seam, curve in seams.items()}
        seam = min(near, key=lambda seam: near[seam][1])
        u, away = near[seam]
        if away > self.care.near:
            right = f"start it on the seam, within {self.care.near:g} mm, or centre a circle there"
            raise self.fault(name, f"lies {away:.2f} mm from {seam}", right)
        return Mark(called, seam, u)
