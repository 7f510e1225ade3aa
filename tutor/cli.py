"""The command line: what is asked for, and one clear line when it can't be done."""

from __future__ import annotations

import argparse
import contextlib
import importlib
import os
import sys
import textwrap
import traceback
from collections.abc import Sequence
from pathlib import Path

from tutor import __version__
from tutor.commands.options import add_units
from tutor.commands.parser import Parser
from tutor.commands.spare_words import fault_of
from tutor.faults import Fault, printable
from tutor.letters import spell_out

NAME = "sleeve-tutor"
COMMANDS = ("learn", "quiz", "lessons", "measure", "alter", "draft", "sheet", "mark", "progress", "completion")
DESCRIPTION = """\
A tutor for altering sleeve patterns. Without a command it opens at the list
of lessons, and needs a terminal: 80 x 24 is enough for everything, and 60 x 20
works. Every command works without one. What is done and the settings are kept
in the user's own folders, or in the one that SLEEVE_TUTOR_DATA names."""
STATUS = """\
exit status:
  0  done
  1  the answer or the check did not pass
  2  wrong use, or input that can't be read

environment:
  SLEEVE_TUTOR_DATA  the folder for all that is kept, so that people who share
                     a computer each have one
  NO_COLOR           if it is set, nothing is in colour
  COLUMNS            how wide lines are, if not as wide as the terminal
  LC_ALL, LANG       C or POSIX: plain letters alone, as with --ascii

files:
  on Linux ~/.local/share/sleeve-tutor has the record and lessons of your own,
  ~/.config/sleeve-tutor/settings.toml the settings; other systems have places
  of their own

learn what a command does by its --help, such as sleeve-tutor learn --help"""
HELP_WIDTH = 78
LONGEST_LINE = 600
DONE, NOT_PASSED, WRONG_USE, STOPPED, UNREAD = 0, 1, 2, 130, 141
"""The last two are 128 and the number of the signal, as shells have it: SIGINT 2, SIGPIPE 13."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Does what the arguments ask for, and returns the exit status. No exception leaves it."""
    try:
        _expect_any_output()
        status = _run(sys.argv[1:] if arguments is None else arguments)
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except Fault as fault:
        return _complain(*map(str, getattr(fault, "faults", (fault,))))
    except KeyboardInterrupt:
        _complain("stopped")
        return STOPPED
    except BrokenPipeError:
        # Whoever read the output wanted no more of it, and has no use for a message either.
        _drop_output()
        return UNREAD
    except OSError as error:
        _drop_output()
        place = error.filename if isinstance(error.filename, str) else "output"
        return _complain(str(Fault(place, error.strerror or str(error))))
    except Exception as error:
        return _complain(_own_fault(error))


def _run(arguments: Sequence[str]) -> int:
    parser = _parser()
    try:
        args, unknown = parser.parse_known_args(arguments)
    except SystemExit as leaving:
        return int(leaving.code or DONE)
    command = importlib.import_module(f"tutor.commands.{args.command or 'home'}")
    many = getattr(command, "MANY", "")
    if many and not any(word.startswith("-") for word in unknown):
        # argparse takes all paths to stand together; they may have options between them.
        getattr(args, many).extend(map(Path, unknown))
        unknown = []
    if unknown:
        raise fault_of(unknown, parser, args.command, arguments)
    status: int = command.run(args)
    return status


def _parser() -> Parser:
    parser = Parser(
        prog=NAME,
        description=DESCRIPTION,
        epilog=STATUS,
        allow_abbrev=False,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"{NAME} {__version__}")
    add_units(parser)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for name in COMMANDS:
        module = importlib.import_module(f"tutor.commands.{name}")
        command = commands.add_parser(
            name,
            help=module.SUMMARY,
            description=textwrap.fill(module.DESCRIPTION, HELP_WIDTH),
            epilog=f"example:\n  {module.EXAMPLE}",
            allow_abbrev=False,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        module.add_arguments(command)
    # For what completes its words.
    parser.set_defaults(parser=parser)
    return parser


def _expect_any_output() -> None:
    """Readies the program for outputs that are closed, or lack letters."""
    if sys.stderr is None:
        # What is printed to no file at all would go to standard output.
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        spell_out(stream)


def _complain(*lines: str) -> int:
    """Prints each line to standard error under the program's name."""
    for line in lines:
        text = printable(line)
        shown = text if len(text) <= LONGEST_LINE else f"{text[:LONGEST_LINE]}…"
        with contextlib.suppress(OSError):
            print(f"{NAME}: {shown}", file=sys.stderr)
    return WRONG_USE


def _own_fault(error: Exception) -> str:
    """An error that nobody but the program has made, with the place in it that is to be looked at."""
    frames = traceback.extract_tb(error.__traceback__)
    package = Path(__file__).parent
    own = [frame for frame in frames if Path(frame.filename).is_relative_to(package)]
    place = f"{Path(own[-1].filename).relative_to(package.parent).as_posix()}, line {own[-1].lineno}" if own else "?"
    what = " ".join(f"{type(error).__name__}: {error}".split())
    return f"this is a fault of the program, at {place}: {what}"


def _drop_output() -> None:
    """Sends what is left of the output nowhere, so that closing it can't fail again."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
