"""What a lesson's tasks can be asked as, and how much each way of asking demands."""

from __future__ import annotations

from dataclasses import dataclass

from tutor.lesson.lesson import Lesson
from tutor.lesson.task import DiagnoseTask, NumberTask, PlanTask, Task
from tutor.quiz.question import Form

CHOOSE, WORK_OUT, BUILD = 1, 2, 3
"""What is demanded: to know the answer when it is seen, to work it out, to build it (our own scale)."""
_LEVELS: dict[type[Task], int] = {NumberTask: WORK_OUT, DiagnoseTask: WORK_OUT, PlanTask: BUILD}
_MADE: dict[Form, int] = {"choice": CHOOSE, "spot": WORK_OUT}


@dataclass(frozen=True, slots=True)
class Asking:
    """A task of a lesson, counted from 1, asked in one form."""

    lesson: str
    task: int
    form: Form
    level: int


def askings(lesson: Lesson) -> tuple[Asking, ...]:
    """Every way in which the tasks of a lesson can be asked, as far as their kinds tell."""
    found: list[Asking] = []
    for number, task in enumerate(lesson.tasks, 1):
        found.append(Asking(lesson.name, number, "task", _LEVELS.get(type(task), CHOOSE)))
        found += [Asking(lesson.name, number, form, _MADE[form]) for form in made_from(task)]
    return tuple(found)


def made_from(task: Task) -> tuple[Form, ...]:
    """The forms that a task can be made into besides its own."""
    if isinstance(task, NumberTask):
        return ("choice",)
    return ("spot",) if isinstance(task, PlanTask) else ()
