"""A screen with a numbered list, to whose entries the digits of their numbers go."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from tutor.tui.actions import Action, for_key
from tutor.tui.face import Face
from tutor.tui.typed_number import TypedNumber


class NumberedScreen(Face):
    """A screen on which a digit is no key by itself, but a part of a number until anything else is done."""

    COUNTED: ClassVar[str]
    """What has the numbers, in the singular; the action whose keys are the digits is named after it."""
    typed = TypedNumber()

    @property
    def numbers(self) -> Sequence[int]:
        """The numbers in the order of the list."""
        raise NotImplementedError

    def go_to(self, place: int) -> None:
        """Has the list go to its entry at that place, from 0."""
        raise NotImplementedError

    def action_press(self, key: str) -> None:
        action = for_key(key, self.mode)
        if action is not None and action.name == f"{self.COUNTED}_number":
            self._type(key)
            self.show()
        else:
            super().action_press(key)

    def perform(self, action: Action) -> None:
        self.end_number()
        super().perform(action)

    def end_number(self) -> None:
        """Something else was done, by key or by mouse: the next digit begins a number."""
        self.typed = TypedNumber()

    def _type(self, digit: str) -> None:
        """One digit more of a number; the list goes to what it leads to so far."""
        self.typed = self.typed.typed(digit, self.numbers)
        if meant := self.typed.meant(self.numbers):
            self.go_to(self.numbers.index(meant[0]))
        self.said = self.typed.words(self.numbers, self.COUNTED)
