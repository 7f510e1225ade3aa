"""``sleeve-tutor quiz``: a drawn set of questions; quizzes given out to a class, and their results marked again."""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.commands.home import check_streams, check_terminal, open_tutor
from tutor.commands.options import add_units, unit_of
from tutor.commands.terminal import columns
from tutor.faults import Fault

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tutor.lesson.lesson import Lesson
    from tutor.quiz.quiz import Quiz
    from tutor.quiz.sitting import Sitting
    from tutor.quiz.spec import QuizSpec
    from tutor.record import Record

SUMMARY = "take a quiz over chosen lessons, give one out, or mark it again"
DESCRIPTION = """\
Draws questions over the lessons chosen, each for another arm and another block: figures to work out or to choose,
patterns to alter, mistakes to find in altered patterns. The same seed draws the same quiz everywhere. There are no
hints. Marks come at the end, or for single questions when they are asked for; then the mistakes recognised, and what
to practise next. A quiz left goes on where it was: without options this opens the one under way. The exit status is 1
unless the quiz is handed in and passed. With a FILE it is the quiz that a teacher wrote or gave out, and the results
are written to a file as well. quiz give FILE gives a class quiz out as files, one for each learner of --class or
--learner where it says so; quiz mark FILE... marks results files again, and says which were changed since they were
written; quiz results writes those of the quiz last handed in once more.
"""
EXAMPLE = "sleeve-tutor quiz --lessons 4-7 --count 8 --seed 11 --plain"
NEW_SEEDS = 1_000_000
DRAWING = ("lessons", "count", "seed", "minutes", "pauses", "pass_mark", "marks")
"""The options that say what quiz is wanted."""
LESSON_NUMBERS = re.compile(r"\d[\d,-]*")
GIVE, MARK, RESULTS = "give", "mark", "results"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("words", nargs="*", metavar="FILE", help="a quiz file; or give and one, or mark and results")
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
    taking.add_argument("--name", metavar="NAME", help="your name, for a quiz of a class that does not have it")
    taking.add_argument("--plain", action="store_true", help="line by line instead of on the whole screen")
    taking.add_argument("--ascii", action="store_true", help="plain letters alone, in pictures and in text")
    add_units(parser)
    teaching = parser.add_argument_group("for a class")
    teaching.add_argument("--learner", action="append", metavar="NAME", help="give: whom to; may be repeated")
    teaching.add_argument(
        "--class", dest="class_list", type=Path, metavar="LIST", help="give: to everyone of a class, a CSV file"
    )
    teaching.add_argument("--of", type=Path, metavar="FILE", help="mark: the class quiz whose questions they should be")
    teaching.add_argument("--out", type=Path, metavar="PATH", help="give: the folder for files; else the results file")
    teaching.add_argument("--force", action="store_true", help="write over files that are there already")
    form = teaching.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="mark: print a table for a spreadsheet")
    form.add_argument("--json", action="store_true", help="mark: print JSON alone, marks from 0 to 1")


def run(args: argparse.Namespace) -> int:
    from tutor.commands import quiz_class, quiz_results

    first, *rest = args.words or [""]
    if first == GIVE:
        return quiz_class.give(rest, args)
    if first == MARK:
        return quiz_results.mark(rest, args)
    if first == RESULTS:
        if rest:
            raise Fault("quiz results", "takes no file", "leave out what comes after it")
        return _results_again(args)
    _check(args, rest)
    if args.plain:
        check_streams()
    else:
        _check_screen(args)
    return _take(args)


def _check_screen(args: argparse.Namespace) -> None:
    """Raises Fault where there is no screen for it; where the file is no quiz either, for that."""
    try:
        check_terminal("quiz")
    except Fault:
        if args.words:
            from tutor.lesson.reading import every_lesson

            _wanted(args, every_lesson())
        raise


def _check(args: argparse.Namespace, more: list[str]) -> None:
    """Raises Fault for words and options that don't go together."""
    if more:
        raise Fault("quiz", f"takes one file, not {1 + len(more)}", "give the quiz's file alone")
    if args.words and LESSON_NUMBERS.fullmatch(args.words[0]) and not Path(args.words[0]).exists():
        numbers = args.words[0]
        raise Fault(numbers, "is no file of a quiz", f"write --lessons {numbers} for one over these lessons")
    if args.words and is_described(args):
        raise Fault(args.words[0], "says itself what quiz it is", "leave out the options that draw another")
    for name, word in (("learner", GIVE), ("class_list", GIVE), ("of", MARK), ("csv", MARK), ("json", MARK)):
        if getattr(args, name):
            raise Fault(f"--{name.removesuffix('_list')}", f"is for quiz {word}", f"write quiz {word} and a file first")


