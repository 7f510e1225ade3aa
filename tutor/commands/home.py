"""``sleeve-tutor`` by itself: the tutor, opened at the list of lessons."""

from __future__ import annotations

import argparse
import os
import sys

from tutor.commands.options import unit_of


def run(args: argparse.Namespace) -> int:
    return open_tutor(None, args)


def open_tutor(lesson: str | None, args: argparse.Namespace) -> int:
    """Opens the full-screen tutor until it is left. Raises Fault where there is no terminal for it."""
    from tutor.faults import Fault
    from tutor.settings import remember_unit

    if not _on_terminal():
        right = "sleeve-tutor learn LESSON --plain talks line by line; sleeve-tutor --help lists what else there is"
        raise Fault("", "the tutor needs a terminal for input and output", right)
    unit = unit_of(args)
    from tutor.tui.app import run as run_tutor

    seed = getattr(args, "seed", None)
    return run_tutor(lesson, unit, getattr(args, "ascii", False), unit_changed=remember_unit, seed=seed)


def _on_terminal() -> bool:
    """Whether there is a terminal that can be drawn on; a dumb one can't."""
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams) and os.environ.get("TERM") != "dumb"
