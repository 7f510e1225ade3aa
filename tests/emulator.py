"""What a terminal would show of the bytes printed to it, where there is no tmux to ask."""

from __future__ import annotations

import re

import pyte

_UNSEEN = re.compile(
    rb"\x1b(?:\[[?>=<][0-?]*[ -/]*[@-~]|\[[0-?]*[ -/]+[@-~]|[PX^_].*?\x1b\\|\][^\x07\x1b]*(?:\x07|\x1b\\))", re.DOTALL
)
"""Questions to the terminal and its private modes, none of which puts anything on the screen."""
_WHOLE = re.compile(
    rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|[PX^_].*?\x1b\\|\][^\x07\x1b]*(?:\x07|\x1b\\)|[ -/]*[0-OQ-WYZ\\`-~])", re.DOTALL
)
_OTHER_SCREEN = re.compile(rb"\x1b\[\?1049[hl]")
"""The program takes a screen of its own, or gives it back."""


class Emulator:
    """The screen of so many columns and rows. A program's own screen is empty when it comes, and gone when it goes."""

    def __init__(self, columns: int, rows: int) -> None:
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._left = b""

    def feed(self, printed: bytes) -> None:
        """Takes what was printed; a sequence that is not whole yet waits for the rest."""
        printed = self._left + printed
        last = printed.rfind(b"\x1b")
        whole = last < 0 or _WHOLE.match(printed, last) is not None
        self._left = b"" if whole else printed[last:]
        shown = printed if whole else printed[:last]
        before, *later = _OTHER_SCREEN.split(shown)
        self._stream.feed(_UNSEEN.sub(b"", before))
        for part in later:
            self._screen.reset()
            self._stream.feed(_UNSEEN.sub(b"", part))

    def resize(self, columns: int, rows: int) -> None:
        """Another size."""
        self._screen.resize(rows, columns)

    @property
    def text(self) -> str:
        """The rows of the screen."""
        return "\n".join(row.rstrip() for row in self._screen.display) + "\n"
