"""What all screens share: lessons, unit, spelling, and the work on each lesson, kept as it is done."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tutor.faults import Fault
from tutor.lesson.listing import Listed
from tutor.lesson.path import next_on_path
from tutor.marking.points import out_of_100
from tutor.record.record import Record
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.practice.session import Session

NEXT_UNIT = {Unit.CM: Unit.INCH, Unit.INCH: Unit.CM, Unit.MM: Unit.CM}


@dataclass(slots=True)
class Desk:
    """The learner's desk. Without a ``record`` nothing outlives the tutor.

    ``seeds`` are the variants asked for, by the names of their lessons; the others are taken as they were left.
    """

    lessons: Sequence[Listed]
    unit: Unit = Unit.CM
    ascii: bool = False
    unit_changed: Callable[[Unit], None] | None = None
    record: Record | None = None
    seeds: Mapping[str, int] = field(default_factory=dict)
    faults: Sequence[Fault] = ()
    """What is wrong with a person's own lessons that can't be listed."""
    left: Lesson | None = None
    """The lesson just left, of which the list of lessons has still to speak."""
    _open: dict[str, tuple[Session, dict[str, Any]]] = field(default_factory=dict)

    def open(self, lesson: Lesson) -> tuple[Session, dict[str, Any]]:
        """The work on a lesson where it was left, or begun now; and what its screen remembered.

        Raises Fault, Refusal or ValueError when the lesson's patterns can't be made.
        """
        from tutor.practice.session import Session

        if lesson.name not in self._open:
            seed = self.seeds.get(lesson.name)
            session, screen = None, None
            if self.record is not None:
                seed = self.record.seed_left(lesson) if seed is None else seed
                session, screen = self.record.resume(lesson, seed)
            session = session or Session(lesson, self.unit, seed)
            session.unit = self.unit
            self._open[lesson.name] = session, screen or {}
        return self._open[lesson.name]

    def begin_again(self, lesson: Lesson, *, as_written: bool = False) -> Session:
        """An open lesson from its beginning, in the variant that is open, or as it was written."""
        from tutor.practice.session import Session

        left, _ = self.open(lesson)
        fresh = (
            Session(lesson, self.unit) if as_written else Session(lesson, self.unit, left.seed, variant=left.variant)
        )
        self._open[lesson.name] = fresh, {}
        return fresh

    def another(self, lesson: Lesson) -> Session:
        """An open lesson on another arm and another block, from its beginning.

        Raises Fault when no variant of it can be drawn.
        """
        from tutor.practice.session import Session

        left, _ = self.open(lesson)
        setting = f"variant of {lesson.name}"
        seed = max(left.seed or 0, int(self.setting(setting, 0))) + 1
        fresh = Session(lesson, self.unit, seed)
        self.keep_setting(setting, seed)
        self._open[lesson.name] = fresh, {}
        return fresh

    def practise(self, lesson: Lesson, seed: int, task: int) -> None:
        """Opens a lesson in one of its variants, at a task counted from 1. Raises Fault when it can't be drawn."""
        from tutor.practice.session import Session

        session, screen = (None, None) if self.record is None else self.record.resume(lesson, seed)
        session = session or Session(lesson, self.unit, seed)
        session.unit = self.unit
        session.go_to_task(task)
        self._open[lesson.name] = session, screen or {}

    def keep(self, session: Session, screen: Mapping[str, Any]) -> str:
        """Keeps the work as it stands, and what the screen remembers; what the learner has to be told of that."""
        self._open[session.lesson.name] = session, dict(screen)
        if self.record is None:
            return ""
        self.record.save(session, screen)
        return self.notice()

    def notice(self) -> str:
        """What the learner has still to be told of the record; "" while all is well."""
        return "" if self.record is None else self.record.take_notice()

    def change_unit(self) -> Unit:
        """Takes the next unit."""
        self.unit = NEXT_UNIT[self.unit]
        for session, _ in self._open.values():
            session.unit = self.unit
        if self.unit_changed is not None:
            self.unit_changed(self.unit)
        return self.unit

    def setting(self, name: str, otherwise: Any) -> Any:
        """A setting kept from last time."""
        return otherwise if self.record is None else self.record.setting(name, otherwise)

    def keep_setting(self, name: str, value: Any) -> None:
        """Keeps a setting for next time."""
        if self.record is not None:
            self.record.keep_setting(name, value)

    def last_lesson(self) -> str | None:
        """The name of the lesson last worked at."""
        last = None if self.record is None else self.record.last_lesson()
        return None if last is None else last.name

    def standings(self) -> dict[str, tuple[str, ...]]:
        """How each lesson stands, by its name: in words, and in fewer and fewer words, the variant left out last."""
        variants = self.variants()
        return {name: _with_variant(_words(*each), variants.get(name)) for name, each in self._progress().items()}

    def variants(self) -> dict[str, int]:
        """The variants in which lessons are open, by the lessons' names; none for those that are open as written."""
        left = {} if self.record is None else self.record.variants_left()
        here = {name: session.seed for name, (session, _) in self._open.items()}
        return {name: seed for name, seed in {**left, **here}.items() if seed is not None}

    def has_open_quiz(self) -> bool:
        """Whether there is a quiz to go on with."""
        return self.record is not None and self.record.has_open_quiz()

    def next_lesson(self) -> Listed | None:
        """The lesson that the path through the course leads to next; None when all are done."""
        standings = {name: each[0] for name, each in self._progress().items()}
        last = self.last_lesson()
        left = next((lesson for lesson in self.lessons if lesson.name == last), None)
        return (
            left if left is not None and standings.get(left.name) == "begun" else next_on_path(self.lessons, standings)
        )

    def _progress(self) -> dict[str, tuple[str, int, int, float | None]]:
        """Standing, tasks passed, tasks and best mark of each lesson, by its name."""
        if self.record is None:
            return {lesson.name: self._standing(lesson) for lesson in self.lessons}
        return {
            each.lesson: (each.standing, each.passed, each.tasks, each.best_mark)
            for each in self.record.progress(self.lessons)
        }

    def left_is_done(self) -> bool:
        """Whether the lesson that was just left is done."""
        if self.left is None or self.left.name not in self._open:
            return False
        return self._open[self.left.name][0].passed

    def left_words(self) -> str:
        """What is to be said of the lesson that was just left."""
        lesson = self.left
        if lesson is None or lesson.name not in self._open:
            return ""
        session, _ = self._open[lesson.name]
        if session.passed:
            return f"Lesson {lesson.number} is passed."
        variant = "" if session.seed is None else f" of variant {session.seed}"
        where = f"at task {session.task_number}{variant}"
        return f"Lesson {lesson.number} waits as you left it, {where}; Enter goes on there."

    def _standing(self, lesson: Listed) -> tuple[str, int, int, float | None]:
        if lesson.name not in self._open:
            return "not begun", 0, lesson.task_count, None
        session = self._open[lesson.name][0]
        numbers = range(1, len(session.tasks) + 1)
        standings = [session.standing(number) for number in numbers]
        passed = standings.count("passed")
        best = [max((a.total for a in session.attempts(n) if not a.shown), default=0.0) for n in numbers]
        tried = any(session.attempts(n) for n in numbers)
        done = "passed" if passed == len(standings) else "begun"
        if passed < len(standings) and passed + standings.count("shown") == len(standings):
            done = "shown"
        return done, passed, len(standings), sum(best) / len(best) if tried else None


def _with_variant(words: tuple[str, ...], seed: int | None) -> tuple[str, ...]:
    """The same with the variant that is open, where one is, before any without it."""
    return words if seed is None else (*(f"{each}, variant {seed}" for each in words), *words)


def _words(standing: str, passed: int, tasks: int, best: float | None) -> tuple[str, ...]:
    """A standing with the best mark, out of 100, from the most words to the fewest."""
    mark = "" if best is None else f"{out_of_100(best)}"
    if standing == "passed":
        return (f"passed, {mark} of 100", f"passed, {mark}")
    if standing == "begun":
        of = f"begun, {passed} of {tasks}"
        if not mark:
            return (f"{of} tasks passed", f"{of} passed", of)
        whole = (f"{of} tasks passed, best mark {mark} of 100", f"{of} passed, best mark {mark}")
        return (*whole, f"{of}, best {mark}", f"{passed} of {tasks}, best {mark}")
    shown = (f"{standing}, best mark {mark} of 100", f"{standing}, best {mark}")
    return shown if standing == "shown" and best else (standing,)
