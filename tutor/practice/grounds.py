"""The grounds of a lesson's tasks: each task's own, or what the learner really had of the task it goes on from."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.lesson.lesson import Lesson, starting_pattern
from tutor.lesson.task import plan_asked_after
from tutor.practice.carried import is_sound, leaves_something, own_plan
from tutor.practice.ground import Ground
from tutor.practice.work import Attempt


class Grounds:
    """The grounds of one learner's tasks, which are numbered from 1; ``attempts`` gives those of a task."""

    def __init__(self, lesson: Lesson, attempts: Callable[[int], Sequence[Attempt]]) -> None:
        self.lesson = lesson
        self.attempts = attempts
        self._lessons: dict[int, Ground] = {}
        self._own: dict[tuple[int, Plan | None, Plan], Ground | None] = {}

    def of(self, number: int) -> Ground:
        """What a task stands on now: it may change with the learner's work on an earlier task.

        Raises Fault, Refusal or ValueError when the lesson's own pattern can't be made.
        """
        plan = self.brought(number)
        own = None if plan is None else self._on_own(number, plan)
        return self._as_set(number) if own is None else own

    def brought(self, number: int) -> Plan | None:
        """The plan that the learner brings from the task that this one goes on from, fit or not."""
        earlier = self.lesson.tasks[number - 1].goes_on_from
        return own_plan(self.attempts(earlier)) if earlier else None

    def _as_set(self, number: int) -> Ground:
        if number not in self._lessons:
            pattern = starting_pattern(self.lesson, self.lesson.tasks[number - 1])
            self._lessons[number] = Ground(self.lesson, number, pattern)
        return self._lessons[number]

    def _on_own(self, number: int, plan: Plan) -> Ground | None:
        """The ground of a task that goes on from a plan; None when that can't be gone on from."""
        base = self.of(self.lesson.tasks[number - 1].goes_on_from)
        key = (number, base.carried, plan)
        if key not in self._own:
            self._own[key] = self._made(number, base, plan)
        return self._own[key]

    def _made(self, number: int, base: Ground, plan: Plan) -> Ground | None:
        found: Altered | Refusal = base.result(plan)
        if isinstance(found, Refusal) or not is_sound(found):
            return None
        asks_about_it = bool(plan_asked_after(self.lesson.tasks[number - 1]))
        ground = Ground(self.lesson, number, base.pattern if asks_about_it else found.after, plan)
        return ground if leaves_something(ground, self.lesson.unit) else None
