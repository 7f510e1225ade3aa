"""Lines read and lines printed: all that a line-by-line tutor has of the world."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TextIO

from tutor.faults import printable
from tutor.letters import in_ascii, takes_every_letter
from tutor.practice.plain_text import NARROWEST, wrapped

PROMPT = "> "
LONGEST_READ = 2000


class Console:
    """``ascii`` prints ASCII alone; left out, it does so where output or locale ask for it.

    Where the input is no terminal, the lines read are printed too, so that the output can be read by itself; they are
    broken into lines of ``width`` letters.
    """

    def __init__(self, input: TextIO, output: TextIO, ascii: bool | None = None, width: int = 80) -> None:
        self._input = input
        self._output = output
        self._ascii = not takes_every_letter(output) if ascii is None else ascii
        self._echoes = not input.isatty()
        self._width = width

    def say(self, lines: Iterable[str]) -> None:
        """Prints lines."""
        for line in lines:
            for shown in self._spelled(printable(line)):
                self._output.write(f"{shown}\n")
        self._output.flush()

    def _spelled(self, line: str) -> list[str]:
        """The line in letters that the output has; in ASCII some are written out, and the line may come to be two."""
        if not self._ascii:
            return [line]
        spelled = in_ascii(line)
        if len(spelled) == len(line) or len(spelled) <= max(self._width, NARROWEST):
            return [spelled]
        indent = " " * (len(line) - len(line.lstrip()))
        # A figure stays with its degrees.
        lines = wrapped(spelled.lstrip().replace(" deg", "\x00deg"), self._width, indent, f"{indent}  ")
        return [each.replace("\x00", " ") for each in lines]

    def read(self) -> str | None:
        """The next line, asked for where somebody types; None at the end of the input, or where it is no text."""
        if not self._echoes:
            self._output.write(PROMPT)
            self._output.flush()
        try:
            line = self._input.readline(LONGEST_READ)
        except UnicodeDecodeError:
            self.say(["The rest of the input is no text, and was not read."])
            return None
        if not line:
            self.say([] if self._echoes else [""])
            return None
        if self._echoes and line.strip():
            self.say(wrapped(f"{PROMPT}{printable(line.strip())}", self._width, "", " " * len(PROMPT)))
        return line
