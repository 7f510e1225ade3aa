"""``sleeve-tutor mark``: answers to a homework marked, for one learner or a whole class."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.commands.options import add_json, add_semicolons, sign_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tutor.classwork.again import Change
    from tutor.classwork.homework import Homework
    from tutor.classwork.marking_run import Taken
    from tutor.classwork.report import Report, Reported
    from tutor.classwork.result import Result
    from tutor.classwork.store import Store

SUMMARY = "mark answers to a homework: feedback, marks, and what the class gets wrong"
DESCRIPTION = """\
Marks a file, a folder, or a CSV file of a whole class: figures, plans, and altered patterns drawn as SVG or traced in
points. Writes into the homework's folder feedback for each learner as a page and as plain text, the marks of the class
as CSV, and a page with what the class gets wrong. What can't be read gets a line, and neither 0 nor full marks. An
answer that is marked already is left alone. Without answers only the reports are written again, as after a change of
overrides.csv, where the teacher's own marks stand with their reasons. With a class quiz in the homework's place the
results of that quiz are marked again, as by quiz mark.
"""
EXAMPLE = "sleeve-tutor mark homework.toml answers --out upper-arm"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("homework", type=Path, metavar="HOMEWORK", help="a TOML file: the tasks, and how they are set")
    parser.add_argument("answers", type=Path, nargs="*", metavar="ANSWERS", help="forms, tables, drawings, or folders")
    parser.add_argument(
        "--out", type=Path, metavar="FOLDER", help="the homework's folder, as sheet made it; needed for a homework"
    )
    parser.add_argument(
        "--class", dest="class_list", type=Path, metavar="LIST", help="the class, where no sheets were made: a CSV file"
    )
    parser.add_argument("--replace", action="store_true", help="let another answer take the place of one marked before")
    parser.add_argument(
        "--again", action="store_true", help="mark what was handed in before anew, and show whose marks change"
    )
    parser.add_argument("--write", action="store_true", help="with --again: keep the new marks")
    parser.add_argument("--force", action="store_true", help="write over reports that were changed by hand")
    add_semicolons(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    from tutor.classwork.homework_reading import read_homework
    from tutor.classwork.store import Store
    from tutor.commands.quiz_class import is_class_quiz
    from tutor.faults import Fault

    if args.again and args.answers:
        raise Fault("--again", "marks what is kept, and no new answers", "leave one of them out")
    if args.write and not args.again:
        raise Fault("--write", "goes with --again", "add --again")
    if is_class_quiz(args.homework):
        return _mark_quiz(args)
    if args.out is None:
        raise Fault("--out", "is missing", "name the homework's folder, as sheet made it")
    homework = read_homework(args.homework)
    store = Store(args.out)
    try:
        return _again(args, homework, store) if args.again else _mark(args, homework, store)
    finally:
        store.close()


def _mark_quiz(args: argparse.Namespace) -> int:
    """The results of a class quiz, marked again; they are their own store, and nothing is written."""
    from tutor.commands.quiz_results import mark_results
    from tutor.faults import Fault

    for name in ("out", "class_list", "replace", "again", "force"):
        if getattr(args, name):
            raise Fault(f"--{name.removesuffix('_list')}", "is for a homework, and this is a quiz", "leave it out")
    if not args.answers:
        raise Fault("mark", "needs results", "name one results file or more, or a folder of them")
    return mark_results(list(map(str, args.answers)), args.homework, args)


def _mark(args: argparse.Namespace, homework: Homework, store: Store) -> int:
    import datetime

    from tutor.classwork.enrolment import enrolled, handed_in
    from tutor.classwork.marking_run import MarkingRun
    from tutor.classwork.overridden import note_overrides
    from tutor.classwork.report import Report
    from tutor.commands.progress_line import ProgressLine

    register = enrolled(homework, store, args.class_list, args.answers)
    note_overrides(homework, register, store)
    run = MarkingRun(homework, register, store, datetime.date.today(), replace=args.replace)
    if args.answers:
        progress = ProgressLine("marked")
        run.take(handed_in(args.answers, register), progress.step)
        progress.done()
    else:
        # What could not be read may have been taken away since.
        run.take(())
    # Without answers this is about all that was handed in before, and so about what still can't be read of it.
    unread = [] if args.answers else [each.line for each in store.troubles().values()]
    reported = _report(Report(homework, register, store, sign_of(args), args.force))
    lines = [*run.taken.lines, *unread, *reported.lines]
    _complain(lines)
    if args.json:
        _print_json(run.taken, reported, lines)
    else:
        _print_summary(args, homework, run.taken, reported)
    if not lines:
        return 0
    return 1 if run.taken.marked or run.taken.before or not args.answers else 2


def _report(report: Report) -> Reported:
    from tutor.commands.progress_line import ProgressLine

    progress = ProgressLine("written", len(report.register.learners))
    reported = report.write(progress.step)
    progress.done()
    return reported


def _complain(lines: list[str]) -> None:
    import sys

    from tutor.faults import printable

    for line in lines:
        print(f"sleeve-tutor: {printable(line)[:600]}", file=sys.stderr)


def _print_summary(args: argparse.Namespace, homework: Homework, taken: Taken, reported: Reported) -> None:
    from tutor.faults import printable

    figures = reported.figures
    print(printable(homework.title))
    were = "was" if taken.before == 1 else "were"
    before = f", {taken.before} {were} marked before" if taken.before else ""
    print(f"{taken.marked} answer{'s' * (taken.marked != 1)} marked{before}")
    for name in taken.gone:
        print(f"{printable(name)}, which could not be read, is gone: no task is left open for it any more")
    if taken.stale:
        print(f"{taken.stale} of them by an earlier lesson or tolerance; --again shows whose marks would change")
    whole = f"{len(figures.totals)} marked as a whole"
    print(f"{figures.handed_in} of {figures.learners} learners handed something in, {whole}")
    for name in ("marks.csv", "marks-by-answer.csv", "class.html", "feedback"):
        print(f"  {printable(str(args.out / name))}")
    for task in figures.tasks:
        if task.teach_again:
            passed = f"{task.passed} of {task.answered} passed"
            print(f"to teach again: {printable(task.question.title)}, {passed}; {task.why_again}")


def _print_json(taken: Taken, reported: Reported, lines: list[str]) -> None:
    from tutor.commands.output import print_json

    figures = reported.figures
    tasks = [
        {
            "task": task.question.number,
            "title": task.question.title,
            "answered": task.answered,
            "passed": task.passed,
            "not-marked": task.unread,
            "mean": task.mean,
            "discrimination": task.discrimination,
            "mistakes": dict(task.mistakes.most_common()),
            "near": task.near,
        }
        for task in figures.tasks
    ]
    print_json(
        {
            "marked": taken.marked,
            "marked-before": taken.before,
            "learners": figures.learners,
            "handed-in": figures.handed_in,
            "marks": figures.totals,
            "tasks": tasks,
            "faults": lines,
        }
    )


def _again(args: argparse.Namespace, homework: Homework, store: Store) -> int:
    from tutor.classwork.again import marked_again
    from tutor.classwork.enrolment import known_register
    from tutor.classwork.report import Report
    from tutor.commands.progress_line import ProgressLine
    from tutor.faults import Fault

    register = known_register(homework, store)
    if register is None:
        raise Fault(str(args.out), "holds nothing that was marked", "mark answers first")
    report = Report(homework, register, store, sign_of(args), args.force)
    if args.write:
        report.check()
    progress = ProgressLine("marked again", len(register.learners))
    changes = list(marked_again(homework, register, store, write=args.write, went_on=progress.step))
    progress.done()
    lines = list(_report(report).lines) if args.write else []
    _complain(lines)
    if args.json:
        _print_changes_json(changes, lines, written=args.write)
    else:
        _print_changes(changes, written=args.write)
    return 1 if lines else 0


def _print_changes(changes: Sequence[Change], *, written: bool) -> None:
    """Whose marks change, and how; what is only said otherwise is counted."""
    from tutor.commands.output import print_table
    from tutor.faults import printable

    rows: list[tuple[str, ...]] = [("learner", "task", "before", "now", "mistake before", "mistake now")]
    for each in changes:
        if not each.in_words_alone:
            mistakes = [result.mistake or "-" for result in (each.before, each.after)]
            rows.append((printable(each.learner.name), str(each.question.number), *_marks(each), *mistakes))
    if len(rows) > 1:
        print_table(rows)
    whose = len({each.learner.file for each in changes if each.in_marks})
    print(f"marks of {whose} learner{'s' * (whose != 1)} change" if whose else "no mark changes")
    in_words = sum(each.in_words_alone for each in changes)
    if in_words:
        print(f"{in_words} answer{'s' * (in_words != 1)} with the same mark and mistake, and other feedback")
    if written:
        print("written")
    elif changes:
        print("nothing is written; --again --write keeps the new marks")


def _marks(change: Change) -> tuple[str, str]:
    """The marks before and now as they are shown, more closely where whole points don't tell them apart."""
    from tutor.classwork.standing import mark_shown

    shown = [mark_shown(each.total) or "not marked" for each in (change.before, change.after)]
    if shown[0] == shown[1] and change.in_marks:
        shown = [
            f"{word}, {'passed' if each.passed else 'not passed'}"
            for word, each in zip(shown, (change.before, change.after), strict=True)
        ]
    return shown[0], shown[1]


def _print_changes_json(changes: Sequence[Change], lines: list[str], *, written: bool) -> None:
    from tutor.commands.output import print_json

    print_json(
        {
            "changes": [
                {
                    "learner": each.learner.name,
                    "task": each.question.number,
                    "title": each.question.title,
                    "before": _result_json(each.before),
                    "now": _result_json(each.after),
                }
                for each in changes
            ],
            "written": written,
            "faults": lines,
        }
    )


def _result_json(result: Result) -> dict[str, object]:
    return {
        "mark": result.total,
        "passed": result.passed,
        "mistake": result.mistake,
        "feedback": list(result.feedback),
        "trouble": result.trouble,
    }
