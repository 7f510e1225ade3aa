"""One learner's way through one lesson, without any screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any, Literal

from tutor.alteration.alter import Altered
from tutor.alteration.outline import Outline
from tutor.alteration.plan import Answer, Place, Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.checking import AFTERWARDS
from tutor.lesson.figures import amount_named, measure_named
from tutor.lesson.goal import Sound
from tutor.lesson.lesson import Lesson, block_of
from tutor.lesson.task import HINTS, Means, NumberTask, PlanTask, Task
from tutor.lesson.variants import Variant, variant_from
from tutor.lesson.wording import worded
from tutor.marking.answers import mark_figure, with_mistake
from tutor.marking.asked import figure_words
from tutor.marking.figures import shown
from tutor.marking.mark import mark_nothing, mark_plan, mark_refused
from tutor.marking.marked import Marked
from tutor.marking.mistake import PlanAnswer
from tutor.marking.notes import armhole_notes, sleeve_notes
from tutor.pattern.measures import measure, words_for
from tutor.pattern.pattern import Pattern
from tutor.practice import editing
from tutor.practice.editing import End, Side
from tutor.practice.entry import read_figure
from tutor.practice.ground import Ground
from tutor.practice.grounds import Grounds
from tutor.practice.outlines import outline_of
from tutor.practice.place_text import landmark_names, read_place
from tutor.practice.reckoning import reckoning
from tutor.practice.stations import Station, slash_line, stations
from tutor.practice.steps import plan_steps
from tutor.practice.tape import TapeRow, tape_rows
from tutor.practice.variants import variant_of
from tutor.practice.work import Attempt, Work, stored_work, work_from
from tutor.units import Unit

Standing = Literal["open", "passed", "not passed", "shown"]


@dataclass(frozen=True, slots=True)
class Solution:
    """A worked solution: the plan computed for this pattern (None for a number task), and its steps in words."""

    plan: Plan | None
    steps: tuple[str, ...]


class Session:
    """A lesson under way. ``unit`` is the learner's and may be changed at any time.

    ``seed`` numbers the variant, drawn unless ``variant`` is one that was kept; without either it is the lesson as
    written. ``lesson`` is then the variant's. Raises Fault when no such variant can be drawn, and Fault, Refusal or
    ValueError when the lesson's patterns can't be made.
    """

    def __init__(self, lesson: Lesson, unit: Unit, seed: int | None = None, *, variant: Variant | None = None) -> None:
        if variant is None and seed is not None:
            variant = variant_of(lesson, seed)
        self.variant = variant
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
        """The lesson's brief, paragraph by paragraph."""
        return tuple(map(self._worded, self.lesson.brief))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is to be known before anything is cut."""
        return tuple(map(self._worded, self.lesson.cautions))

    @property
    def ask(self) -> str:
        """What the task asks for, and on whose work it goes on where it goes on from an earlier task."""
        return " ".join(filter(None, [self._worded(self.task.ask), self._goes_on()]))

    def notes(self) -> tuple[str, ...]:
        """What the draft's armholes gain against width plus depth, and what the sleeve's cap seam gained before."""
        now = self.measures_now()
        if now is None or not self.may_use("armhole"):
            return ()
        notes = armhole_notes(self.draft, self.measures_before(), now, self.unit)
        if notes and self.task.start:
            notes = (*sleeve_notes(measure(block_of(self.lesson)), self.measures_before(), self.unit), *notes)
        return notes

    # What the learner has built.

    @property
    def draft(self) -> Plan:
        """What has been built so far: slashes, openings, set back, armhole answers. Frozen, equal when alike."""
        return self._now.history.now

    @property
    def plan(self) -> Plan | None:
        """The draft, or None while it does nothing at all."""
        return None if editing.is_empty(self.draft) else self.draft

    @property
    def outline(self) -> Outline:
        """The edge of the paper that slashes are placed on: the sleeve's, or the lower part's after lifting the cap."""
        return outline_of(self.pattern, self.draft)

    @property
    def landmarks(self) -> dict[str, complex]:
        """The named places of ``outline``, each place once, and their points."""
        outline = self.outline
        spots = {mark.name: outline.curves[outline.names.index(mark.seam)].point(mark.u) for mark in outline.marks}
        spots |= {name: spot.point for name, spot in outline.spots.items()}
        return {name: spots[name] for name in landmark_names(outline)}

    def may_use(self, means: Means) -> bool:
        """Whether the task allows slashes, lifting the cap ("set-back"), or the armhole's answers ("armhole")."""
        return isinstance(self.task, PlanTask) and means in self.task.may_use

    def read_place(self, text: str) -> Place:
        """The place that words mean. Raises Fault."""
        return read_place(text, self.outline, self.unit, [slash.name for slash in self.draft.slashes])

    def point(self, place: Place) -> complex | None:
        """Where a place is on the paper before it is cut; None when it is nowhere on it."""
        try:
            spot = self.outline.spot(place, "")
        except Refusal:
            return None
        if not spot.slash:
            return spot.point
        line = slash_line(self.outline, self.draft, spot.slash)
        return None if line is None else line[0] + spot.share * (line[1] - line[0])

    def slash_line(self, name: str) -> tuple[complex, complex] | None:
        """Both ends of a slash as points before anything has moved; None when they can't be found on the paper."""
        return slash_line(self.outline, self.draft, name)

    def add_slash(
        self,
        start: Place,
        end: Place,
        start_hinge: bool = False,
        end_hinge: bool = False,
        name: str | None = None,
    ) -> str:
        """Adds a slash and gives its name, a free letter if none is asked for. Raises Fault for a bad name."""
        self._allow("slashes")
        plan, name = editing.with_slash(self.draft, name, start, end, start_hinge, end_hinge)
        self._now.history.step(plan)
        return name

    def move_slash(self, name: str, start: Place | None = None, end: Place | None = None) -> None:
        """Moves an end of a slash, or both. Raises Fault when there is no such slash."""
        self._now.history.step(editing.with_ends(self.draft, name, start, end))

    def remove_slash(self, name: str) -> None:
        """Takes a slash away, with the openings asked on it and where it crosses. Raises Fault."""
        self._now.history.step(editing.without_slash(self.draft, name))

    def set_hinge(self, name: str, end: End, holds: bool) -> None:
        """Leaves a hinge at an end of a slash, or cuts it through. Raises Fault."""
        self._now.history.step(editing.with_hinge(self.draft, name, end, holds))

    def stations(self, name: str) -> tuple[Station, ...]:
        """Where an opening can be set along a slash, from its start to its end. Raises Fault for no such slash."""
        slash = editing.slash_named(self.draft, name)
        return stations(self.pattern.sleeve, self.outline, self.draft, slash.name)

    def set_opening(self, name: str, station: Station | str, amount: float | None) -> None:
        """Opens (+) or overlaps (-) a slash at a station, given itself or by its key, by mm; None takes that away.

        Raises Fault when there is no such slash or station.
        """
        if isinstance(station, str):
            known = {each.key: each for each in self.stations(name)}
            if station not in known:
                raise Fault("opening", f'"{station}" is no place on {name}', f"there are {', '.join(known)}")
            station = known[station]
        self._now.history.step(editing.with_opening(self.draft, station, amount))

    def set_set_back(self, lifted: bool) -> None:
        """Lifts the cap off along the bicep line, to be set back after the lower part is opened; or leaves it on."""
        self._allow("set-back")
        self._step(set_back=lifted)

    def set_answer(self, side: Side, widen: float | None = None, lower: float | None = None) -> None:
        """What one armhole does: side seam out by ``widen``, underarm down by ``lower`` mm; None leaves as it is."""
        self._allow("armhole")
        self._now.history.step(editing.with_answer(self.draft, side, widen, lower))

    def clear(self) -> None:
        """Starts over with fresh paper; this too can be undone."""
        self._now.history.step(Plan())

    def adopt(self, plan: Plan) -> None:
        """Makes a plan the draft, in one step. Raises Fault when it uses what the task does not allow."""
        used_means: tuple[tuple[Means, bool], ...] = (
            ("slashes", bool(plan.slashes)),
            ("set-back", plan.set_back),
            ("armhole", plan.back != Answer() or plan.front != Answer()),
        )
        for means, used in used_means:
            if used:
                self._allow(means)
        self._now.history.step(plan)

    @contextmanager
    def one_step(self) -> Iterator[None]:
        """All edits made inside are one step, undone together."""
        history = self._now.history
        before, past = history.now, list(history.past)
        try:
            yield
        finally:
            after = history.now
            history.now, history.past[:] = before, past
            history.step(after)

    @property
    def can_undo(self) -> bool:
        return bool(self._now.history.past)

    @property
    def can_redo(self) -> bool:
        return bool(self._now.history.undone)

    def undo(self) -> bool:
        """Takes the last edit back. False when there is none."""
        return self._now.history.undo()

    def redo(self) -> bool:
        """Does again what was taken back. False when there is nothing."""
        return self._now.history.redo()

    # What it comes to.

    def preview(self) -> Altered | Refusal | None:
        """The draft carried out on the pattern, or why paper can't; None while there is nothing to do."""
        plan = self.plan
        return None if plan is None else self._ground.result(plan)

    def measures_before(self) -> dict[str, float]:
        """The measures of the pattern that the task starts from."""
        return self._ground.before

    def measures_now(self) -> dict[str, float] | None:
        """The measures as the draft leaves them; None when paper can't follow it."""
        found = self.preview()
        if found is None:
            return self.measures_before()
        return None if isinstance(found, Refusal) else self._ground.measures(found)

    def tape(self) -> tuple[TapeRow, ...]:
        """The measures that matter to this task: those of its goals first, then what it and the lesson watch."""
        others = [name for name in (*self.task.watch, *self.lesson.watch) if name != self.hidden]
        return tape_rows(self._ground.aims, others, self.measures_before(), self.measures_now(), self.unit)

    @property
    def hidden(self) -> str:
        """The measure that a task asks for as it lies on the pattern, so that nothing may show it; else nothing."""
        task = self.task
        return task.of if isinstance(task, NumberTask) and not task.after and task.edge == "seam" else ""

    def check(self) -> Marked:
        """Marks what there is now, and keeps it as an attempt if there is an answer. Never raises."""
        marked, given = self._marked()
        marked = replace(marked, feedback=tuple(map(self._worded, marked.feedback)), notes=self.notes())
        if given is not None:
            work = self._now
            attempt = Attempt(given, marked.total, marked.passed, work.hints, work.shown, marked.mistake)
            work.attempts.append(attempt)
            work.passed = work.passed or (marked.passed and not work.shown)
        return marked

    def answer(self, text: str) -> Marked:
        """Gives a number task's answer and marks it. Raises Fault, at no cost, for text that is no such figure."""
        if not isinstance(self.task, NumberTask):
            raise Fault("answer", "this task asks for no number", "alter the pattern, then check")
        self._now.figure = read_figure(text, self.task.measure, self.unit)
        self._now.answer = text.strip()
        return self.check()

    @property
    def answered(self) -> str | None:
        """The text last given to a number task."""
        return self._now.answer

    # Help.

    @property
    def hints_taken(self) -> int:
        return self._now.hints

    def hint(self) -> str:
        """The next of three hints; after the third, the third again. The second adds what is off now."""
        work = self._now
        work.hints = min(work.hints + 1, HINTS)
        text = self._worded(self.task.hints[work.hints - 1])
        return f"{text} {self._off_now()}".strip() if work.hints == 2 else text

    def solution(self) -> Solution:
        """A worked solution, computed for this pattern. From here on the task counts as shown, not passed.

        Raises Fault when the lesson's own plan can't be worked out; the task then counts as before.
        """
        solution = self._worked_solution(self.task)
        self._now.shown = True
        return solution

    def right_answer(self) -> str:
        """A number task's figure as it is shown in the learner's unit. Raises Fault for a task that asks for none."""
        if not isinstance(self.task, NumberTask):
            raise Fault("answer", "this task asks for no number", "alter the pattern, then check")
        return shown(self.task.measure, self._ground.right_figure(), self.unit)

    # What is kept.

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
        except (KeyError, TypeError, ValueError, AttributeError):
            raise Fault("stored session", "can't be read", "start the lesson again") from None
        if len(session._work) != len(lesson.tasks) or not 0 <= session._number < len(lesson.tasks):
            raise Fault("stored session", "does not fit the lesson", "start the lesson again")
        return session

    # Inside.

    @property
    def _now(self) -> Work:
        return self._work[self._number]

    def _worded(self, text: str) -> str:
        return worded(text, self.lesson.arm, self.unit, self._figure_named)

    def _step(self, **changes: Any) -> None:
        self._now.history.step(replace(self.draft, **changes))

    def _allow(self, means: Means) -> None:
        if self.may_use(means):
            return
        words = {"slashes": "slashes", "set-back": "lifting the cap off", "armhole": "a change of the armhole"}
        if isinstance(self.task, NumberTask):
            raise Fault("task", f"this task does not allow {words[means]}", "it asks for a number")
        there = " and ".join(words[m] for m in self.task.may_use)
        raise Fault("task", f"this task does not allow {words[means]}", f"it is to be done with {there}")

    @property
    def _ground(self) -> Ground:
        return self._grounds.of(self.task_number)

    def _goes_on(self) -> str:
        """On whose work a task goes on, once there is any to go on from."""
        if self._grounds.brought(self.task_number) is None:
            return ""
        earlier = self.task.goes_on_from
        if self._ground.carried is not None:
            return f"This goes on from your own work in task {earlier}."
        return f"Your own work in task {earlier} can't be gone on from, so this goes by its worked answer."

    def _figure_named(self, words: str) -> float | None:
        """A measure of the task's pattern, or an amount of one of the lesson's plans, that a text names."""
        named = measure_named(words)
        if named is None:
            return amount_named(words, self.lesson.plans)
        name, when = named
        before = self._ground.before.get(name, 0.0)
        if when == "before":
            return before
        try:
            case = self._ground.number_case
        except Fault:
            # The answer will say that the lesson needs mending; the text is shown all the same.
            return 0.0
        after = None if case.plan is None else case.measures(case.plan)
        if after is None or name not in after:
            return None
        return after[name] - before if when == "change" else after[name]

    def _marked(self) -> tuple[Marked, Plan | str | None]:
        """The mark, and what was marked; None when there is no answer yet."""
        task = self.task
        if isinstance(task, NumberTask):
            if self._now.answer is None:
                return mark_nothing(task, "There is no answer yet: give the figure asked for."), None
            try:
                self._ground.right_figure()
                return mark_figure(self._ground.number_case, self.unit, self._now.figure), self._now.answer
            except Fault as fault:
                return mark_nothing(task, f"{fault}."), None
        found = self.preview()
        if isinstance(found, Refusal):
            return mark_refused(task, found), self.draft
        watched = tuple(dict.fromkeys((*task.watch, *self.lesson.watch)))
        return self._marked_plan(task, found, watched), self.plan

    def _marked_plan(self, task: PlanTask, found: Altered | None, watched: tuple[str, ...]) -> Marked:
        """The mark of what has been built; a lesson whose own solution can't be made still marks by its goals."""
        before = self.measures_before()
        now = before if found is None else self._ground.measures(found)
        marked = mark_plan(task, self.lesson.arm, self.unit, before, now, watched)
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

    def _worked_solution(self, task: Task) -> Solution:
        if isinstance(task, NumberTask):
            figure = figure_words(task, self._ground.right_figure(), self.unit)
            steps = [*reckoning(self._ground.number_case, self.unit), figure, self._worded(task.why)]
            return Solution(None, tuple(filter(None, steps)))
        plan = self._ground.worked(task.solution)
        found = self._ground.result(plan)
        steps = list(plan_steps(self.pattern, plan, self.unit))
        if isinstance(found, Altered):
            steps.append(self._came_to(self._ground.measures(found)))
        return Solution(plan, tuple(steps))

    def _came_to(self, after: Mapping[str, float]) -> str:
        """What the measures of the goals are afterwards, those apart that only say the seams are sound."""
        if not isinstance(self.task, PlanTask):
            return ""
        before, arm = self.measures_before(), self.lesson.arm
        aims = [aim for goal in self.task.goals if not isinstance(goal, Sound) for aim in goal.aims(before, arm)]
        names = dict.fromkeys(aim.measure for aim in aims if aim.measure in after)
        figures = [f"{words_for(name)} {shown(name, after[name], self.unit)}" for name in names]
        return f"It comes to: {'; '.join(figures)}."


__all__ = ["AFTERWARDS", "Attempt", "Session", "Solution", "Standing", "Station"]
