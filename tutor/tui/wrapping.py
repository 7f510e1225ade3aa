"""Texts in lines, a figure never parted from its unit."""

from __future__ import annotations

import re
import textwrap
from functools import lru_cache

from tutor.practice.whole_figures import NO_BREAK, kept_together

_LABEL = re.compile(r"\s*\S.*\s{2,}(?=\S)")
"""What stands before the words in a row of a list: a key, a sign, a number, and at least two blanks."""
_WORD = re.compile(rf"[^\s{NO_BREAK}](?:\S|{NO_BREAK})*")


@lru_cache(maxsize=128)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The text in lines of at most so many letters; most of what is on the screen stays the same from key to key."""
    if 0 < len(text) <= width and " ".join(text.split()) == text:
        return (text,)
    return tuple(line.replace(NO_BREAK, " ") for line in textwrap.wrap(kept_together(text), max(width, 1)))


def cut_short(line: str, width: int, sign: str) -> str:
    """A line with a sign at its end that there is more, in so many letters: it is cut between words, no figure is."""
    room = width - len(sign) - 1
    kept = wrapped(line, room)[0] if line.strip() and room > 0 else ""
    return f"{kept} {sign}".lstrip()[:width]


def hang_of(line: str, width: int) -> int:
    """The column of the words in a row of a list, below which they go on: 0 in other texts, and past half the width."""
    label = _LABEL.match(line)
    return label.end() if label and label.end() <= width // 2 else 0


def line_starts(line: str, width: int, hang: int = 0) -> list[int]:
    """Where further lines begin when one line of text is to be no wider: places in the text, its blanks kept.

    Further lines are narrower by ``hang``. What alone is wider than a line goes on in the next.
    """
    starts, start = list[int](), 0
    for found in _WORD.finditer(kept_together(line)):
        if found.end() - start > (width - hang if starts else width) and found.start() > start:
            start = found.start()
            starts.append(start)
        while found.end() - start > (room := width - hang if starts else width):
            start += room
            starts.append(start)
    return starts
