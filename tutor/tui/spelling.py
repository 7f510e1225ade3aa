"""Our own words for a terminal that may know nothing but ASCII."""

from __future__ import annotations

from functools import lru_cache

from tutor.picture.letters import spelled

_OURS = str.maketrans(
    {
        "·": "-",
        "…": "~",
        "↑": "up",
        "↓": "down",
        "←": "left",
        "→": "right",
        "≤": "<=",
        "≥": ">=",
        "±": "+-",
    }
)


@lru_cache(maxsize=4096)
def spelled_out(text: str, *, ascii: bool) -> str:
    """A text of any number of lines; in ASCII arrows become words, and what can't be spelled a question mark."""
    if not ascii:
        return "\n".join(spelled(line, ascii=False) for line in text.split("\n"))
    plain = text.replace("↑↓", "up and down").translate(_OURS)
    return "\n".join(spelled(line, ascii=True) for line in plain.split("\n"))


def fitted(text: str, width: int) -> str:
    """A text in a column of so many letters: filled up, or cut after a word where that keeps most of it."""
    if len(text) <= width:
        return text.ljust(width)
    kept = text[: width - 1]
    words = kept if text[width - 1] == " " else kept.rpartition(" ")[0]
    kept = words if 2 * len(words) >= width else kept
    return f"{kept.rstrip(' ,')}…".ljust(width)
