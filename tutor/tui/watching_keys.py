"""Keys for what is watched: a worked solution step by step, a cap walked round its armhole."""

from __future__ import annotations

from tutor.tui.lesson_face import LessonFace
from tutor.tui.walking import STEP, walking


class WatchingKeys(LessonFace):
    """Neither changes the learner's own plan, unless it is asked to."""

    def do_step_on(self) -> None:
        if self.showing is not None:
            self.play(self.showing.moved(1))

    def do_step_back(self) -> None:
        if self.showing is not None:
            self.play(self.showing.moved(-1))

    def do_take_over(self) -> None:
        if self.showing is not None:
            plan = self.showing.whole
            if self.attempt(lambda: self.session.adopt(plan)):
                self.said = "That is on your own paper now. u takes it back."
            self.showing = None

    def do_leave_off(self) -> None:
        self.showing = self.walking = None

    def do_walk_cap(self) -> None:
        self.walking = walking(self.pattern_now(), "front")
        if self.walking is None:
            self.said = "This pattern has no armhole to walk the cap along."

    def do_roll_on(self) -> None:
        if self.walking is not None:
            self.walking = self.walking.rolled(STEP[self.desk.unit])

    def do_roll_back(self) -> None:
        if self.walking is not None:
            self.walking = self.walking.rolled(-STEP[self.desk.unit])

    def do_next_notch(self) -> None:
        if self.walking is not None:
            self.walking = self.walking.to_stop(1)

    def do_last_notch(self) -> None:
        if self.walking is not None:
            self.walking = self.walking.to_stop(-1)

    def do_other_side(self) -> None:
        if self.walking is not None:
            other = "back" if self.walking.walk.side == "front" else "front"
            self.walking = walking(self.pattern_now(), other) or self.walking
