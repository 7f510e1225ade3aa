"""``sleeve-tutor progress``: what has been done, lesson by lesson."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tutor.record import LessonProgress

SUMMARY = "show what has been done, lesson by lesson"
DESCRIPTION = """\
Shows how each lesson stands: not begun, begun, shown (a worked solution was looked at in place of passing), or passed;
how many of its tasks are passed, the best mark out of 100 as the mean over its tasks, the number of tries, and when
it was last worked at. With --csv marks are out of 100 too, with --json from 0 to 1.
"""
EXAMPLE = "sleeve-tutor progress --csv > progress.csv"
HEADER = ("number", "lesson", "standing", "tasks passed", "tasks", "best mark", "tries", "last")
FORMULA = ("=", "+", "-", "@")
"""What a spreadsheet takes a cell that begins with it for."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="print a table for a spreadsheet, UTF-8 where that is set")
    form.add_argument("--json", action="store_true", help="print JSON alone: marks from 0 to 1, times in UTC")


def run(args: argparse.Namespace) -> int:
    import sys

    from tutor.lesson.listing import whole_listing
    from tutor.record import open_record

    with open_record() as record:
        progress = record.progress(whole_listing()[0])
        notice = record.take_notice()
    if notice:
        print(f"sleeve-tutor: {notice}", file=sys.stderr)
    if args.json:
        _print_json(progress)
    elif args.csv:
        _print_csv(progress)
    else:
        _print_table(progress)
    return 0


def _print_table(progress: tuple[LessonProgress, ...]) -> None:
    from tutor.commands.output import print_table
    from tutor.faults import printable

    rows = [("lesson", "standing", "tasks", "best mark", "tries", "last")]
    for each in progress:
        mark = "" if each.best_mark is None else f"{100 * each.best_mark:.0f}"
        last = "" if each.last is None else f"{each.last.astimezone():%Y-%m-%d %H:%M}"
        tries = str(each.tries or "")
        title = printable(f"{each.number:>2}  {each.title}")
        rows.append((title, each.standing, f"{each.passed}/{each.tasks}", mark, tries, last))
    print_table(rows)


def _print_csv(progress: tuple[LessonProgress, ...]) -> None:
    import csv
    import sys

    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(HEADER)
    for each in progress:
        mark = "" if each.best_mark is None else f"{100 * each.best_mark:.6g}"
        last = "" if each.last is None else each.last.isoformat()
        row = (each.number, cell(each.title), each.standing, each.passed, each.tasks, mark, each.tries, last)
        writer.writerow(row)


def cell(text: str) -> str:
    """The text for a cell of a spreadsheet: one line, and kept from being taken for a formula."""
    from tutor.faults import printable

    line = printable(text)
    return f"'{line}" if line.lstrip().startswith(FORMULA) else line


def _print_json(progress: tuple[LessonProgress, ...]) -> None:
    from tutor.commands.output import print_json

    lessons = [
        {
            "number": each.number,
            "name": each.lesson,
            "title": each.title,
            "standing": each.standing,
            "tasks-passed": each.passed,
            "tasks": each.tasks,
            "best-mark": each.best_mark,
            "tries": each.tries,
            "last": None if each.last is None else each.last.isoformat(),
        }
        for each in progress
    ]
    print_json({"lessons": lessons})
