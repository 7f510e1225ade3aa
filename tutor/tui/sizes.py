"""What a screen's size goes by in the style sheet."""

from __future__ import annotations

from tutor.tui.small import LEAST

WIDTHS = ((0, "-tiny"), (LEAST[0], "-narrow"), (76, "-normal"), (116, "-wide"), (180, "-vast"))
HEIGHTS = ((0, "-low"), (LEAST[1], "-short"), (30, "-tall"))
"""From how many columns and rows a screen has these classes."""


def size_classes(columns: int, rows: int) -> str:
    """The classes of a screen of this size. One that has them from the beginning is laid out once and not twice."""
    return " ".join(
        next(name for least, name in reversed(steps) if size >= least)
        for size, steps in ((columns, WIDTHS), (rows, HEIGHTS))
    )
