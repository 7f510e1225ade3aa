"""``sleeve-tutor learn``: one lesson."""

from __future__ import annotations

import argparse

from tutor.commands.options import add_units

SUMMARY = "open a lesson"
DESCRIPTION = """\
Opens a lesson in the tutor, or the list of lessons when none is named. With --plain the same lesson is talked
through line by line, for a screen reader, a slow line or a pipe: it reads a line, prints lines, and ends with a
mark; the exit status is then 1 unless the lesson is passed.
"""
EXAMPLE = "sleeve-tutor learn 4 --plain"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("lesson", nargs="?", metavar="LESSON", help="its number, its name, or the path of its file")
    parser.add_argument("--plain", action="store_true", help="line by line instead of on the whole screen")
    parser.add_argument("--ascii", action="store_true", help="draw with plain letters instead of braille")
    add_units(parser)


def run(args: argparse.Namespace) -> int:
    raise NotImplementedError
