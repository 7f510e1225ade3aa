"""``sleeve-tutor learn``: one lesson."""

from __future__ import annotations

import argparse
import shutil
import sys

from tutor.commands.home import open_tutor
from tutor.commands.options import add_seed, add_units, check_seed, unit_of
from tutor.faults import Fault

SUMMARY = "open a lesson"
DESCRIPTION = """\
Opens a lesson in the tutor, or the list of lessons when none is named. With --plain the same lesson is talked
through line by line, for a screen reader, a slow line or a pipe: it reads a line, prints lines, and ends with a
mark; the exit status is then 1 unless the lesson is passed. Either way what is done is kept after every step, and the
lesson goes on where it was left. With --seed the lesson is set for another arm and
another block, always the same ones for the same number.
"""
EXAMPLE = "sleeve-tutor learn 4 --plain"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("lesson", nargs="?", metavar="LESSON", help="its number, its name, or the path of its file")
    parser.add_argument("--plain", action="store_true", help="line by line instead of on the whole screen")
    parser.add_argument("--ascii", action="store_true", help="plain letters alone, in pictures and in text")
    add_seed(parser)
    add_units(parser)


def run(args: argparse.Namespace) -> int:
    check_seed(args)
    if args.seed is not None and args.lesson is None:
        raise Fault("--seed", "numbers a variant of a lesson, and none is named", "name one, as in learn 4 --seed 7")
    if not args.plain:
        return open_tutor(args.lesson, args)
    return _talk(args)


def _talk(args: argparse.Namespace) -> int:
    from tutor.lesson.reading import find_lesson
    from tutor.practice.plain import run_plain
    from tutor.practice.session import Session
    from tutor.record import open_record

    if args.lesson is None:
        raise Fault("--plain", "needs a lesson", "name one, as in learn 4 --plain; sleeve-tutor lessons lists them")
    if sys.stdin is None:
        raise Fault("", "there is nothing to read answers from", "give standard input")
    lesson = find_lesson(args.lesson)
    columns = shutil.get_terminal_size((80, 24)).columns
    unit, ascii = unit_of(args), True if args.ascii else None
    with open_record() as record:

        def keep(session: Session) -> str:
            record.save(session)
            return record.take_notice()

        session = record.resume(lesson, args.seed)[0]
        resumed = session is not None
        session = session or Session(lesson, unit, args.seed)
        session.unit = unit
        return run_plain(session, sys.stdin, sys.stdout, max(columns, 20), ascii=ascii, keep=keep, resumed=resumed)
