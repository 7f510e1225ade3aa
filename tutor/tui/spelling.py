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
    """A text in a column of so many letters: filled up, or cut."""
    return (text if len(text) <= width else f"{text[: width - 1].rstrip(' ,')}…").ljust(width)
