"""The mouse on the picture: slashes drawn, ends dragged and toggled, amounts wheeled."""

from __future__ import annotations

from collections.abc import Callable

from textual import on

from tutor.alteration.alter import Altered
from tutor.lesson.lesson import Lesson
from tutor.picture.sheet import SlashEnd, slash_ends
from tutor.tui.actions import Mode
from tutor.tui.desk import Desk
from tutor.tui.marker import Marker
from tutor.tui.picture import Picture
from tutor.tui.placing import Placing, track_of
from tutor.tui.slash_keys import SlashKeys


class MouseHand(SlashKeys):
    """What keys do, by mouse."""

    def __init__(self, desk: Desk, lesson: Lesson, leave: Callable[[], object]) -> None:
        super().__init__(desk, lesson, leave)
        self._pressed: Marker | None = None
        self._held: SlashEnd | None = None

    @on(Picture.Pointed)
    def point(self, event: Picture.Pointed) -> None:
        if self.mode is Mode.PLACE:
            self._seek_at(event)
        if self.mode not in (Mode.PLAN, Mode.PLACING, Mode.MEASURING):
            return
        if self.placing is not None:
            self._point_at_edge(event)
        elif event.how == "down":
            self._press(event)
        elif self._held is not None:
            self._drag_or_click(self._held, event)
        else:
            # Nothing is begun or held: what was said of the last press stays.
            return
        self.show()

    def _seek_at(self, event: Picture.Pointed) -> None:
        """The marker goes to where the mouse points; whether that is the place is said by key."""
        seeking = self.seeking_now()
        marker = seeking.track.nearest(event.place, event.reach)
        if marker is not None:
            self.seeking = seeking.at(marker)
        elif event.how == "down":
            self.said = "Point at the edge of the paper."
        self.show()

    @on(Picture.Wheeled)
    def wheel(self, event: Picture.Wheeled) -> None:
        if self.mode is Mode.PLAN:
            self.step_amount(event.way, coarse=True)
            self.show()

    def _ends(self) -> list[SlashEnd]:
        found = self.found()
        altered = found if isinstance(found, Altered) and self.moves_something() else None
        return slash_ends(self.session.pattern.sleeve, self.session.draft, altered)

    def _press(self, event: Picture.Pointed) -> None:
        """The mouse goes down: an end of a slash is held, or a slash is started from the edge."""
        near = min(self._ends(), key=lambda end: abs(end.point - event.place), default=None)
        if near is not None and abs(near.point - event.place) <= 1.5 * event.reach:
            self._held = near
            self.chosen = near.slash
            return
        if not self.session.may_use("slashes"):
            return
        track = track_of(self.session)
        marker = track.nearest(event.place, event.reach)
        if marker is not None:
            self.placing = Placing(track, marker)
            self._pressed = marker
            self.put(hinge=False)

    def _drag_or_click(self, held: SlashEnd, event: Picture.Pointed) -> None:
        """An end that is held: dragged away it is moved, let go of where it is it turns hinge or through cut."""
        if event.how == "up":
            self._held = None
            self.toggle(held.name)
        elif abs(held.point - event.place) > 2 * event.reach:
            self._held = None
            self.pick_up(held.name)

    def _point_at_edge(self, event: Picture.Pointed) -> None:
        """While placing, the marker follows the mouse; where it is let go of, away from the start, an end is set."""
        assert self.placing is not None
        marker = self.placing.track.nearest(event.place, event.reach)
        if marker is None:
            if event.how == "down":
                self.said = "Point at the edge of the paper, or at a slash."
            return
        self.placing = self.placing.at(marker)
        if self.placing.measuring:
            if event.how == "down":
                self.do_hold_tape()
        elif event.how == "down" and self.placing.first is None and not self.placing.moving:
            self._pressed = marker
            self.put(hinge=False)
        elif event.how == "up":
            pressed, self._pressed = self._pressed, None
            if pressed is None or abs(self.placing.track.point(pressed) - self.placing.point) > 2 * event.reach:
                self.put(hinge=False)
