"""What a learner has built on the paper of a task, edit by edit, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from tutor.alteration.alter import Altered
from tutor.alteration.amounts import BY_KEY, MEANS, Means, PlanAmount, means_used, of_means
from tutor.alteration.outline import Outline
from tutor.alteration.plan import Place, Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import block_of
from tutor.lesson.task import NumberTask, PlanTask, plan_asked_after
from tutor.marking.notes import armhole_notes, sleeve_notes
from tutor.pattern.measures import measure
from tutor.practice import editing
from tutor.practice.editing import End
from tutor.practice.outlines import outline_of
from tutor.practice.place_text import landmark_names, read_place
from tutor.practice.sitting import Sitting
from tutor.practice.stations import Station, slash_line, stations
from tutor.practice.tape import TapeRow, tape_rows


class Building(Sitting):
    """The paper of the task at hand, and what has been made of it; a task that asks for an answer leaves it alone."""

    # What the learner has built.

    @property
    def draft(self) -> Plan:
        """What has been built so far: slashes, openings, set back, other amounts. Frozen, equal when alike."""
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
        """Whether the task allows slashes, lifting the cap ("set-back"), or any of the other means."""
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

    @property
    def amounts(self) -> tuple[PlanAmount, ...]:
        """The amounts that need no slash and that the task allows."""
        return of_means(self.task.may_use) if isinstance(self.task, PlanTask) else ()

    def set_amount(self, amount: PlanAmount | str, mm: float) -> None:
        """Sets an amount that needs no slash, given itself or by its key, to mm. Raises Fault."""
        amount = BY_KEY[amount] if isinstance(amount, str) else amount
        self._allow(amount.means)
        self._now.history.step(editing.with_amount(self.draft, amount, mm))

    def clear(self) -> None:
        """Starts over with fresh paper; this too can be undone."""
        self._now.history.step(Plan())

    def adopt(self, plan: Plan) -> None:
        """Makes a plan the draft, in one step. Raises Fault when it uses what the task does not allow."""
        for means in means_used(plan):
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

    def foresee(self, plan: Plan) -> Altered | Refusal:
        """What a plan comes to, its gaps and overlaps too: at hand when it is made the draft before long."""
        if isinstance(found := self._ground.result(plan), Altered):
            _ = found.gaps, found.overlaps
        return found

    def measures_before(self) -> dict[str, float]:
        """The measures of the pattern that the task starts from."""
        return self._ground.before

    def measures_now(self) -> dict[str, float] | None:
        """The measures as the draft leaves them; None when paper can't follow it."""
        return self._measures_by(self.draft)

    def tape(self, plan: Plan | None = None) -> tuple[TapeRow, ...]:
        """The measures that matter to this task: those of its goals first, then what it and the lesson watch.

        They are as the draft leaves them, or as another ``plan`` would.
        """
        return self._tape(self._measures_by(self.draft if plan is None else plan))

    def tape_of_all(self) -> tuple[TapeRow, ...]:
        """Every measure of the pattern: those of the task's goals first, then the others in the order that all have."""
        return self._tape(self.measures_now(), self.measures_before())

    @property
    def lies(self) -> str:
        """What the tape's figures are where none of them has changed: what is asked about may come after them."""
        return "before" if plan_asked_after(self.task) else "now"

    def _tape(self, now: Mapping[str, float] | None, others: Iterable[str] | None = None) -> tuple[TapeRow, ...]:
        names = (*self.task.watch, *self.lesson.watch) if others is None else others
        shown = [name for name in names if name != self.hidden]
        return tape_rows(self._ground.aims, shown, self.measures_before(), now, self.unit)

    @property
    def hidden(self) -> str:
        """The measure that a task asks for as it lies on the pattern, so that nothing may show it; else nothing."""
        task = self.task
        return task.of if isinstance(task, NumberTask) and not task.after and task.edge == "seam" else ""

    def notes(self) -> tuple[str, ...]:
        """What the draft's armholes gain against width plus depth, and what the sleeve's cap seam gained before."""
        now = self.measures_now()
        if now is None or not self.may_use("armhole"):
            return ()
        notes = armhole_notes(self.draft, self.measures_before(), now, self.unit)
        if notes and self.task.start:
            notes = (*sleeve_notes(measure(block_of(self.lesson)), self.measures_before(), self.unit), *notes)
        return notes

    # Inside.

    def _measures_by(self, plan: Plan) -> dict[str, float] | None:
        """The measures as a plan leaves them; None when paper can't follow it."""
        if editing.is_empty(plan):
            return self.measures_before()
        found = self._ground.result(plan)
        return None if isinstance(found, Refusal) else self._ground.measures(found)

    def _step(self, **changes: Any) -> None:
        self._now.history.step(replace(self.draft, **changes))

    def _allow(self, means: Means) -> None:
        if self.may_use(means):
            return
        if not isinstance(self.task, PlanTask):
            asked = "a number" if isinstance(self.task, NumberTask) else "an answer"
            raise Fault("task", f"this task does not allow {MEANS[means]}", f"it asks for {asked}")
        there = " and ".join(MEANS[m] for m in self.task.may_use)
        raise Fault("task", f"this task does not allow {MEANS[means]}", f"it is to be done with {there}")
