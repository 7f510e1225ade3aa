"""A homework: tasks of lessons, which variants of them, and how exactly they are to be met.

A homework is a TOML 1.0 file. A length is a number in the file's ``units``, or a text with a unit of its own.

    title = "Room at the upper arm"
    units = "cm"                        # of bare numbers, here and in the answers: cm, in or mm
    due = 2026-11-20
    note = "Measure on the seam line."  # stands at the head of every sheet
    variants = 4                        # "same": as written; "each": one for each learner; or so many, in turn
    seed = 20                           # which variants: the same number draws the same ones

    [tolerances]                        # by measure, for the whole class, in place of the lessons' own
    cap-height = "4 mm"

    [[tasks]]
    lesson = "04-cap-seam-kept"         # a lesson's name, number or title, or the path of its file beside this one
    task = 1                            # which of its tasks, counted from 1
    points = 2                          # what it counts beside the others; 1 if left out
    pass-mark = 0.8                     # 0 to 1; the lesson's own if left out
    tolerances = { bicep-girth = 0.5 }  # for this task alone
"""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from msgspec import Struct, structs

from tutor.lesson.amount import Amount
from tutor.lesson.goal import AtLeast, AtMost, Balance, Goal, Keep, Reach
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, NumberTask, PlanTask, Task
from tutor.units import Unit

Tolerances = Mapping[str, Amount]


class AskedText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """One task of a homework as written."""

    lesson: str | int
    task: int
    points: float = 1.0
    pass_mark: float | None = None
    tolerances: dict[str, Amount] = {}


class HomeworkText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What a homework file holds."""

    title: str
    tasks: tuple[AskedText, ...]
    units: Literal["cm", "in", "mm"] = "cm"
    due: datetime.date | None = None
    note: str = ""
    variants: str | int = "same"
    seed: int = 1
    tolerances: dict[str, Amount] = {}


@dataclass(frozen=True, slots=True)
class Question:
    """One task of a homework: its number there, from 1, and which task of which lesson it is."""

    number: int
    lesson: Lesson
    task_number: int
    asked: AskedText

    @property
    def task(self) -> Task:
        """The task as the lesson has it."""
        return self.lesson.tasks[self.task_number - 1]

    @property
    def points(self) -> float:
        return self.asked.points

    @property
    def title(self) -> str:
        return f"{self.lesson.title}: {self.task.title}"

    @property
    def place(self) -> str:
        """Which task of which lesson it is, in words that stay the same when either is corrected."""
        return f"task {self.task_number} of {self.lesson.name}"

    def stands_alone(self, homework: Homework) -> bool:
        """Whether it builds on an earlier task that is no question of the same homework."""
        asked = {(each.lesson.name, each.task_number) for each in homework.questions}
        earlier = self.mends or self.task.goes_on_from
        return bool(earlier) and (self.lesson.name, earlier) not in asked

    @property
    def mends(self) -> int:
        """The number of the diagnosis that a choice mends; 0 for any other task."""
        return self.task.mends if isinstance(self.task, ChoiceTask) else 0


@dataclass(frozen=True, slots=True)
class Homework:
    """A homework with its lessons read."""

    text: HomeworkText
    questions: tuple[Question, ...]

    @property
    def title(self) -> str:
        return self.text.title

    @property
    def unit(self) -> Unit:
        return Unit(self.text.units)

    @property
    def lessons(self) -> dict[str, Lesson]:
        """The lessons that tasks are taken from, by name, in the order of the tasks."""
        return {question.lesson.name: question.lesson for question in self.questions}

    def question(self, number: int) -> Question | None:
        return self.questions[number - 1] if 1 <= number <= len(self.questions) else None

    def as_marked(self, lesson: Lesson) -> Lesson:
        """A lesson, or a variant of it, with the homework's tolerances and pass marks in place of its own.

        It is done on paper, and so without what the lesson tells of the screen.
        """
        tasks = list(lesson.tasks)
        for question in self.questions:
            if question.lesson.name == lesson.name:
                k = question.task_number - 1
                given = {**self.text.tolerances, **question.asked.tolerances}
                tasks[k] = _as_marked(tasks[k], given, question.asked.pass_mark)
        return structs.replace(lesson, tasks=tuple(tasks), screen=())

    def fingerprint(self, question: Question) -> str:
        """Changes whenever a mark for this question could come out otherwise; eight figures and letters."""
        marked = self.as_marked(question.lesson)
        mends = question.mends
        parts: tuple[Any, ...] = (
            question.task_number,
            marked.version,
            marked.arm,
            marked.block,
            marked.plans,
            marked.seam_allowance,
            marked.tasks[question.task_number - 1],
            *([marked.tasks[mends - 1]] if mends else []),
        )
        return hashlib.sha256("\n".join(map(repr, parts)).encode()).hexdigest()[:8]


def _as_marked(task: Task, tolerances: Tolerances, pass_mark: float | None) -> Task:
    if pass_mark is not None:
        task = structs.replace(task, pass_mark=pass_mark)
    if isinstance(task, PlanTask):
        return structs.replace(task, goals=tuple(_with_tolerance(goal, tolerances) for goal in task.goals))
    if isinstance(task, NumberTask) and task.measure in tolerances:
        return structs.replace(task, tolerance=tolerances[task.measure])
    return task


def _with_tolerance(goal: Goal, tolerances: Tolerances) -> Goal:
    measure = measure_of(goal)
    return structs.replace(goal, tolerance=tolerances[measure]) if measure in tolerances else goal


def measure_of(goal: Goal) -> str:
    """The measure whose tolerance a goal has; of a balance, which has one for both bands of ease, the cap ease."""
    if isinstance(goal, Balance):
        return "cap-ease"
    return goal.measure if isinstance(goal, Reach | AtMost | AtLeast | Keep) else ""


def measures_of(task: Task) -> set[str]:
    """The measures that a task has tolerances for."""
    if isinstance(task, PlanTask):
        return {measure_of(goal) for goal in task.goals} - {""}
    return {task.measure} if isinstance(task, NumberTask) else set()
