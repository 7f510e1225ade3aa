"""How wide the terminal is that somebody reads on."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tutor.practice.page import Page

USUAL = 80
LEAST = 20
MOST = 160
"""Columns; a table is laid out on no more."""


def page() -> Page:
    """What tables and lists of names are printed on: as wide as ``columns`` says, in the letters of the output."""
    from tutor.letters import takes_every_letter
    from tutor.practice.page import Page

    return Page(min(columns(), MOST), not takes_every_letter(sys.stdout))


def columns() -> int:
    """The columns to print in: what COLUMNS says, else those of the terminal, else 80.

    Where the output goes to a pager or a pipe, the terminal is still that of the messages or of the input.
    """
    with suppress(ValueError):
        if (told := int(os.environ.get("COLUMNS", ""))) > 0:
            return max(told, LEAST)
    for stream in (sys.__stdout__, sys.__stderr__, sys.__stdin__):
        with suppress(AttributeError, ValueError, OSError):
            if stream is not None and (size := os.get_terminal_size(stream.fileno()).columns) > 0:
                return max(size, LEAST)
    return USUAL
