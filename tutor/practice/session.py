"""One learner's way through one lesson, without any screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.checking import AFTERWARDS
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import HINTS, DiagnoseTask, NumberTask, PlanTask
from tutor.lesson.variants import variant_from
from tutor.marking.answers import with_mistake
from tutor.marking.case import PlanCase
from tutor.marking.figures import shown
from tutor.marking.mark import mark_plan, mark_refused
from tutor.marking.marked import Marked
from tutor.marking.mistake import PlanAnswer
from tutor.practice.answering import Answering
from tutor.practice.sitting import Standing
from tutor.practice.solution import Solution, worked_solution
from tutor.practice.stations import Station
from tutor.practice.work import Attempt, stored_work, taken_in, work_from
from tutor.units import Unit


class Session(Answering):
    """A lesson under way, with what is built and answered, marked and kept. See ``Sitting`` for how one is begun."""

    def check(self) -> Marked:
        """Marks what there is now, and keeps it as an attempt if there is an answer. Never raises."""
        marked, given = self._marked()
        notes = (*marked.notes, *self.notes())
        marked = replace(
            marked, feedback=tuple(map(self._worded, marked.feedback)), notes=tuple(map(self._worded, notes))
        )
        if given is not None:
            work = self._now
            figure = work.figure if isinstance(self.task, NumberTask) else None
            attempt = Attempt(given, marked.total, marked.passed, work.hints, work.shown, marked.mistake, figure)
            work.attempts.append(attempt)
            work.passed = work.passed or (marked.passed and not work.shown)
        return marked

    def answer(self, text: str) -> Marked:
        """Gives an answer where a task asks for one, and marks it. Raises Fault, at no cost, for text that is none."""
        self.give(text)
        return self.check()

    # Help.

    @property
    def hints_taken(self) -> int:
        return self._now.hints

    def hint(self) -> str:
        """The next of three hints; after the third, the third again. The second adds what is off now.

        In a diagnosis each adds what can be worked out from the folds, and from the signs asked for so far.
        """
        work = self._now
        work.hints = min(work.hints + 1, HINTS)
        text = self._worded(self.task.hints[work.hints - 1])
        if isinstance(self.task, DiagnoseTask):
            return f"{text} {self._help_now(work.hints)}"
        return f"{text} {self._off_now()}".strip() if work.hints == 2 else text

    def solution(self) -> Solution:
        """A worked solution, computed for this pattern. From here on the task counts as shown, not passed.

        Raises Fault when the lesson's own plan can't be worked out; the task then counts as before.
        """
        solution = worked_solution(self._ground, self.unit, self._worded)
        self._now.shown = True
        return solution

    def plan_case(self) -> PlanCase:
        """What an altered pattern is compared with. Raises Fault for another kind of task, or one unsolved."""
        if not isinstance(self.task, PlanTask):
            raise Fault("answer", "this task asks for no alteration", "give the figure asked for")
        return self._ground.plan_case

    # What is kept.

    def take_in(self, other: Session) -> bool:
        """Takes in what was done in another session of this lesson at the same time; whether there was anything.

        What was built there can be undone to, and its answers count.
        """
        took = [taken_in(mine, theirs) for mine, theirs in zip(self._work, other._work, strict=True)]
        return any(took)

    def dump(self) -> dict[str, Any]:
        """All of it as plain tables, lists, texts and numbers, every undo step included."""
        return {
            "lesson": self.lesson.name,
            "version": self.lesson.version,
            "seed": self.seed,
            "variant": self.stored_variant,
            "unit": self.unit.value,
            "task": self.task_number,
            "finished": self._finished,
            "tasks": [stored_work(work) for work in self._work],
        }

    @classmethod
    def load(cls, lesson: Lesson, stored: Mapping[str, Any]) -> Session:
        """The session that ``dump`` stored. Raises Fault when it is of another lesson or version, or unreadable."""
        if stored.get("lesson") != lesson.name or stored.get("version") != lesson.version:
            raise Fault("stored session", "is of another lesson, or of an older one", "start the lesson again")
        try:
            kept = stored.get("variant")
            variant = None if kept is None else variant_from(lesson, kept)
            session = cls(lesson, Unit(stored["unit"]), stored["seed"], variant=variant)
            session._work = [work_from(work) for work in stored["tasks"]]
            session._number = int(stored["task"]) - 1
            session._finished = bool(stored["finished"])
        except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
            raise Fault("stored session", "can't be read", "start the lesson again") from None
        if len(session._work) != len(lesson.tasks) or not 0 <= session._number < len(lesson.tasks):
            raise Fault("stored session", "does not fit the lesson", "start the lesson again")
        return session

    # Inside.

    def _marked(self) -> tuple[Marked, Plan | str | None]:
        """The mark, and what was marked; None when there is no answer yet."""
        task = self.task
        if not isinstance(task, PlanTask):
            return self._marked_answer(task)
        found = self.preview()
        if isinstance(found, Refusal):
            return mark_refused(task, found), self.draft
        watched = tuple(dict.fromkeys((*task.watch, *self.lesson.watch)))
        return self._marked_plan(task, found, watched), self.plan

    def _marked_plan(self, task: PlanTask, found: Altered | None, watched: tuple[str, ...]) -> Marked:
        """The mark of what has been built; a lesson whose own solution can't be made still marks by its goals."""
        before = self.measures_before()
        now = before if found is None else self._ground.measures(found)
        marked = mark_plan(task, self._ground.lesson.arm, self.unit, before, now, watched)
        if marked.settled:
            return marked
        try:
            case = self._ground.plan_case
        except Fault:
            return marked
        return with_mistake(marked, PlanAnswer(case, self.unit, now, self.plan, found))

    def _off_now(self) -> str:
        """The first measure that is off, and which way."""
        for row in self.tape():
            if row.met is False and row.off is not None:
                way = "above" if row.off > 0 else "below"
                away = shown(row.measure, abs(row.off), self.unit)
                return f"As it lies the {row.words} is {away} {way} what is wanted ({row.wanted})."
        return ""


__all__ = ["AFTERWARDS", "Attempt", "Session", "Solution", "Standing", "Station"]