def _take(args: argparse.Namespace) -> int:
    """Takes the quiz that is asked for; 0 when it is handed in and passed, else 1."""
    from tutor.lesson.reading import every_lesson
    from tutor.record import open_record

    lessons = every_lesson()
    with open_record() as record:
        sitting, resumed = open_quiz(args, lessons, record)
        sitting.unit = unit_of(args)
        status = _talk(args, sitting, record, resumed) if args.plain else _on_screen(args, sitting, record)
    if sitting.learner and sitting.is_over:
        from tutor.commands.quiz_class import write_results

        print(f"Results for whoever set it: {write_results(sitting, args.out, args.force)}")
    return status


def _talk(args: argparse.Namespace, sitting: Sitting, record: Record, resumed: bool) -> int:
    from tutor.quiz.plain import run_quiz

    def keep(sitting: Sitting) -> str:
        record.save_quiz(sitting)
        return record.take_notice()

    ascii = True if args.ascii else None
    return run_quiz(sitting, sys.stdin, sys.stdout, columns(), ascii=ascii, keep=keep, resumed=resumed)


def _on_screen(args: argparse.Namespace, sitting: Sitting, record: Record) -> int:
    from tutor.quiz.outcome import outcome_of
    from tutor.tui.quiz_screen import QuizScreen

    status = open_tutor(None, args, lambda app: QuizScreen(app.desk, sitting, app.show_lessons), record)
    if status:
        return status
    return 0 if sitting.is_over and outcome_of(sitting).passed else 1


def _results_again(args: argparse.Namespace) -> int:
    """Writes the results of the quiz last handed in once more."""
    from tutor.commands.quiz_class import write_results
    from tutor.lesson.reading import every_lesson
    from tutor.record import open_record

    with open_record() as record:
        sitting = record.handed_in_quiz(every_lesson())
        if sitting is None:
            raise Fault("quiz results", "there is no quiz that was handed in", "take one first")
        print(write_results(sitting, args.out, args.force))
    return 0


def open_quiz(args: argparse.Namespace, lessons: Mapping[str, Lesson], record: Record) -> tuple[Sitting, bool]:
    """The quiz that is asked for, and whether it was under way already. Raises Fault for one that can't be."""
    from tutor.quiz.sitting import Sitting

    quiz, learner = _wanted(args, lessons)
    under_way = record.resume_quiz(
        lessons, None if quiz is None or args.new else quiz.digest, learner if args.words and not args.new else None
    )
    if under_way is not None and args.new:
        record.give_up_quiz(under_way)
    elif under_way is not None:
        return under_way, True
    return Sitting(quiz or drawn(args, lessons), lessons, unit_of(args), learner), False


def _wanted(args: argparse.Namespace, lessons: Mapping[str, Lesson]) -> tuple[Quiz | None, str]:
    """The quiz that is described, and who takes it; None where it is the one under way, or any."""
    if args.words:
        from tutor.commands.quiz_class import quiz_in

        return quiz_in(Path(args.words[0]), lessons, args.name)
    return (drawn(args, lessons) if args.new or is_described(args) else None), ""


def is_described(args: argparse.Namespace) -> bool:
    """Whether any option says what quiz is wanted."""
    return any(getattr(args, name) is not None for name in DRAWING)


def drawn(args: argparse.Namespace, lessons: Mapping[str, Lesson]) -> Quiz:
    """The quiz that the options describe. Raises Fault for one that can't be."""
    from tutor.quiz.drawing import draw_quiz

    return draw_quiz(spec_of(args, lessons), lessons, told)


def told(done: int, of: int) -> None:
    """Tells whoever sits at a terminal how far the drawing is."""
    if sys.stderr is not None and sys.stderr.isatty():
        print(
            f"\rDrawing the questions: {done} of {of}" if done < of else "\r\x1b[K", end="", file=sys.stderr, flush=True
        )


def spec_of(args: argparse.Namespace, lessons: Mapping[str, Lesson]) -> QuizSpec:
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
