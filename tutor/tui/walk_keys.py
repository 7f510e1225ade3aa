"""Keys that walk a marker along the edge of the paper."""

from __future__ import annotations

from collections.abc import Callable

from tutor.tui.lesson_face import LessonFace
from tutor.tui.marker import Marker
from tutor.tui.placing import Placing
from tutor.tui.seeking import Seeking
from tutor.units import Unit

STEP = {Unit.CM: 5.0, Unit.MM: 5.0, Unit.INCH: 25.4 / 4}
FINE = {Unit.CM: 1.0, Unit.MM: 1.0, Unit.INCH: 25.4 / 16}
LONG = {Unit.CM: 30.0, Unit.MM: 30.0, Unit.INCH: 25.4}
"""Steps of the marker in mm: by arrow, by a hair, and long."""


class WalkKeys(LessonFace):
    """By arrow, by a hair's breadth, by long steps, and from mark to mark."""

    def walk(self, move: Callable[[Placing | Seeking], Marker | None]) -> None:
        """Moves the marker, of a slash that is placed or of a place that is sought, to where ``move`` says."""
        here: Placing | Seeking = self.placing or self.seeking_now()
        marker = move(here)
        if marker is None:
            named = "the next named place" if self.placing is not None else "the next mark or corner"
            key = "n" if self.placing is not None else "Tab"
            self.said = f"The edge does not go that way from here: try the other arrows, or {key} for {named}."
        elif self.placing is not None:
            self.placing = self.placing.at(marker)
        else:
            self.seeking = self.seeking_now().at(marker)

    def _toward(self, direction: complex) -> None:
        step = STEP[self.desk.unit]
        self.walk(lambda placing: placing.track.toward(placing.marker, direction, step))

    def do_walk_left(self) -> None:
        self._toward(-1)

    def do_walk_right(self) -> None:
        self._toward(1)

    def do_walk_up(self) -> None:
        self._toward(1j)

    def do_walk_down(self) -> None:
        self._toward(-1j)

    def _along(self, mm: float) -> None:
        self.walk(lambda placing: placing.track.stepped(placing.marker, mm))

    def do_fine_back(self) -> None:
        self._along(-FINE[self.desk.unit])

    def do_fine_on(self) -> None:
        self._along(FINE[self.desk.unit])

    def do_coarse_back(self) -> None:
        self._along(-LONG[self.desk.unit])

    def do_coarse_on(self) -> None:
        self._along(LONG[self.desk.unit])

    def do_next_stop(self) -> None:
        self.walk(lambda placing: placing.track.next_stop(placing.marker, 1))

    def do_previous_stop(self) -> None:
        self.walk(lambda placing: placing.track.next_stop(placing.marker, -1))

    def do_next_mark(self) -> None:
        self.do_next_stop()

    def do_last_mark(self) -> None:
        self.do_previous_stop()
