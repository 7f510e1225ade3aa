"""On which line of a TOML file a key stands, in lists and tables in braces too: the standard reader keeps no lines."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Sequence
from typing import TypeAlias

Step: TypeAlias = str | int
Path: TypeAlias = tuple[Step, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_PART = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_SCALAR = re.compile(
    r'''"""(?:[^\\]|\\[\s\S])*?"{3,5}|'{3}[\s\S]*?'{3,5}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[^\s\[\]{},#"'][^\[\]{},#\n]*'''
)
"""A value that holds no others: text in quotes of each kind, or a number, a date, true or false."""
_CLOSING = {"[": "]", "{": "}"}


class _Unread(Exception):
    """What is no TOML; the reader that is asked first says so to people."""


def key_lines(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every table header, key and item of a list. Of what is no TOML, as far as it is."""
    return _Lines(text).read()


class _Lines:
    """A walk over TOML text that notes where things are, and not what they are."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._ends = [k for k, letter in enumerate(text) if letter == "\n"]
        self._lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}

    def read(self) -> dict[Path, int]:
        table: Path = ()
        try:
            while self._skip():
                if self._take("["):
                    table = self._header()
                else:
                    self._key_and_value(table)
        except _Unread:
            pass
        return self._lines

    def _skip(self) -> str:
        """Passes over blanks, line ends and comments; the letter after them, "" at the end."""
        self._at = _matched(_BLANK, self._text, self._at).end()
        return self._text[self._at : self._at + 1]

    def _take(self, sign: str) -> bool:
        found = self._text.startswith(sign, self._at)
        self._at += len(sign) * found
        return found

    def _note(self, path: Path, at: int) -> None:
        self._lines.setdefault(path, bisect_right(self._ends, at - 1) + 1)

    def _name(self) -> tuple[str, ...]:
        """A key, of one part or of several with points between."""
        parts: list[str] = []
        while True:
            found = _matched(_PART, self._text, self._at)
            self._at = found.end()
            parts.append(_plain(found[0]))
            dot = _DOT.match(self._text, self._at)
            if dot is None:
                return tuple(parts)
            self._at = dot.end()

    def _header(self) -> Path:
        """The path of a table header; each list of tables on the way stands at its last number."""
        at, is_list = self._at, self._take("[")
        self._skip()
        parts = self._name()
        path: Path = ()
        for place, part in enumerate(parts, 1):
            path = (*path, part)
            self._note(path, at)
            if is_list and place == len(parts):
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:
                path = (*path, self._counts[path])
                self._note(path, at)
        self._skip()
        if not self._take("]]" if is_list else "]"):
            raise _Unread
        return path

    def _key_and_value(self, table: Path) -> None:
        self._value(self._key(table))

    def _key(self, table: Path) -> Path:
        """The path of a key in a table; passes over the sign behind it."""
        at = self._at
        name = self._name()
        for size in range(1, len(name) + 1):
            self._note((*table, *name[:size]), at)
        self._skip()
        if not self._take("="):
            raise _Unread
        return (*table, *name)

    def _value(self, path: Path) -> None:
        """Passes over a value and notes all that lies in it. Lists may lie in lists as deep as memory goes."""
        within: list[tuple[str, Path, int]] = []
        while True:
            sign = self._skip()
            if sign and sign in _CLOSING:
                self._at += 1
                within.append((_CLOSING[sign], path, 0))
            else:
                self._at = _matched(_SCALAR, self._text, self._at).end()
            while within:
                self._skip()
                if self._take(within[-1][0]):
                    within.pop()
                elif not self._take(","):
                    break
            if not within:
                return
            closing, outer, count = within[-1]
            if closing == "}":
                path = self._key(outer)
            else:
                path = (*outer, count)
                within[-1] = (closing, outer, count + 1)
                self._note(path, self._at)


def _matched(pattern: re.Pattern[str], text: str, at: int) -> re.Match[str]:
    found = pattern.match(text, at)
    if found is None:
        raise _Unread
    return found


def _plain(part: str) -> str:
    """A part of a key without its quotation marks."""
    return str(tomllib.loads(f"key = {part}")["key"]) if part[0] in "\"'" else part


def line_of(path: Path, lines: dict[Path, int]) -> int | None:
    """The line of a key, or of the nearest key above it."""
    for size in range(len(path), 0, -1):
        if path[:size] in lines:
            return lines[path[:size]]
    return None


def path_words(path: Sequence[Step]) -> str:
    """A path as people read it, items counted from 1: ``tasks 2, goals 1, tolerance``."""
    words: list[str] = []
    for step in path:
        if isinstance(step, int) and words:
            words[-1] += f" {step + 1}"
        else:
            words.append(str(step))
    return ", ".join(words)
