"""A class's quiz: given out as files, taken from one, its results written."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.commands.options import OVER
from tutor.faults import Fault, printable

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.quiz.quiz import Quiz
    from tutor.quiz.sitting import Sitting
    from tutor.toml_reading import Document

LARGEST = 1_000_000
"""Bytes of a quiz or of its results; a hundred questions take a tenth."""
LONGEST_NAME = 40


def quiz_in(path: Path, lessons: Mapping[str, Lesson], name: str | None) -> tuple[Quiz, str]:
    """The quiz in a file that a teacher wrote or gave out, and who takes it. Raises Fault."""
    from tutor.quiz.class_quiz import read_class_quiz
    from tutor.quiz.drawing import draw_quiz
    from tutor.quiz.handout import HANDOUT, RESULTS, kind_of_file, read_handout

    document = document_of(path)
    kind = kind_of_file(document)
    if kind == RESULTS:
        raise Fault(str(path), "holds the results of a quiz", "quiz mark marks them again")
    if kind == HANDOUT:
        handout = read_handout(document)
        return handout.quiz, _taker(path, handout.learner, name)
    learner = _taker(path, "", name)
    return draw_quiz(read_class_quiz(document, lessons).of(learner), lessons), learner


def _taker(path: Path, given_to: str, name: str | None) -> str:
    from tutor.quiz.class_quiz import set_of
    from tutor.quiz.handout import learner_name

    try:
        named = "" if name is None else learner_name(name)
    except ValueError:
        raise Fault("--name", "is no name", "write one line of letters") from None
    if given_to and named and set_of(named) != set_of(given_to):
        raise Fault(str(path), f"is the quiz of {given_to}", f"take that of {named}")
    if not (given_to or named):
        raise Fault(str(path), "does not say who takes it", "add --name and your name")
    return given_to or named


def document_of(path: Path) -> Document:
    """A quiz's file, or that of its results, as TOML. Raises Fault."""
    from tutor.file_reading import read_bytes
    from tutor.toml_reading import read_toml

    return read_toml(read_bytes(path, LARGEST), str(path))


def is_class_quiz(path: Path) -> bool:
    """Whether a file that a teacher wrote is a class quiz, and no homework. Raises Fault for one that can't be read."""
    tables = document_of(path).tables
    return "lessons" in tables and "tasks" not in tables


def write_results(sitting: Sitting, out: Path | None, force: bool) -> Path:
    """Writes what came of a quiz; where, if not to ``out``, is by the learner's name. Raises Fault."""
    from tutor.quiz.outcome import outcome_of
    from tutor.quiz.results import results_text
    from tutor.whole_file import write_new

    text = results_text(sitting, outcome_of(sitting))
    path = out or _free(Path(f"{file_name(sitting.learner)}-{sitting.quiz.digest[:6]}-results.toml"))
    write_new(path, text, over=force, how_over=OVER)
    return path


def _free(path: Path) -> Path:
    """The path, or one beside it with a number where something lies there already."""
    if not path.exists():
        return path
    names = (path.with_name(f"{path.stem}-{number}{path.suffix}") for number in range(2, 10_000))
    return next((each for each in names if not each.exists()), path)


def file_name(learner: str) -> str:
    """A name for a learner's file: letters and figures, with hyphens between."""
    plain = "".join(letter if letter.isalnum() else " " for letter in learner.casefold())
    return "-".join(plain.split())[:LONGEST_NAME] or "quiz"


def give(words: Sequence[str], args: argparse.Namespace) -> int:
    """Writes a class quiz as files to be given out: one for all, or one for each learner.

    Raises Fault for what is no class quiz, for learners that there are not, and for files that are there already.
    """
    from tutor.lesson.reading import every_lesson
    from tutor.quiz.class_quiz import read_class_quiz
    from tutor.quiz.drawing import draw_quiz
    from tutor.quiz.handout import Handout, handout_text
    from tutor.whole_file import write_new

    path = _one_file(words, "give", "the class quiz")
    if args.out is None:
        raise Fault("--out", "is missing", "name the folder that the files go to")
    lessons = every_lesson()
    quiz = read_class_quiz(document_of(path), lessons)
    learners = _learners([*(args.learner or []), *_listed(args.class_list)])
    if quiz.for_each and not learners:
        raise Fault(
            str(path),
            "gives each learner other bodies, and no learner is named",
            "add --class LIST, or --learner NAME for each",
        )
    args.out.mkdir(parents=True, exist_ok=True)
    for learner, stem in _stems(learners, path.stem).items():
        text = handout_text(Handout(draw_quiz(quiz.of(learner), lessons), learner))
        target = args.out / f"{stem}.toml"
        write_new(target, text, over=args.force, how_over=OVER)
        print(printable(str(target)))
    return 0


def _one_file(words: Sequence[str], word: str, what: str) -> Path:
    if len(words) != 1:
        raise Fault(f"quiz {word}", f"takes one file, not {len(words)}", f"give {what}")
    return Path(words[0])


def _listed(path: Path | None) -> list[str]:
    """The names of a class list; none without one. Raises Fault for every row that is wrong."""
    if path is None:
        return []
    from tutor.classwork.class_list import read_class
    from tutor.file_reading import read_bytes
    from tutor.units import Unit

    return [learner.name for learner in read_class(read_bytes(path, LARGEST), path.name, Unit.CM)]


def _learners(names: Iterable[str]) -> tuple[str, ...]:
    from tutor.quiz.class_quiz import set_of
    from tutor.quiz.handout import learner_name

    found: dict[str, str] = {}
    for name in names:
        try:
            learner = learner_name(name)
        except ValueError:
            learner = ""
        if not learner:
            raise Fault("--learner", f'"{printable(name[:40])}" is no name', "write one line of letters")
        if set_of(learner) in found:
            raise Fault("--learner", f"names {learner} twice", "tell the two apart, as with a letter")
        found[set_of(learner)] = learner
    return tuple(found.values())


def _stems(learners: Sequence[str], quiz: str) -> dict[str, str]:
    """What the files are called, by learner; "" is the one for all."""
    if not learners:
        return {"": f"{file_name(quiz)}-given"}
    from tutor.classwork.learner import file_names

    return {learner: f"{file_name(quiz)}-{name}" for learner, name in zip(learners, file_names(learners), strict=True)}
