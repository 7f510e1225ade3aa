"""``sleeve-tutor progress``: what has been done, lesson by lesson and week by week, and which mistakes were made."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tutor.commands.progress_weeks import Done
    from tutor.record import LessonProgress, Record

SUMMARY = "show what has been done, which mistakes were made, and how it went week by week"
DESCRIPTION = """\
Without a word all of it; lessons, mistakes or weeks alone. Shows how each lesson stands: not begun, begun, shown (a
worked solution was looked at in place of passing), or passed; how many of its tasks are passed, the best mark out of
100 as the mean over its tasks, the number of tries, and when it was last worked at. Then each kind of mistake that was
recognised, and how often; and week by week how many answers to each lesson were right of how many, and how often each
mistake was made, quizzes counted. --plot draws the weeks. With --csv marks are out of 100 too, with --json from 0 to 1.
"""
EXAMPLE = "sleeve-tutor progress --csv > progress.csv"
HEADER = ("number", "lesson", "standing", "tasks passed", "tasks", "best mark", "tries", "last")
FORMULA = ("=", "+", "-", "@")
"""What a spreadsheet takes a cell that begins with it for."""


OPEN_QUIZ = "A quiz is open: sleeve-tutor quiz goes on with it."
LESSONS, MISTAKES, WEEKS = "lessons", "mistakes", "weeks"
USUAL_WEEKS, MOST_WEEKS = 8, 520


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("about", nargs="?", choices=(LESSONS, MISTAKES, WEEKS), help="one of these alone")
    parser.add_argument("--weeks", type=int, default=USUAL_WEEKS, metavar="N", help="how many weeks; 8 if left out")
    parser.add_argument("--plot", action="store_true", help="draw the weeks: all answers, each lesson, each mistake")
    parser.add_argument("--ascii", action="store_true", help="draw with plain letters instead of braille")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="print a table for a spreadsheet, in UTF-8")
    form.add_argument("--json", action="store_true", help="print JSON alone: marks from 0 to 1, times in UTC")


def run(args: argparse.Namespace) -> int:
    import sys

    from tutor.commands.progress_weeks import Done, print_weeks_csv, weeks_json
    from tutor.lesson.listing import whole_listing
    from tutor.record import open_record

    _check(args)
    with open_record() as record:
        progress, attempts = record.progress(whole_listing()[0]), record.attempts()
        quiz = record.has_open_quiz()
        notice = record.take_notice()
    if notice:
        print(f"sleeve-tutor: {notice}", file=sys.stderr)
    done = Done.of(progress, attempts, args.weeks)
    if args.json:
        from tutor.commands.output import print_json

        tables = {LESSONS: _lessons_json(progress), **weeks_json(done)}
        print_json({name: table for name, table in tables.items() if args.about in (None, name)})
    elif args.csv and args.about in (None, LESSONS):
        _print_csv(progress)
    elif args.csv:
        print_weeks_csv(done, args.about)
    else:
        _print_all(args, progress, done)
        if quiz and args.about in (None, LESSONS) and not args.plot:
            print(f"\n{OPEN_QUIZ}")
    return 0


def _check(args: argparse.Namespace) -> None:
    """Raises Fault for options that don't go together, or make no sense."""
    from tutor.faults import Fault

    if not 1 <= args.weeks <= MOST_WEEKS:
        raise Fault("--weeks", f"{args.weeks} is no number of weeks", f"write 1 to {MOST_WEEKS}")
    if args.plot and (args.csv or args.json):
        raise Fault("--plot", "can't be given with --csv or --json", "leave one of them out")
    if args.ascii and not args.plot:
        raise Fault("--ascii", "is for the plot, which isn't asked for", "add --plot")


def _print_all(args: argparse.Namespace, progress: tuple[LessonProgress, ...], done: Done) -> None:
    from tutor.commands.progress_weeks import print_mistakes, print_plot, print_weeks

    if args.about in (None, LESSONS) and not args.plot:
        _print_table(progress)
    if args.about in (None, MISTAKES) and not args.plot:
        print_mistakes(done, spaced=args.about is None)
    if args.plot:
        print_plot(done, args.about, ascii=args.ascii)
    elif args.about in (None, WEEKS):
        print_weeks(done, spaced=args.about is None)


def progress_rows(record: Record) -> list[tuple[str, ...]]:
    """How every lesson stands, as rows of a table with their heads first; not when it was last worked at."""
    from tutor.lesson.listing import whole_listing

    return [row[:-1] for row in _rows(record.progress(whole_listing()[0]))]


def _print_table(progress: tuple[LessonProgress, ...]) -> None:
    from tutor.commands.terminal import page

    print("\n".join(page().table(_rows(progress))))


def _rows(progress: tuple[LessonProgress, ...]) -> list[tuple[str, ...]]:
    from tutor.faults import printable
    from tutor.marking.points import out_of_100

    rows: list[tuple[str, ...]] = [("lesson", "standing", "tasks", "best mark", "tries", "last")]
    for each in progress:
        mark = "" if each.best_mark is None else str(out_of_100(each.best_mark))
        last = "" if each.last is None else f"{each.last.astimezone():%Y-%m-%d}"
        tries = str(each.tries or "")
        title = printable(f"{each.number:>2}  {each.title}")
        rows.append((title, each.standing, f"{each.passed}/{each.tasks}", mark, tries, last))
    return rows


def _print_csv(progress: tuple[LessonProgress, ...]) -> None:
    from tutor.commands.output import print_csv

    rows: list[tuple[object, ...]] = [HEADER]
    for each in progress:
        mark = "" if each.best_mark is None else f"{100 * each.best_mark:.6g}"
        last = "" if each.last is None else each.last.isoformat()
        rows.append((each.number, cell(each.title), each.standing, each.passed, each.tasks, mark, each.tries, last))
    print_csv(rows)


def cell(text: str) -> str:
    """The text for a cell of a spreadsheet: one line, and kept from being taken for a formula."""
    from tutor.faults import printable

    line = printable(text)
    return f"'{line}" if line.lstrip().startswith(FORMULA) else line


def _lessons_json(progress: tuple[LessonProgress, ...]) -> list[dict[str, Any]]:
    return [
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
