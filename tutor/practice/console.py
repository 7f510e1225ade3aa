"""Lines read and lines printed: all that a line-by-line tutor has of the world."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TextIO

from tutor.faults import printable
from tutor.practice.page import Page

PROMPT = "> "
LONGEST_READ = 2000
LONGEST_TOLD, BEGINNING = 400, 60
"""Letters up to which a line is printed as it was read, and how many of a longer one."""
CUT = "…"
"""Stands for the rest of a line."""


class Console:
    """Prints lines laid out on a page, and reads lines.

    Where the input is no terminal, the lines read are printed too, so that the output can be read by itself.
    """

    def __init__(self, input: TextIO, output: TextIO, page: Page) -> None:
        self._input = input
        self._output = output
        self.page = page
        self._echoes = not input.isatty()

    def say(self, lines: Iterable[str]) -> None:
        """Prints lines."""
        for line in lines:
            self._output.write(f"{self.page.spelled(printable(line))}\n")
        self._output.flush()

    def read(self) -> str | None:
        """The next line, asked for where somebody types; None at the end of the input, or where it is no text."""
        if not self._echoes:
            self._output.write(PROMPT)
            self._output.flush()
        try:
            line = self._line()
        except UnicodeDecodeError:
            self.say(["The rest of the input is no text, and was not read."])
            return None
        if not line:
            self.say([] if self._echoes else [""])
            return None
        if self._echoes and line.strip():
            said = line.strip()
            told = said if len(said) <= LONGEST_TOLD else f"{said[:BEGINNING]}{CUT}"
            self.say(self.page.wrapped(f"{PROMPT}{printable(told)}", "", " " * len(PROMPT)))
        return line

    def _line(self) -> str:
        """The next line; of one too long for any command the beginning, and as much besides that it is refused."""
        line = more = self._input.readline(LONGEST_READ)
        while more and not more.endswith("\n"):
            more = self._input.readline(LONGEST_READ)
            if more and len(line) <= LONGEST_READ:
                line += CUT * LONGEST_READ
        return line
