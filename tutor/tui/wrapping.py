"""Texts in lines."""

from __future__ import annotations

import textwrap
from functools import lru_cache


@lru_cache(maxsize=128)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The text in lines of at most so many letters; most of what is on the screen stays the same from key to key."""
    if 0 < len(text) <= width and " ".join(text.split()) == text:
        return (text,)
    return tuple(textwrap.wrap(text, max(width, 1)))
