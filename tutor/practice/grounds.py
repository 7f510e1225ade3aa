"""The grounds of a lesson's tasks: each task's own, or what the learner really had of the task it goes on from."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson, starting_pattern
from tutor.lesson.task import NumberTask, PlanTask, plan_asked_after
from tutor.practice.carried import is_sound, leaves_something, lesson_by, own_figure, own_plan
from tutor.practice.ground import Ground
from tutor.practice.work import Attempt


class Grounds:
    """The grounds of one learner's tasks, which are numbered from 1; ``attempts`` gives those of a task."""

    def __init__(self, lesson: Lesson, attempts: Callable[[int], Sequence[Attempt]]) -> None:
        self.lesson = lesson
        self.attempts = attempts
        self._lessons: dict[int, Ground] = {}
        self._own: dict[tuple[object, ...], Ground | None] = {}

    def of(self, number: int) -> Ground:
        """What a task stands on now: it may change with the learner's work on an earlier task.

        Raises Fault, Refusal or ValueError when the lesson's own pattern can't be made.
        """
        brought = self.brought(number)
        own = None if brought is None else self._on_own(number, brought)
        return self._as_set(number) if own is None else own

    def brought(self, number: int) -> Plan | float | None:
        """The plan or figure that the learner brings from the task that this one goes on from, fit or not."""
        earlier = self.lesson.tasks[number - 1].goes_on_from
        if not earlier:
            return None
        own = own_plan if isinstance(self.lesson.tasks[earlier - 1], PlanTask) else own_figure
        return own(self.attempts(earlier))

    def _as_set(self, number: int) -> Ground:
        if number not in self._lessons:
            pattern = starting_pattern(self.lesson, self.lesson.tasks[number - 1])
            self._lessons[number] = Ground(self.lesson, number, pattern)
        return self._lessons[number]

    def _on_own(self, number: int, brought: Plan | float) -> Ground | None:
        """The ground of a task that goes on from a plan or a figure; None when that can't be gone on from."""
        base = self.of(self.lesson.tasks[number - 1].goes_on_from)
        key = (number, base.carried, base.lesson.arm, brought)
        if key not in self._own:
            self._own[key] = (
                self._with_plan(number, base, brought)
                if isinstance(brought, Plan)
                else self._with_figure(number, base, brought)
            )
        return self._own[key]

    def _with_plan(self, number: int, base: Ground, plan: Plan) -> Ground | None:
        found: Altered | Refusal = base.result(plan)
        if isinstance(found, Refusal) or not is_sound(found, base.task):
            return None
        asks_about_it = bool(plan_asked_after(self.lesson.tasks[number - 1]))
        ground = Ground(base.lesson, number, base.pattern if asks_about_it else found.after, plan)
        return ground if leaves_something(ground, self.lesson.unit) else None

    def _with_figure(self, number: int, base: Ground, figure: float) -> Ground | None:
        earlier = base.task
        assert isinstance(earlier, NumberTask)
        lesson = lesson_by(base.lesson, earlier, figure, base.before)
        try:
            pattern = starting_pattern(lesson, lesson.tasks[number - 1])
            ground = Ground(lesson, number, pattern, figure=figure)
            return ground if leaves_something(ground, lesson.unit) else None
        except (Fault, Refusal, ValueError):
            return None
