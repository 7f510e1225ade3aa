"""A learner sitting down to a lesson: its tasks and texts, how each task stands, and what it stands on."""

from __future__ import annotations

from typing import Literal

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.figures import amount_named, measure_named
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import Task
from tutor.lesson.variants import Variant
from tutor.lesson.wording import worded
from tutor.pattern.pattern import Pattern
from tutor.practice.ground import Ground
from tutor.practice.grounds import Grounds
from tutor.practice.variants import variant_of
from tutor.practice.work import Attempt, Work
from tutor.units import Unit

Standing = Literal["open", "passed", "not passed", "shown"]


class Sitting:
    """A lesson under way. ``unit`` is the learner's and may be changed at any time.

    ``seed`` numbers the variant, drawn unless ``variant`` is one that was kept; without either it is the lesson as
    written. ``lesson`` is then the variant's. Raises Fault when no such variant can be drawn, and Fault, Refusal or
    ValueError when the lesson's patterns can't be made.
    """

    def __init__(self, lesson: Lesson, unit: Unit, seed: int | None = None, *, variant: Variant | None = None) -> None:
        if variant is None and seed is not None:
            variant = variant_of(lesson, seed)
        self.variant = variant
        self.written = lesson
        """The lesson as it is written, of which ``lesson`` may be a variant."""
        self.lesson = lesson if variant is None else variant.lesson
        self.unit = unit
        self.seed = seed if variant is None else variant.seed
        self.stored_variant = None if variant is None else variant.stored()
        self._number = 0
        self._work = [Work() for _ in lesson.tasks]
        self._grounds = Grounds(self.lesson, lambda number: self._work[number - 1].attempts)
        self._finished = False

    # The task.

    @property
    def tasks(self) -> tuple[Task, ...]:
        return self.lesson.tasks

    @property
    def task(self) -> Task:
        return self.lesson.tasks[self._number]

    @property
    def task_number(self) -> int:
        """The number of the task, counted from 1."""
        return self._number + 1

    @property
    def pattern(self) -> Pattern:
        """The pattern the task starts from: the lesson's, or what the learner made of it in an earlier task."""
        return self._ground.pattern

    @property
    def finished(self) -> bool:
        """Whether the learner has gone on from the last task."""
        return self._finished

    @property
    def passed(self) -> bool:
        """Whether every task is passed."""
        return all(self.standing(number) == "passed" for number in range(1, len(self.tasks) + 1))

    def standing(self, number: int | None = None) -> Standing:
        """How a task stands (this one, or by its number). A task whose solution was shown first can't be passed."""
        work = self._work[self._number if number is None else number - 1]
        if work.passed:
            return "passed"
        if work.shown:
            return "shown"
        return "not passed" if work.attempts else "open"

    def attempts(self, number: int | None = None) -> tuple[Attempt, ...]:
        """All answers of a task that were marked, oldest first."""
        return tuple(self._work[self._number if number is None else number - 1].attempts)

    def next_task(self) -> bool:
        """Goes on to the next task, passed or not. False when this was the last; then the session is finished."""
        if self._number + 1 >= len(self.tasks):
            self._finished = True
            return False
        self._number += 1
        return True

    def go_to_task(self, number: int) -> None:
        """Goes to a task by its number, counted from 1. Raises Fault when there is none."""
        if not 1 <= number <= len(self.tasks):
            raise Fault("task", f"there is no task {number}", f"write 1 to {len(self.tasks)}")
        self._number = number - 1
        self._finished = False

    # The texts, in the learner's unit.

    @property
    def title(self) -> str:
        """The lesson's title, and which variant it is."""
        return self.lesson.title if self.seed is None else f"{self.lesson.title}, variant {self.seed}"

    @property
    def brief(self) -> tuple[str, ...]:
        """The lesson's brief, paragraph by paragraph, and what it tells of the screen besides."""
        return tuple(map(self._worded_as_set, (*self.lesson.brief, *self.lesson.screen)))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is to be known before anything is cut."""
        return tuple(map(self._worded_as_set, self.lesson.cautions))

    @property
    def ask(self) -> str:
        """What the task asks for, and on whose work it goes on where it goes on from an earlier task."""
        return " ".join(filter(None, [self._worded(self.task.ask), self._goes_on()]))

    # Inside.

    @property
    def _now(self) -> Work:
        return self._work[self._number]

    def _worded(self, text: str) -> str:
        """A text of the task, whose arm has the ease that the learner gave it in an earlier one."""
        return worded(text, self._ground.lesson.arm, self.unit, self._figure_named)

    def _worded_as_set(self, text: str) -> str:
        """A text of the lesson, which tells of the arm as it is."""
        return worded(text, self.lesson.arm, self.unit, self._figure_named)

    def ground(self, number: int) -> Ground:
        """What a task stands on, by its number from 1. Raises as ``Grounds.of`` does."""
        return self._grounds.of(number)

    @property
    def _ground(self) -> Ground:
        return self._grounds.of(self.task_number)

    def _goes_on(self) -> str:
        """On whose work a task goes on, once there is any to go on from."""
        brought = self._grounds.brought(self.task_number)
        if brought is None:
            return ""
        own = f"your own {'work' if isinstance(brought, Plan) else 'figure'} in task {self.task.goes_on_from}"
        if self._ground.goes_on:
            return f"This goes on from {own}."
        return f"{own.capitalize()} can't be taken further, so this goes by its worked answer."

    def _figure_named(self, words: str) -> float | str | None:
        """A measure of the task's pattern, or a figure of its goals or of the lesson's plans, that a text names."""
        named = measure_named(words)
        if named is None:
            return amount_named(words, self.lesson.plans, self.task)
        name, when = named
        before = self._ground.before.get(name, 0.0)
        if when == "before":
            return before
        try:
            plan = self._ground.plan_asked_after()
        except Fault:
            # The answer will say that the lesson needs mending; the text is shown all the same.
            return 0.0
        found = None if plan is None else self._ground.result(plan)
        if found is None or isinstance(found, Refusal) or name not in (after := self._ground.measures(found)):
            return None
        return after[name] - before if when == "change" else after[name]
