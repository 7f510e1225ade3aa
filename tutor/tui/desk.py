"""What all screens share: lessons, unit, spelling, and the work that was begun on each lesson."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.units import Unit

NEXT_UNIT = {Unit.CM: Unit.INCH, Unit.INCH: Unit.CM, Unit.MM: Unit.CM}


@dataclass(slots=True)
class Desk:
    """The learner's desk: ``sessions`` are kept while the tutor is open, by the names of their lessons."""

    lessons: Sequence[Lesson]
    unit: Unit = Unit.CM
    ascii: bool = False
    unit_changed: Callable[[Unit], None] | None = None
    sessions: dict[str, Session] = field(default_factory=dict)

    def session(self, lesson: Lesson) -> Session:
        """The work on a lesson, begun now if it was not before."""
        if lesson.name not in self.sessions:
            self.sessions[lesson.name] = Session(lesson, self.unit)
        return self.sessions[lesson.name]

    def change_unit(self) -> Unit:
        """Takes the next unit."""
        self.unit = NEXT_UNIT[self.unit]
        for session in self.sessions.values():
            session.unit = self.unit
        if self.unit_changed is not None:
            self.unit_changed(self.unit)
        return self.unit

    def standing(self, lesson: Lesson) -> str:
        """How a lesson stands, in words."""
        session = self.sessions.get(lesson.name)
        if session is None:
            return "not begun"
        standings = [session.standing(number) for number in range(1, len(session.tasks) + 1)]
        passed, shown = standings.count("passed"), standings.count("shown")
        if passed == len(standings):
            marks = [max(a.total for a in session.attempts(n + 1)) for n in range(len(standings))]
            return f"passed, {100 * sum(marks) / len(marks):.0f} of 100"
        if shown and passed + shown == len(standings):
            return "shown"
        return f"begun, {passed} of {len(standings)} tasks passed"
