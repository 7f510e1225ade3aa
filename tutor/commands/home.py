"""``sleeve-tutor`` by itself: the tutor, opened at the list of lessons."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

from tutor.commands.options import unit_of
from tutor.faults import Fault

if TYPE_CHECKING:
    from tutor.record import Record
    from tutor.tui.app import Opening


def run(args: argparse.Namespace) -> int:
    return open_tutor(None, args)


def open_tutor(
    lesson: str | None, args: argparse.Namespace, opening: Opening | None = None, record: Record | None = None
) -> int:
    """Opens the full-screen tutor until it is left; at the list, at a lesson, or as ``opening`` says.

    Raises Fault where there is no terminal for it.
    """
    from tutor.settings import remember_unit

    check_terminal()
    unit = unit_of(args)
    from tutor.tui.app import run as run_tutor

    seed, ascii = getattr(args, "seed", None), getattr(args, "ascii", False)
    return run_tutor(lesson, unit, ascii, unit_changed=remember_unit, seed=seed, opening=opening, record=record)


def check_streams() -> None:
    """Raises Fault where nobody can be talked to line by line."""
    for stream, what, right in (
        (sys.stdin, "read answers from", "give standard input"),
        (sys.stdout, "print to", "give standard output"),
    ):
        if stream is None:
            raise Fault("", f"there is nothing to {what}", right)


def check_terminal(word: str = "learn LESSON") -> None:
    """Raises Fault where there is no terminal that can be drawn on; a dumb one can't."""
    streams = (sys.stdin, sys.stdout)
    if all(stream is not None and stream.isatty() for stream in streams) and os.environ.get("TERM") != "dumb":
        return
    right = f"sleeve-tutor {word} --plain talks line by line; sleeve-tutor --help lists what else there is"
    raise Fault("", "the tutor needs a terminal for input and output", right)
