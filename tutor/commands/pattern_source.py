"""The pattern and the arm a command is asked about."""

from __future__ import annotations

import sys
from pathlib import Path

from tutor.commands.options import length_of
from tutor.faults import Fault
from tutor.file_reading import read_bytes
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_tree import LARGEST_FILE
from tutor.units import Unit

SMALLEST_ARM, GREATEST_ARM = 50.0, 1500.0
"""mm; girths of arms that are believed."""


def read_pattern(name: str) -> Pattern:
    """The pattern in the SVG file of this name, or on standard input for ``-``. Raises Fault."""
    if name == "-":
        if sys.stdin is None:
            raise Fault("standard input", "is closed", "name a file, or send the pattern there")
        return read_svg(sys.stdin.buffer.read(LARGEST_FILE + 1), "standard input")
    return read_svg(read_bytes(Path(name), LARGEST_FILE), name)


def arm_of(text: str | None, unit: Unit) -> float | None:
    """The girth of the arm in mm, if one was given. Raises Fault for no length, or none of an arm."""
    girth = length_of(text, "--arm", unit)
    if girth is not None and not SMALLEST_ARM <= girth <= GREATEST_ARM:
        raise Fault("--arm", f"{girth / 10:.6g} cm is not the girth of an arm", "give one from 5 to 150 cm")
    return girth
