"""``sleeve-tutor lessons``: what there is to learn; and whether a lesson file is right."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.commands.options import add_json, add_units
from tutor.faults import Fault

if TYPE_CHECKING:
    from tutor.practice.proving import Proof

SUMMARY = "list the lessons, check lesson files, begin a new one"
DESCRIPTION = """\
Lists the lessons, your own among them. With new and a NAME, begins a lesson of your own in your folder of lessons, or
at a path that ends in .toml, and prints its path; nothing is written over. With check, reads lesson files and reports
every fault in them, each with its file, line and key, and what would be right; then tries every task out on itself,
as written and in --seeds variants: its own solution must get full marks, the untouched pattern must not pass, and
each usual mistake must be the one that is named. Mistakes that can't be told apart are listed as well. Without a PATH
the lessons that come along are checked. The exit status is 1 if there was a fault. With names, lists every name of a
measure, place, means, mistake, cause or sign that a lesson file can use, with what it means.
"""
MANY = "paths"
REMARKS = "No faults, but good to know when answers are marked:"
MOST_SEEDS = 10_000
EXAMPLE = "sleeve-tutor lessons check my-lesson.toml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "action",
        nargs="?",
        choices=("check", "new", "names"),
        help="check lesson files, begin a new one, or list the names that files use",
    )
    parser.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH", help="a lesson file, or a folder of them; the name of a new one"
    )
    parser.add_argument(
        "--seeds", type=int, default=0, metavar="N", help="check each lesson in N variants as well (none if left out)"
    )
    add_units(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    if args.seeds and args.action != "check":
        raise Fault("--seeds", "is for lessons check", "write lessons check first")
    if args.action == "check":
        from tutor.resources import lessons_folder

        if not 0 <= args.seeds <= MOST_SEEDS:
            raise Fault("--seeds", f"{args.seeds} is no number of variants", f"write 0 to {MOST_SEEDS}")
        paths = args.paths or [lessons_folder()]
        return _check([file for path in paths for file in _files(path)], args.seeds, as_json=args.json)
    if args.action == "new":
        return _new(args.paths)
    if args.action == "names":
        return _names(args.paths, as_json=args.json)
    _list(as_json=args.json)
    return 0


def _names(paths: list[Path], *, as_json: bool) -> int:
    from tutor.commands.lesson_names import lesson_names, print_names
    from tutor.commands.output import print_json

    if paths:
        raise Fault("names", "lists the names that all lesson files use", "leave out what comes after it")
    names = lesson_names()
    if as_json:
        print_json(names)
    else:
        print_names(names)
    return 0


def _new(paths: list[Path]) -> int:
    from tutor.commands.new_lesson import new_lesson

    if len(paths) != 1:
        raise Fault("new", "begins one lesson", "give one name, as in lessons new my-lesson")
    print(new_lesson(paths[0]))
    return 0


def _list(*, as_json: bool) -> None:
    from tutor.commands.output import print_json
    from tutor.lesson.listing import whole_listing

    lessons, faults = whole_listing()
    for fault in faults:
        print(f"sleeve-tutor: {fault}", file=sys.stderr)
    if as_json:
        keys = ("number", "name", "part", "title", "version", "after")
        print_json({"lessons": [{key: getattr(lesson, key) for key in keys} for lesson in lessons]})
        return
    part = ""
    for lesson in lessons:
        if lesson.part != part:
            part = lesson.part
            print(part)
        after = f" (after {', '.join(map(str, lesson.after))})" if lesson.after else ""
        print(f"{lesson.number:>4}  {lesson.title}{after}")


def _files(path: Path) -> list[Path]:
    """The file, or the lesson files of the folder. Raises Fault when there is none, or it can't be read."""
    from tutor.file_reading import read_bytes

    if not path.is_dir():
        _check_place(path)
        read_bytes(path)
        return [path]
    files = sorted(path.glob("*.toml"))
    if not files:
        raise Fault(str(path), "has no lesson file in it", "give a folder with files that end in .toml")
    return files


def _check_place(path: Path) -> None:
    """Raises Fault for the bare name of a lesson of a person's own, and says where that lies."""
    from tutor.settings import lessons_of_ones_own

    folder = lessons_of_ones_own()
    if folder is None or path.exists() or path.name != str(path):
        return
    lies = folder / (path.name if path.suffix == ".toml" else f"{path.name}.toml")
    if lies.is_file():
        raise Fault(str(path), "there is no such file here", f"your lesson of that name is {lies}")


def _proof(path: Path, seeds: int, went_on: Callable[[str], None]) -> Proof:
    """What is wrong with the file; or, when nothing is, with the lesson when it is tried out."""
    from tutor.lesson.listing_checking import elsewhere
    from tutor.lesson.reading import check_lesson, read_lesson
    from tutor.practice.proving import Proof, prove

    faults = check_lesson(path) or elsewhere(path)
    return Proof(tuple(faults), ()) if faults else prove(read_lesson(path), seeds, went_on)


def _check(files: list[Path], seeds: int, *, as_json: bool) -> int:
    """Prints the faults of all files and what can't be told apart, and returns the exit status."""
    from tutor.commands.output import print_json
    from tutor.commands.progress_line import ProgressLine

    line = ProgressLine("checked", len(files) * (1 + seeds))
    # One lesson without variants takes no time that anybody would have to be told of.
    tells = seeds or (len(files) > 1 and sys.stderr.isatty())
    proofs = {path: _proof(path, seeds, line.step if tells else lambda what: None) for path in files}
    line.done()
    found = [(path, fault) for path, proof in proofs.items() for fault in proof.faults]
    if as_json:
        print_json(
            {
                "checked": [str(path) for path in files],
                "faults": [
                    {"file": str(path), "where": fault.where, "what": fault.what, "right": fault.right}
                    for path, fault in found
                ],
                "alike": [remark for proof in proofs.values() for remark in proof.remarks],
            }
        )
        return 1 if found else 0
    for _, fault in found:
        print(fault)
    remarks = [remark for proof in proofs.values() for remark in proof.remarks]
    if remarks:
        print(REMARKS)
    for remark in remarks:
        print(f"  {remark}")
    right = sum(not proof.faults for proof in proofs.values())
    print(f"{right} of {len(files)} right" if len(files) > 1 or found else "right")
    return 1 if found else 0
