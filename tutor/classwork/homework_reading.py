"""Homework files read from disk; every fault of a file with its place."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tutor.classwork.homework import AskedText, Homework, HomeworkText, Question, measures_of
from tutor.faults import Fault
from tutor.file_reading import read_bytes
from tutor.lesson.amount import Amount
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import LessonFaults, find_lesson
from tutor.lesson.salvaging import Salvager
from tutor.lesson.strict import Reader
from tutor.toml_lines import Path as Keys
from tutor.toml_lines import key_lines
from tutor.toml_reading import read_toml
from tutor.units import Unit

LARGEST = 256 * 1024
MOST_TASKS = 60
MOST_VARIANTS = 10_000
GREATEST_SEED = 2**31 - 1
GREATEST_POINTS = 1000.0
LONGEST_TITLE = 80
LONGEST_NOTE = 600


class HomeworkFaults(Fault):
    """Everything that is wrong with a homework file; as a Fault it is the first of ``faults``."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = faults


def read_homework(path: Path) -> Homework:
    """The homework in a file, and the lessons it is made of. Raises HomeworkFaults, or a single Fault for no TOML."""
    document = read_toml(read_bytes(path, LARGEST), path.name)
    named = document.tables.get("units", "cm")
    unit = Unit(named) if named in ("cm", "in", "mm") else Unit.CM
    lines = key_lines(document.text)
    reader = Reader(path.name, unit, lines)
    text = reader.read(HomeworkText, document.tables)
    if text is None:
        besides = _faults_besides(document.tables, path, Salvager(path.name, unit, lines))
        raise HomeworkFaults((*reader.faults, *besides))
    questions = _checked(text, path.parent, reader)
    if reader.faults:
        raise HomeworkFaults(tuple(reader.faults))
    return Homework(text, tuple(questions))


def _faults_besides(tables: Mapping[str, object], path: Path, salvager: Salvager) -> list[Fault]:
    """What is wrong with a homework besides keys and values that can't be read at all."""
    text = salvager.value(HomeworkText, tables, ())
    salvager.faults.clear()
    salvager.checking = True
    if isinstance(text, HomeworkText):
        _checked(text, path.parent, salvager)
    return salvager.faults


def _checked(text: HomeworkText, folder: Path, reader: Reader) -> list[Question]:
    _check(text, reader)
    questions = _questions(text, folder, reader)
    _check_tolerances(text, questions, reader)
    return questions


def _check(text: HomeworkText, reader: Reader) -> None:
    for key, value, most in (("title", text.title, LONGEST_TITLE), ("note", text.note, LONGEST_NOTE)):
        if len(value) > most:
            reader.fault((key,), f"has {len(value)} letters", f"write at most {most}")
    if not text.title.strip() or "\n" in text.title:
        reader.fault(("title",), "is no title", "write one line")
    if not 1 <= len(text.tasks) <= MOST_TASKS:
        reader.fault(("tasks",), f"has {len(text.tasks)} tasks", f"write 1 to {MOST_TASKS}")
    if not 0 <= text.seed <= GREATEST_SEED - MOST_VARIANTS:
        reader.fault(("seed",), "is no number of a variant", f"write 0 to {GREATEST_SEED - MOST_VARIANTS}")
    counted = isinstance(text.variants, int) and 1 <= text.variants <= MOST_VARIANTS
    if not counted and text.variants not in ("same", "each"):
        reader.fault(
            ("variants",), "says nothing known here", f'write "same", "each" or a number up to {MOST_VARIANTS}'
        )
    for number, asked in enumerate(text.tasks):
        if not 0 < asked.points <= GREATEST_POINTS:
            reader.fault(
                ("tasks", number, "points"), "is no number of points", f"write above 0, to {GREATEST_POINTS:g}"
            )
        if asked.pass_mark is not None and not 0 < asked.pass_mark <= 1:
            reader.fault(("tasks", number, "pass-mark"), "is no pass mark", "write a number above 0 and up to 1")


def _questions(text: HomeworkText, folder: Path, reader: Reader) -> list[Question]:
    known: dict[str, Lesson] = {}
    found: list[Question] = []
    for number, asked in enumerate(text.tasks[:MOST_TASKS]):
        where: Keys = ("tasks", number)
        if not reader.is_read((*where, "lesson")):
            continue
        lesson = _lesson(asked, folder, known, (*where, "lesson"), reader)
        if lesson is None or not reader.is_read((*where, "task")):
            continue
        if not 1 <= asked.task <= len(lesson.tasks):
            what = f"{lesson.name} has no task {asked.task}"
            reader.fault((*where, "task"), what, f"write 1 to {len(lesson.tasks)}")
            continue
        question = Question(number + 1, lesson, asked.task, asked)
        twice = next((q for q in found if (q.lesson.name, q.task_number) == (lesson.name, asked.task)), None)
        if twice is not None:
            reader.fault(where, f"is task {twice.number} again", "set each task once")
        found.append(question)
    return found


def _lesson(asked: AskedText, folder: Path, known: dict[str, Lesson], path: Keys, reader: Reader) -> Lesson | None:
    """The lesson that a task names; the same one for every task that names it."""
    wanted = str(asked.lesson)
    try:
        if wanted.casefold().endswith(".toml"):
            wanted = str(folder / wanted)
        lesson = known[wanted] if wanted in known else find_lesson(wanted)
    except LessonFaults as faults:
        reader.faults.extend(faults.faults)
        return None
    except Fault as fault:
        reader.fault(path, fault.what, fault.right)
        return None
    other = next((each for each in known.values() if each.name == lesson.name and each is not lesson), None)
    if other is not None and (other.title, other.number) != (lesson.title, lesson.number):
        reader.fault(path, f"is another lesson called {lesson.name}", "give each lesson's file a name of its own")
    known[wanted] = other or lesson
    return known[wanted]


def _check_tolerances(text: HomeworkText, questions: list[Question], reader: Reader) -> None:
    """Whether tolerances are lengths above nothing, of measures that some task has a tolerance for."""
    everywhere = {measure for question in questions for measure in measures_of(question.task)}
    # While a task is not known, nobody can say that none has a tolerance for a measure.
    all_known = len(questions) == len(text.tasks)
    places: list[tuple[Keys, dict[str, Amount], set[str] | None]] = [
        (("tolerances",), dict(text.tolerances), everywhere if all_known else None)
    ]
    for question in questions:
        where: Keys = ("tasks", question.number - 1, "tolerances")
        places.append((where, dict(question.asked.tolerances), measures_of(question.task)))
    for where, given, known in places:
        for measure, amount in given.items():
            _check_tolerance(measure, amount, known, (*where, measure), reader)


def _check_tolerance(measure: str, amount: Amount, known: set[str] | None, path: Keys, reader: Reader) -> None:
    if not reader.known_measure(measure, path):
        return
    try:
        above = amount.of(measure) > 0
    except ValueError as error:
        reader.fault(path, str(error))
        return
    if known is not None and measure not in known:
        there = ", ".join(sorted(known)) or "none"
        reader.fault(path, "is a measure that no goal has a tolerance for", f"there are {there}")
    if not above:
        reader.fault(path, "is not above 0", "write how far off is still right")
