"""``sleeve-tutor learn``: one lesson."""

from __future__ import annotations

import argparse
import sys
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from tutor.commands.home import check_streams, check_terminal, open_tutor
from tutor.commands.options import add_seed, add_units, check_seed, unit_of
from tutor.commands.terminal import columns
from tutor.faults import Fault

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.practice.session import Session
    from tutor.record import Record

SUMMARY = "open a lesson"
DESCRIPTION = """\
Opens a lesson in the tutor. When none is named, it offers what is due for practice and says why: what went wrong comes
back the next day, and what was done right before it is forgotten. With --plain the same lesson is talked
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
    if not args.plain and args.lesson is None:
        return _open_due(args)
    if not args.plain:
        return open_tutor(args.lesson, args)
    return _talk(args)


def _open_due(args: argparse.Namespace) -> int:
    """The tutor at what is due for practice; where nothing is, at the list of lessons."""
    from tutor.lesson.reading import every_lesson
    from tutor.practice.offers import offers
    from tutor.record import open_record

    check_terminal()
    lessons = every_lesson()
    with open_record() as record:
        if not offers(record.attempts(), lessons, now()):
            return open_tutor(None, args, record=record)
        from tutor.tui.due_screen import DueScreen

        return open_tutor(None, args, lambda app: DueScreen(app.desk, app.show_lessons), record)


def _talk(args: argparse.Namespace) -> int:
    from tutor.lesson.reading import find_lesson
    from tutor.record import open_record

    check_streams()
    lesson = None if args.lesson is None else find_lesson(args.lesson)
    with open_record() as record:
        if lesson is None:
            return _practise(record, args)
        seed = record.seed_left(lesson) if args.seed is None else args.seed
        return _talk_through(record, args, lesson, seed)[1]


def _talk_through(
    record: Record, args: argparse.Namespace, lesson: Lesson, seed: int | None, task: int | None = None
) -> tuple[Session, int]:
    """A lesson talked through, from one task on where one is named; the session, and the exit status."""
    from tutor.commands.progress import progress_rows
    from tutor.practice.plain import run_plain
    from tutor.practice.session import Session
    from tutor.settings import remember_unit

    def keep(session: Session) -> str:
        record.save(session)
        return record.take_notice()

    unit, ascii = unit_of(args), True if args.ascii else None
    session = record.resume(lesson, seed)[0]
    resumed = session is not None
    session = session or Session(lesson, unit, seed)
    session.unit = unit
    if task is not None:
        session.go_to_task(task)
    status = run_plain(
        session,
        sys.stdin,
        sys.stdout,
        columns(),
        ascii=ascii,
        keep=keep,
        resumed=resumed,
        unit_changed=remember_unit,
        progress=lambda: progress_rows(record),
    )
    return session, status


def now() -> datetime:
    """The time."""
    return datetime.now(UTC)


def _practise(record: Record, args: argparse.Namespace) -> int:
    """Offers what is due; 0 when the task that is chosen is passed, or nothing is due, else 1."""
    from tutor.commands.progress import OPEN_QUIZ
    from tutor.lesson.reading import every_lesson
    from tutor.practice.console import Console
    from tutor.practice.offers import nothing_due, offers
    from tutor.practice.page import Page
    from tutor.practice.plain_due import choose

    lessons = every_lesson()
    tries, today = record.attempts(), now()
    offered = offers(tries, lessons, today)
    going_on = [OPEN_QUIZ] if record.has_open_quiz() else []
    page = Page.on(sys.stdout, columns(), True if args.ascii else None)
    console = Console(sys.stdin, sys.stdout, page)
    if not offered:
        nothing = nothing_due(tries, lessons, today)
        console.say([nothing, "sleeve-tutor lessons lists what there is to learn.", *going_on])
        return 0
    console.say(going_on)
    chosen = choose(offered, console)
    if chosen is None:
        return 1
    session, _ = _talk_through(record, args, chosen.lesson, chosen.seed, chosen.task)
    return 0 if session.standing(chosen.task) == "passed" else 1
