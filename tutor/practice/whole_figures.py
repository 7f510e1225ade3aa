"""Figures kept whole where a text is broken into lines: none is parted from its fraction or its unit."""

from __future__ import annotations

import re

NO_BREAK = "\N{NO-BREAK SPACE}"

_UNITS = "cm²|cm|mm|sq in|in|inch|inches|deg|degrees|degree|per cent|%"
_FIGURE = re.compile(rf"(?<![\w.,/])[+\-±]?\d[\d.,]*(?:/\d+)?(?: \d+/\d+)?(?: ?(?:{_UNITS})(?![\w/]))?")
"""A figure with its fraction and its unit: ``2.5 cm``, ``13 3/4 in``, ``5 per cent``."""


def kept_together(text: str) -> str:
    """The text with blanks inside figures, and between a figure and its unit, at which no line is to end."""
    return _FIGURE.sub(lambda found: found[0].replace(" ", NO_BREAK), text)
