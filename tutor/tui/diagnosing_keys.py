"""Keys for a task that shows folds and asks what is off."""

from __future__ import annotations

from textual import on

from tutor.tui import guide
from tutor.tui.actions import Mode, for_key, named
from tutor.tui.lesson_face import LessonFace
from tutor.tui.side import Side


class DiagnosingKeys(LessonFace):
    """Signs are looked for and a cause is named at keys or by a click, and marked only when that is asked for."""

    def action_press(self, key: str) -> None:
        action = for_key(key, self.mode)
        if action is not None and action.name == "sign" and key.isdecimal():
            self._look_for(int(key))
        super().action_press(key)

    def do_sign(self) -> None:
        """The number says which, so that a click on the foot or the help can only say what to press."""
        if not self.said:
            self.said = f"Press 1 to {len(self.session.signs)} to look for a sign."

    def do_look_into(self) -> None:
        signs = {sign.name: sign.number for sign in self.session.signs}
        if self.chosen in signs:
            self._look_for(signs[self.chosen])
        else:
            self.attempt(lambda: self.session.choose(self.chosen))

    @on(Side.Chosen)
    def look_at_line(self, event: Side.Chosen) -> None:
        if self.mode is Mode.DIAGNOSE:
            self.chosen = event.key
            self.perform(named("look_into"))

    def _look_for(self, number: int) -> None:
        if self.attempt(lambda: self.session.ask_sign(str(number))):
            row = self.session.signs[number - 1]
            self.chosen = row.name
            self.said = guide.sign_said(row)
