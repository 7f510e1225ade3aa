"""``sleeve-tutor quiz``: a drawn set of questions."""

from __future__ import annotations

import argparse
import shutil
import sys
from typing import TYPE_CHECKING

from tutor.commands.options import add_units, unit_of
from tutor.faults import Fault

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tutor.lesson.lesson import Lesson
    from tutor.quiz.quiz import Quiz
    from tutor.quiz.sitting import Sitting
    from tutor.quiz.spec import QuizSpec
    from tutor.record import Record

SUMMARY = "take a quiz over chosen lessons"
DESCRIPTION = """\
Draws questions over the lessons chosen, each for another arm and another block: figures to work out or to choose,
patterns to alter, mistakes to find in altered patterns. The same seed draws the same quiz everywhere. There are no
hints. Marks come at the end, or for single questions when they are asked for; then the mistakes recognised, and what
to practise next. A quiz left goes on where it was: without options this opens the one under way. The exit status
is 1 unless the quiz is handed in and passed.
"""
EXAMPLE = "sleeve-tutor quiz --lessons 4-7 --count 8 --seed 11 --plain"
NEW_SEEDS = 1_000_000
DRAWING = ("lessons", "count", "seed", "minutes", "pauses", "pass_mark", "marks")
"""The options that say what quiz is wanted."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    drawing = parser.add_argument_group("the quiz")
    drawing.add_argument("--lessons", metavar="LIST", help="numbers or names, as 4,6-7; all lessons if left out")
    drawing.add_argument("--count", type=int, metavar="N", help="how many questions")
    drawing.add_argument("--seed", type=int, metavar="N", help="draw the quiz of this number; else any")
    drawing.add_argument("--minutes", type=int, metavar="N", help="the time there is; without it, no limit")
    drawing.add_argument(
        "--pauses", choices=("count", "stop"), help="whether the time runs on while the quiz is closed; it does"
    )
    drawing.add_argument("--pass-mark", type=float, metavar="SHARE", help="what passes, as 0.7 for 70 of 100")
    drawing.add_argument(
        "--marks", choices=("asked", "end"), help="marks for single questions when asked for, or at the end alone"
    )
    taking = parser.add_argument_group("taking it")
    taking.add_argument("--new", action="store_true", help="begin a new one, and leave the one under way for good")
    taking.add_argument("--plain", action="store_true", help="line by line instead of on the whole screen")
    taking.add_argument("--ascii", action="store_true", help="plain letters alone, in pictures and in text")
    add_units(parser)


def run(args: argparse.Namespace) -> int:
    if not args.plain:
        raise Fault("quiz", "is taken line by line", "add --plain")
    if sys.stdin is None:
        raise Fault("", "there is nothing to read answers from", "give standard input")
    return _talk(args)


def _talk(args: argparse.Namespace) -> int:
    from tutor.lesson.reading import list_lessons
    from tutor.quiz.plain import run_quiz
    from tutor.record import open_record

    unit, ascii = unit_of(args), True if args.ascii else None
    columns = shutil.get_terminal_size((80, 24)).columns
    lessons = {lesson.name: lesson for lesson in list_lessons()}
    with open_record() as record:

        def keep(sitting: Sitting) -> str:
            record.save_quiz(sitting)
            return record.take_notice()

        sitting, resumed = open_quiz(args, lessons, record)
        sitting.unit = unit
        return run_quiz(sitting, sys.stdin, sys.stdout, max(columns, 20), ascii=ascii, keep=keep, resumed=resumed)


def open_quiz(args: argparse.Namespace, lessons: Mapping[str, Lesson], record: Record) -> tuple[Sitting, bool]:
    """The quiz that is asked for, and whether it was under way already. Raises Fault for one that can't be."""
    from tutor.quiz.sitting import Sitting

    quiz = _quiz(args, lessons) if args.new or _is_described(args) else None
    under_way = record.resume_quiz(lessons, None if quiz is None or args.new else quiz.digest)
    if under_way is not None and args.new:
        record.give_up_quiz(under_way)
    elif under_way is not None:
        return under_way, True
    return Sitting(quiz or _quiz(args, lessons), lessons, unit_of(args)), False


def _is_described(args: argparse.Namespace) -> bool:
    return any(getattr(args, name) is not None for name in DRAWING)


def _quiz(args: argparse.Namespace, lessons: Mapping[str, Lesson]) -> Quiz:
    from tutor.quiz.drawing import draw_quiz

    return draw_quiz(_spec(args, lessons), lessons)


def _spec(args: argparse.Namespace, lessons: Mapping[str, Lesson]) -> QuizSpec:
    """What the options describe. Raises Fault, in the options' words, for what can't be."""
    import secrets

    from tutor.quiz.lesson_names import ALL, lessons_named
    from tutor.quiz.spec import QuizSpec, spec_faults

    given = {name: getattr(args, name) for name in DRAWING[1:] if getattr(args, name) is not None}
    given.setdefault("seed", secrets.randbelow(NEW_SEEDS))
    try:
        spec = QuizSpec(lessons_named(ALL if args.lessons is None else args.lessons, lessons), **given)
        faults = spec_faults(spec)
        if faults:
            raise faults[0]
    except Fault as fault:
        raise Fault(f"--{fault.where}", fault.what, fault.right) from None
    return spec
