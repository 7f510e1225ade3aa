"""``sleeve-tutor quiz mark``: results of a quiz marked again, and shown as a table, as CSV or as JSON."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tutor.commands.quiz_class import document_of
from tutor.faults import Fault, printable

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.quiz.class_quiz import ClassQuiz
    from tutor.quiz.outcome import Outcome
    from tutor.quiz.results import Results

HEADER = ("file", "learner", "mark", "stated", "passed", "minutes", "notes")


@dataclass(frozen=True, slots=True)
class Row:
    """One results file, marked again; without results ``notes`` say why."""

    file: str
    results: Results | None = None
    outcome: Outcome | None = None
    notes: tuple[str, ...] = ()

    @property
    def is_sound(self) -> bool:
        return self.outcome is not None and not self.notes


def mark(words: Sequence[str], args: argparse.Namespace) -> int:
    """Marks results files again; 0 when all are sound, 1 when any was changed or comes out otherwise, or can't be read.

    One bad file never stops the rest. Raises Fault where none is named.
    """
    if not words:
        raise Fault("quiz mark", "needs results", "name one results file or more, or a folder of them")
    return mark_results(words, args.of, args)


def mark_results(words: Sequence[str], of: Path | None, args: argparse.Namespace) -> int:
    """Marks results again and prints them, with the class quiz whose questions they should be where one is named."""
    from tutor.lesson.reading import every_lesson
    from tutor.quiz.class_quiz import read_class_quiz

    lessons = every_lesson()
    quiz = None if of is None else read_class_quiz(document_of(of), lessons)
    rows = [_row(path, lessons, quiz) for path in _files(words)]
    if args.json:
        from tutor.commands.output import print_json

        print_json({"results": [_json(row) for row in rows]})
    elif getattr(args, "csv", False):
        _print_csv(rows)
    else:
        _print_table(rows)
    return 0 if all(row.is_sound for row in rows) else 1


def _files(words: Sequence[str]) -> list[Path]:
    found: list[Path] = []
    for word in words:
        path = Path(word)
        found += [each for each in sorted(path.glob("*.toml")) if _may_be_results(each)] if path.is_dir() else [path]
    return found


def _may_be_results(path: Path) -> bool:
    """Whether a file of a folder holds results, or can't be read, which is then told."""
    from tutor.quiz.handout import RESULTS, kind_of_file

    try:
        return kind_of_file(document_of(path)) == RESULTS
    except Fault:
        return True


def _row(path: Path, lessons: Mapping[str, Lesson], quiz: ClassQuiz | None) -> Row:
    from tutor.marking.points import out_of_100
    from tutor.quiz.results import changed_lessons, marked_again, read_results

    file = printable(str(path))
    try:
        results = read_results(document_of(path))
        outcome = marked_again(results, lessons)
        notes = [] if results.intact else ["was changed since it was written"]
        notes += [f"{name} has changed since" for name in changed_lessons(results, lessons)]
        if abs(results.stated - outcome.mark) > 1e-5:
            notes.append(f"says {out_of_100(results.stated)}")
        if results.set_back:
            notes.append("the computer's clock was set back meanwhile")
        if quiz is not None and not _is_drawn(results, quiz, lessons):
            notes.append("these are not the questions of that quiz")
    except Fault as fault:
        return Row(file, notes=(str(fault),))
    return Row(file, results, outcome, tuple(notes))


def _is_drawn(results: Results, quiz: ClassQuiz, lessons: Mapping[str, Lesson]) -> bool:
    """Whether the questions are those that a class quiz draws for this learner."""
    from tutor.quiz.drawing import draw_quiz

    return draw_quiz(quiz.of(results.learner), lessons).digest == results.quiz.digest


def _cells(row: Row) -> tuple[str, ...]:
    if row.results is None or row.outcome is None:
        return (row.file, "", "", "", "", "", "; ".join(row.notes))
    from tutor.marking.points import out_of_100

    results, outcome = row.results, row.outcome
    return (
        row.file,
        printable(results.learner),
        str(out_of_100(outcome.mark)),
        str(out_of_100(results.stated)),
        "yes" if outcome.passed else "no",
        f"{results.elapsed / 60:.0f}",
        "; ".join(row.notes),
    )


def _print_table(rows: Sequence[Row]) -> None:
    from tutor.commands.output import print_table

    print_table(
        [("learner", "mark", "stated", "passed", "minutes"), *(_cells(row)[1:6] for row in rows if row.outcome)]
    )
    for row in rows:
        for note in row.notes:
            print(note if row.outcome is None else f"{row.file}: {note}")


def _print_csv(rows: Sequence[Row]) -> None:
    from tutor.commands.output import print_csv
    from tutor.commands.progress import cell

    print_csv([HEADER, *([cell(text) for text in _cells(row)] for row in rows)])


def _json(row: Row) -> dict[str, Any]:
    if row.results is None or row.outcome is None:
        return {"file": row.file, "notes": list(row.notes)}
    results, outcome = row.results, row.outcome
    return {
        "file": row.file,
        "learner": results.learner,
        "mark": outcome.mark,
        "stated": results.stated,
        "passed": outcome.passed,
        "intact": results.intact,
        "begun": results.begun,
        "elapsed": results.elapsed,
        "questions": [
            {
                "lesson": each.question.lesson,
                "task": each.question.task,
                "form": each.question.form,
                "answer": each.answer,
                "mark": each.marked.total,
                "mistake": each.marked.mistake,
            }
            for each in outcome.results
        ],
        "notes": list(row.notes),
    }
