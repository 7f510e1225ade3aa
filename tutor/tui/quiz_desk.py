"""The desk on which a quiz is taken: the questions' work is the quiz's own, and is kept with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.quiz.sitting import Sitting
from tutor.tui.desk import Desk
from tutor.units import Unit


@dataclass(slots=True)
class QuizDesk(Desk):
    """A desk with a quiz under way; ``of`` makes it from the learner's own."""

    sitting: Sitting = field(kw_only=True)
    _screens: dict[int, dict[str, Any]] = field(default_factory=dict)

    @classmethod
    def of(cls, desk: Desk, sitting: Sitting) -> QuizDesk:
        """A desk with the same record, unit and spelling, for one quiz."""
        sitting.unit = desk.unit
        made = cls(desk.lessons, desk.unit, desk.ascii, desk.unit_changed, desk.record, sitting=sitting)
        made.save()
        return made

    def open(self, lesson: Lesson) -> tuple[Session, dict[str, Any]]:
        """The work on the question at hand, whatever lesson it is of."""
        return self.sitting.asked.session, self._screens.get(self.sitting.number, {})

    def keep(self, session: Session, screen: Mapping[str, Any]) -> str:
        self._screens[self.sitting.number] = dict(screen)
        self.save()
        return self.notice()

    def save(self) -> None:
        """Keeps the quiz as it stands."""
        if self.record is not None:
            self.record.save_quiz(self.sitting)

    def change_unit(self) -> Unit:
        # Spelled out, as a class with slots has no super() of its own before it is made.
        unit = Desk.change_unit(self)
        self.sitting.unit = unit
        return unit
