"""``sleeve-tutor lessons``: what there is to learn; and whether a lesson file is right."""

from __future__ import annotations

import argparse
from pathlib import Path

from tutor.commands.options import add_json, add_units
from tutor.faults import Fault

SUMMARY = "list the lessons, or check lesson files"
DESCRIPTION = """\
Lists the lessons. With check, reads lesson files and reports every fault in them, each with its file, line and
key, and what would be right; then tries every task out on itself: its own solution must get full marks. The exit
status is 1 if there was a fault.
"""
EXAMPLE = "sleeve-tutor lessons check my-lesson.toml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("action", nargs="?", choices=("check",), help="check lesson files instead of listing lessons")
    parser.add_argument("paths", nargs="*", type=Path, metavar="PATH", help="a lesson file, or a folder of them")
    add_units(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    if args.action == "check":
        if not args.paths:
            raise Fault("lessons check", "no file is named", "give the path of a lesson file")
        return _check([file for path in args.paths for file in _files(path)], as_json=args.json)
    _list(as_json=args.json)
    return 0


def _list(*, as_json: bool) -> None:
    from tutor.commands.output import print_json
    from tutor.lesson.reading import list_lessons

    lessons = list_lessons()
    if as_json:
        keys = ("number", "name", "part", "title", "version")
        print_json({"lessons": [{key: getattr(lesson, key) for key in keys} for lesson in lessons]})
        return
    part = ""
    for lesson in lessons:
        if lesson.part != part:
            part = lesson.part
            print(part)
        print(f"{lesson.number:>4}  {lesson.title}")


def _files(path: Path) -> list[Path]:
    """The file, or the lesson files of the folder. Raises Fault when there is none, or it can't be read."""
    from tutor.toml_reading import read_bytes

    if not path.is_dir():
        read_bytes(path)
        return [path]
    files = sorted(path.glob("*.toml"))
    if not files:
        raise Fault(str(path), "has no lesson file in it", "give a folder with files that end in .toml")
    return files


def _faults(path: Path) -> list[Fault]:
    """What is wrong with the file; or, when nothing is, with the lesson when it is tried out."""
    from tutor.lesson.reading import check_lesson, read_lesson
    from tutor.practice.proving import prove_lesson

    return check_lesson(path) or prove_lesson(read_lesson(path))


def _check(files: list[Path], *, as_json: bool) -> int:
    """Prints the faults of all files, and returns the exit status."""
    from tutor.commands.output import print_json

    faults = {path: _faults(path) for path in files}
    found = [fault for each in faults.values() for fault in each]
    if as_json:
        print_json(
            {
                "checked": [str(path) for path in files],
                "faults": [
                    {"file": str(path), "where": fault.where, "what": fault.what, "right": fault.right}
                    for path, each in faults.items()
                    for fault in each
                ],
            }
        )
    else:
        for fault in found:
            print(fault)
        right = sum(not each for each in faults.values())
        print(f"{right} of {len(files)} right" if len(files) > 1 or found else "right")
    return 1 if found else 0
