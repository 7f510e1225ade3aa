"""What a learner has built, step by step, every step to be undone and done again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, TypeVar

State = TypeVar("State")

MOST = 2000
"""Steps kept; the oldest go first."""


@dataclass(slots=True)
class History(Generic[State]):
    """The state now, those before it, and those undone."""

    now: State
    past: list[State] = field(default_factory=list)
    undone: list[State] = field(default_factory=list)

    def step(self, state: State) -> None:
        """Makes ``state`` the one now; what was undone is gone. A state equal to the one now is no step."""
        if state == self.now:
            return
        self.past.append(self.now)
        del self.past[:-MOST]
        self.now = state
        self.undone.clear()

    def undo(self) -> bool:
        if not self.past:
            return False
        self.undone.append(self.now)
        self.now = self.past.pop()
        return True

    def redo(self) -> bool:
        if not self.undone:
            return False
        self.past.append(self.now)
        self.now = self.undone.pop()
        return True
