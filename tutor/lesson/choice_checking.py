"""Whether a choice makes sense: things to choose among, and a way to tell which of them are right."""

from __future__ import annotations

from tutor.lesson.figure_checking import check_amount, check_measures, check_solved
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.task import ChoiceTask, DiagnoseTask
from tutor.pattern.measures import MEASURES
from tutor.toml_lines import Path

FEWEST, MOST = 2, 8
WHICH = "write goals, name a measure in least or most, or a diagnosis in mends"


def check_choice(lesson: Lesson, task: ChoiceTask, path: Path, reader: Reader) -> None:
    """Notes every fault of a choice."""
    if bool(task.options) == bool(task.measures):
        what = "gives two kinds of things to choose among" if task.options else "gives nothing to choose among"
        reader.fault((*path, "options"), what, "write options, which are plans, or measures")
        return
    key = "options" if task.options else "measures"
    if not FEWEST <= len(task.names) <= MOST:
        reader.fault((*path, key), f"has {len(task.names)} to choose among", f"write {FEWEST} to {MOST}")
    for name in sorted({name for name in task.names if task.names.count(name) > 1}):
        reader.fault((*path, key), f"has {name} more than once", "write each once")
    if task.options:
        _check_options(lesson, task, path, reader)
    else:
        _check_measures(task, path, reader)
    if task.apart is not None:
        _check_apart(task, path, reader)


def _check_options(lesson: Lesson, task: ChoiceTask, path: Path, reader: Reader) -> None:
    for number, option in enumerate(task.options):
        where: Path = (*path, "options", number, "plan")
        if option.plan not in lesson.plans:
            there = ", ".join(lesson.plans) or "none"
            reader.fault(where, f'"{option.plan[:40]}" is no plan of this lesson', f"there are {there}")
        elif len(option.plan) < 2 or any(letter in option.plan for letter in " ,;+&"):
            # It is what the learner's answer is kept as, and stands beside letters.
            reader.fault(where, f'"{option.plan}" can\'t be told from a letter', "name the plan in one word of letters")
        check_solved(lesson, option.plan, task.goals, where, reader)
    if task.least and task.most:
        reader.fault((*path, "most"), "goes with no least", "leave one of them out")
    elif not (task.goals or task.best or task.mends):
        reader.fault((*path, "goals"), "says not which options are right", WHICH)
    if task.best:
        check_measures([task.best], (*path, "least" if task.least else "most"), reader)
    if task.mends:
        _check_mends(lesson, task, path, reader)
    if task.after:
        reader.fault((*path, "after"), "goes with measures, not with options", "leave it out")


def _check_mends(lesson: Lesson, task: ChoiceTask, path: Path, reader: Reader) -> None:
    """Whether there is such a diagnosis before this task, of the same pattern."""
    here = next(number for number, each in enumerate(lesson.tasks) if each is task)
    before = lesson.tasks[task.mends - 1] if 1 <= task.mends <= here else None
    if not isinstance(before, DiagnoseTask):
        what = f"task {task.mends} is no diagnosis"
        reader.fault((*path, "mends"), what, "give the number of one before this task, counted from 1")
    elif before.start != task.start:
        reader.fault((*path, "mends"), "is of another pattern", "give both tasks the same start")


def _check_measures(task: ChoiceTask, path: Path, reader: Reader) -> None:
    check_measures(task.measures, (*path, "measures"), reader)
    if not task.after:
        reader.fault((*path, "after"), "is missing", "name the plan that the measures are asked about")
    for key, given in (("goals", task.goals), ("least", task.least), ("most", task.most), ("mends", task.mends)):
        if given:
            reader.fault((*path, key), "goes with options, not with measures", "leave it out")


def _check_apart(task: ChoiceTask, path: Path, reader: Reader) -> None:
    assert task.apart is not None
    if not task.apart > 0:
        reader.fault((*path, "apart"), "is not above 0", "write how far figures must differ to tell")
    for name in (task.best, *task.measures):
        if name in MEASURES:
            check_amount(name, task.apart, (*path, "apart"), reader)
