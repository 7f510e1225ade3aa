"""A question for a place on the edge of the pattern."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from tutor.alteration.edge import Edge
from tutor.alteration.outline import Outline, whole
from tutor.alteration.plan import Place
from tutor.alteration.refusal import Refusal
from tutor.lesson.goal import Aim
from tutor.lesson.task import PlaceTask
from tutor.marking.case import Case

OFF = "distance-along-the-edge"
"""What stands in a mark where other answers have the name of a measure."""


@dataclass(frozen=True, eq=False)
class PlaceCase(Case):
    """A place asked for; places are told by how far along the edge they lie, mm clockwise from its start."""

    task: PlaceTask = field(kw_only=True)

    @property
    def place(self) -> Place:
        """The place that is right, by its own description."""
        return self.task.place.place

    @property
    def outline(self) -> Outline:
        """The edge of the paper as seams and spots."""
        return self.edge.outline

    @cached_property
    def edge(self) -> Edge:
        """The edge of the uncut sleeve, along which places are told."""
        return Edge(whole(self.pattern.sleeve))

    @cached_property
    def right(self) -> float:
        """Where the place that is right lies. Raises ValueError where this pattern has no such place."""
        found = self.along(self.place)
        if found is None:
            raise ValueError("this pattern has no such place")
        return found

    def along(self, place: Place) -> float | None:
        """How far along the edge a place lies; None for one that isn't on it."""
        try:
            spot = self.outline.spot(place, "")
        except Refusal:
            return None
        return self.edge.along(spot) if spot.seam >= 0 and not spot.slash else None

    def off(self, along: float) -> float:
        """How far an answer is from the right place, along the edge the shorter way, mm."""
        return abs(self.edge.way(self.right, along))

    @property
    def aim(self) -> Aim:
        """What is asked, as bounds: no way at all from the place, within the tolerance."""
        return Aim(OFF, 0.0, 0.0, float(self.task.tolerance))
