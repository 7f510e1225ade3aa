"""Keys for a task that gives something to choose among."""

from __future__ import annotations

from tutor.tui.actions import for_key
from tutor.tui.lesson_face import LessonFace


class ChoosingKeys(LessonFace):
    """The line that is looked at, or that of a number, is chosen at a key, and marked only when that is asked for."""

    def action_press(self, key: str) -> None:
        action = for_key(key, self.mode)
        if action is not None and action.name == "pick_number" and key.isdecimal():
            self._pick(int(key))
            self.show()
        else:
            super().action_press(key)

    def do_pick(self) -> None:
        self.attempt(lambda: self.session.choose(self.chosen))

    def do_pick_number(self) -> None:
        """The number says which, so that a click on the help can only say what to press."""
        self.said = self._numbers()

    def _pick(self, number: int) -> None:
        options = self.session.options
        if number <= len(options):
            self.chosen = options[number - 1].name
            self.do_pick()
        else:
            self.said = self._numbers()

    def _numbers(self) -> str:
        return f"Press 1 to {len(self.session.options)} to choose."
