"""``completion``: words for the shell to complete commands by."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

SUMMARY = "print what has a shell complete commands"
DESCRIPTION = (
    "Prints a script that has a shell complete the commands, their options, file names and the numbers of lessons with "
    "Tab. Load it where the shell starts: for bash, in ~/.bashrc; for zsh, in a file named _sleeve-tutor in a folder "
    "of $fpath; for tcsh, in ~/.tcshrc. Lessons of your own are in it once it is printed anew."
)
EXAMPLE = "sleeve-tutor completion bash > ~/.local/share/bash-completion/completions/sleeve-tutor"
SHELLS = ("bash", "zsh", "tcsh")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shell", choices=SHELLS, help="the shell that is to complete")


def run(args: argparse.Namespace) -> int:
    import shtab

    from tutor.lesson.listing import whole_listing

    numbers = [str(lesson.number) for lesson in whole_listing()[0]]
    for action in _actions(args.parser):
        _complete(action, shtab.FILE, shtab.DIRECTORY, numbers)
    print(shtab.complete(args.parser, shell=args.shell))
    return 0


def _complete(action: Any, files: Any, folders: Any, numbers: list[str]) -> None:
    """Says what an argument is completed to, if it is no choice of its own."""
    if action.dest == "lesson":
        action.choices = numbers
    elif action.metavar == "FOLDER":
        action.complete = folders
    elif action.type is Path or action.metavar in ("PATTERN", "PLAN", "FILE"):
        action.complete = files


def _actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from _actions(command)
