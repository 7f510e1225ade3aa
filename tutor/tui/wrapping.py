"""Texts in lines, a figure never parted from its unit."""

from __future__ import annotations

import re
import textwrap
from functools import lru_cache

NO_BREAK = "\N{NO-BREAK SPACE}"

_UNITS = "cm²|cm|mm|sq in|in|inch|inches|degrees|degree|per cent|%"
_FIGURE = re.compile(rf"(?<![\w.,/])[+\-±]?\d[\d.,]*(?:/\d+)?(?: \d+/\d+)?(?: ?(?:{_UNITS})(?![\w/]))?")
"""A figure with its fraction and its unit: ``2.5 cm``, ``13 3/4 in``, ``5 per cent``."""
_WORD = re.compile(rf"[^\s{NO_BREAK}](?:\S|{NO_BREAK})*")


def kept_together(text: str) -> str:
    """The text with blanks inside figures, and between a figure and its unit, at which no line is to end."""
    return _FIGURE.sub(lambda found: found[0].replace(" ", NO_BREAK), text)


@lru_cache(maxsize=128)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The text in lines of at most so many letters; most of what is on the screen stays the same from key to key."""
    if 0 < len(text) <= width and " ".join(text.split()) == text:
        return (text,)
    return tuple(line.replace(NO_BREAK, " ") for line in textwrap.wrap(kept_together(text), max(width, 1)))


def line_starts(line: str, width: int) -> list[int]:
    """Where further lines begin when one line of text is to be no wider: places in the text, its blanks kept.

    What alone is wider than a line goes on in the next.
    """
    starts, start = list[int](), 0
    for found in _WORD.finditer(kept_together(line)):
        if found.end() - start > width and found.start() > start:
            start = found.start()
            starts.append(start)
        while found.end() - start > width:
            start += width
            starts.append(start)
    return starts
