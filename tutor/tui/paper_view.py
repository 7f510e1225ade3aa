"""What of the pattern is shown: flat or altered, what is pointed at, how close, the armholes."""

from __future__ import annotations

from tutor.alteration.alter import Altered
from tutor.alteration.amounts import given
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import LOOSE, Refusal
from tutor.lesson.task import ChoiceTask, NumberTask, PlanTask
from tutor.pattern.pattern import Pattern
from tutor.picture.scene import Bounds, Scene
from tutor.picture.sheet import Armholes, Pointing, View, cap_bounds, scene_of, underarm_bounds
from tutor.practice.session import Session
from tutor.tui.lesson_page import LessonPage
from tutor.tui.placing import Placing, refused
from tutor.tui.showing import Showing, carried_out
from tutor.tui.walking import Walking

ZOOMS = ("whole", "cap", "back underarm", "front underarm")
ROOM_BESIDE = 116
"""Columns from which the armholes fit beside the cap."""


BODICE = {"armhole", "shoulder"}
"""What is done to the bodice alone."""


class PaperView(LessonPage):
    """The picture of a lesson: of what its ``Session`` holds, as it is looked at now."""

    session: Session
    placing: Placing | None
    showing: Showing | None
    walking: Walking | None
    chosen: str
    view: View | None
    zoom: int
    scene: Scene
    _flat: dict[tuple[int, Armholes], Bounds]
    """The bounds of the uncut paper, by task."""

    @property
    def seen(self) -> View:
        """What of the pattern is shown."""
        return self.view or View()

    def pattern_now(self) -> Pattern:
        """The pattern as the learner has it now."""
        found = self.found()
        return found.after if isinstance(found, Altered) else self.session.pattern

    def found(self) -> Altered | Refusal | None:
        return self.session.preview() if isinstance(self.session.task, PlanTask) else None

    def scene_now(self) -> Scene:
        """The paper as it lies: flat while a slash is placed or paper refuses, else altered over what it was."""
        if self.walking is not None:
            return self.walking.walk.scene(self.walking.along)
        if self.showing is not None:
            return self._shown_scene(self.showing)
        if isinstance(self.session.task, ChoiceTask):
            return self._option_scene()
        session, found = self.session, self.found()
        pointing = Pointing()
        altered = found if isinstance(found, Altered) and self.moves_something() else None
        if self.placing is not None:
            altered = None
            reason = refused(session, self.placing)
            place = reason.place if reason is not None else None
            pointing = Pointing(self.placing.point, self.placing.candidate, place)
        elif isinstance(found, Refusal) and (found.kind != LOOSE or self.moves_something()):
            pointing = Pointing(refused=found.place)
        return scene_of(
            session.pattern,
            altered,
            plan=session.draft,
            view=self.seen,
            pointing=pointing,
            unit=self.desk.unit,
        )

    def _shown_scene(self, showing: Showing) -> Scene:
        plan, unit = showing.plan, self.desk.unit
        altered = carried_out(self.session.pattern, plan) if moves_something(plan) else None
        return scene_of(self.session.pattern, altered, plan=plan, view=self.seen, unit=unit)

    def _option_scene(self) -> Scene:
        """What the option that is looked at cuts; what it leads to only once the question is settled."""
        session, plan = self.session, self.session.option_plan(self.chosen)
        altered = carried_out(session.pattern, plan) if plan is not None and session.settled else None
        return scene_of(session.pattern, altered, plan=plan, view=self.seen, unit=self.desk.unit)

    def moves_something(self) -> bool:
        """Whether the learner's plan moves anything."""
        return moves_something(self.session.draft)

    def bounds_now(self) -> Bounds:
        """What of the plane is shown: steady while amounts change, so that the paper grows and not the scale."""
        if self.walking is not None:
            return self.walking.walk.bounds
        sleeve = self.session.pattern.sleeve
        if self.zoom == 1:
            return cap_bounds(sleeve)
        if self.zoom > 1:
            return underarm_bounds(sleeve, ZOOMS[self.zoom].split()[0])
        key = (self.session.task_number, self.seen.armholes)
        if key not in self._flat:
            self._flat[key] = scene_of(self.session.pattern, view=View(armholes=self.seen.armholes)).bounds()
        return _around(self._flat[key], self.scene.bounds())

    def look_at_what_matters(self) -> None:
        """A task about the armholes begins with them in view: beside the cap where there is room.

        Where there is none they stand alone, if nothing is to be done to the sleeve.
        """
        task = self.session.task
        asked = isinstance(task, NumberTask) and task.measure.startswith("armhole")
        means = set(task.may_use) if isinstance(task, PlanTask) else set()
        about = asked or bool(means & BODICE)
        alone = Armholes.ALONE if means <= BODICE else Armholes.HIDDEN
        beside = Armholes.BESIDE if self.app.size.width >= ROOM_BESIDE else alone
        self.view = View(armholes=beside if about else Armholes.HIDDEN)
        self.zoom = 0


def moves_something(plan: Plan) -> bool:
    """Whether a plan moves anything: an opening, the cap, an armhole."""
    return plan.set_back or bool(given(plan)) or any(opening.amount for opening in plan.openings)


def _around(a: Bounds, b: Bounds) -> Bounds:
    """The bounds round both, with a little to spare about the first."""
    spare = complex(12, 8)
    low, high = a.low - spare, a.high + spare
    return Bounds(
        complex(min(low.real, b.low.real), min(low.imag, b.low.imag)),
        complex(max(high.real, b.high.real), max(high.imag, b.high.imag)),
    )
