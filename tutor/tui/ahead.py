"""Work done ahead of the next key, in the moments in which nothing happens."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

PAUSE = 0.004
"""Seconds without a key before it begins. A key that is held down repeats every 30 ms or so, and a frame takes half."""


class Ahead:
    """One piece of work that waits for a pause. What it was for need not come; then it was for nothing."""

    def __init__(self) -> None:
        self._waiting: asyncio.TimerHandle | None = None

    def put(self, work: Callable[[], object]) -> None:
        """Does the work at the next pause, in place of what was waiting for it."""
        self.drop()
        self._waiting = asyncio.get_running_loop().call_later(PAUSE, work)

    def drop(self) -> None:
        """Forgets the work: something else is to be done now."""
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None
