"""Keys for a task that gives something to choose among."""

from __future__ import annotations

from tutor.tui.lesson_face import LessonFace


class ChoosingKeys(LessonFace):
    """The line that is looked at is chosen at a key, and marked only when that is asked for."""

    def do_pick(self) -> None:
        self.attempt(lambda: self.session.choose(self.chosen))
