"""What of the pattern is shown: flat or altered, what is pointed at, how close, the armholes."""

from __future__ import annotations

from dataclasses import replace

from tutor.alteration.alter import Altered
from tutor.alteration.amounts import BODICE
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import LOOSE, Refusal
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, PlanTask
from tutor.pattern.pattern import Pattern
from tutor.picture.scene import Bounds, Scene
from tutor.picture.sheet import Armholes, Pointing, View, cap_bounds, refused_at, scene_of, underarm_bounds
from tutor.picture.walk import walk_bounds, walk_scene
from tutor.tui.lesson_state import ZOOMS, LessonState, moves_something
from tutor.tui.placing import refused
from tutor.tui.showing import Showing, carried_out

ROOM_BESIDE = 116
"""Columns from which the armholes fit beside the cap."""
SPARE = complex(12, 8)
"""mm to spare about the uncut paper, so that a little more width does not change the scale."""


class PaperView(LessonState):
    """The picture of a lesson: of what its ``Session`` holds, as it is looked at now."""

    def pointing_now(self) -> Pointing:
        """What is pointed at: the marker and the slash being placed; the place where paper refuses."""
        if self.walking is not None or self.showing is not None:
            return Pointing()
        if isinstance(self.session.task, PlaceTask):
            return Pointing(self.seeking_now().point)
        if self.placing is not None:
            reason = refused(self.session, self.placing)
            return Pointing(self.placing.point, self.placing.candidate, None if reason is None else reason.place)
        found = self.found()
        if isinstance(found, Refusal) and (found.kind != LOOSE or self.moves_something()):
            return Pointing(refused=refused_at(self.session.pattern, self.session.draft, found, self.seen))
        return Pointing()

    def scene_now(self) -> Scene:
        """The paper as it lies: flat while a slash is placed or paper refuses, else altered over what it was."""
        if self.walking is not None:
            return walk_scene(self.walking.walk, self.walking.along)
        if self.showing is not None:
            return self._shown_scene(self.showing)
        if isinstance(self.session.task, ChoiceTask):
            return self._option_scene()
        if isinstance(self.session.task, DiagnoseTask):
            lines = [fold.line for fold in self.session.folds]
            return scene_of(self.session.pattern, view=self.seen, folds=lines)
        if isinstance(self.session.task, PlaceTask):
            view = replace(self.seen, telling=self.session.settled)
            return scene_of(self.session.pattern, view=view, pointing=self.pointing)
        if self.pointing == Pointing() and (foreseen := self._foreseen) is not None and foreseen[0] == self._looks():
            return foreseen[1]
        return self._plan_scene(self.session.draft, self.found())

    def _plan_scene(self, plan: Plan, found: Altered | Refusal | None) -> Scene:
        altered = found if isinstance(found, Altered) and moves_something(plan) else None
        return scene_of(
            self.session.pattern,
            None if self.placing is not None else altered,
            plan=plan,
            view=self.seen,
            pointing=self.pointing,
            unit=self.desk.unit,
        )

    def _looks(self, plan: Plan | None = None) -> tuple[object, ...]:
        """All that the scene of a plan, the draft unless another is given, goes by while nothing is pointed at."""
        plan = self.session.draft if plan is None else plan
        return plan, self.session.task_number, self.session.pattern, self.seen, self.desk.unit, self.placing

    def foresee(self, plan: Plan) -> None:
        """Has at hand what a plan comes to, and its picture, when it is made the draft before long."""
        found = self.session.foresee(plan)
        if isinstance(found, Altered) and self.pointing == Pointing() and self.placing is None:
            scene = self._plan_scene(plan, found)
            self._foreseen = self._looks(plan), scene
            self.picture.foresee(scene, self._bounds(scene, found.after))

    def _shown_scene(self, showing: Showing) -> Scene:
        plan, unit = showing.plan, self.desk.unit
        altered = carried_out(self.session.pattern, plan) if moves_something(plan) else None
        return scene_of(self.session.pattern, altered, plan=plan, view=self.seen, unit=unit)

    def _option_scene(self) -> Scene:
        """What the option that is looked at cuts; what it leads to only once the question is settled."""
        session, plan = self.session, self.session.option_plan(self.chosen)
        altered = carried_out(session.pattern, plan) if plan is not None and session.settled else None
        return scene_of(session.pattern, altered, plan=plan, view=self.seen, unit=self.desk.unit)

    def bounds_now(self) -> Bounds:
        """What of the plane is shown: steady while amounts change, so that the paper grows and not the scale.

        Closer to, what is pointed at is always in view.
        """
        if self.walking is not None:
            return walk_bounds(self.walking.walk)
        return self._bounds(self.scene, self.pattern_now())

    def _bounds(self, scene: Scene, now: Pattern) -> Bounds:
        """What is shown of a scene of the pattern as it is ``now``."""
        sleeve = self.session.pattern.sleeve
        if self.zoom == 1:
            return _holding(cap_bounds(sleeve).around(cap_bounds(now.sleeve)), self.pointing)
        if self.zoom > 1:
            return _holding(underarm_bounds(sleeve, ZOOMS[self.zoom].split()[0]), self.pointing)
        key = (self.session.task_number, self.seen.armholes)
        if key not in self._flat:
            self._flat[key] = scene_of(self.session.pattern, view=View(armholes=self.seen.armholes)).bounds()
        return self._flat[key].around(scene.bounds(), SPARE)

    def look_at_what_matters(self) -> None:
        """A task about the armholes begins with them in view: beside the cap where there is room.

        Where there is none they stand alone, if nothing is to be done to the sleeve.
        """
        task = self.session.task
        asked = isinstance(task, NumberTask) and task.measure.startswith("armhole")
        means = set(task.may_use) if isinstance(task, PlanTask) else set()
        about = asked or bool(means & BODICE)
        alone = Armholes.ALONE if means <= BODICE else Armholes.HIDDEN
        beside = Armholes.BESIDE if self._has_room_beside else alone
        self.view = View(armholes=beside if about else Armholes.HIDDEN)
        self.zoom = 0
        self.seeking = None

    def play(self, showing: Showing) -> None:
        """Shows a step of a worked solution, and brings into view what it changes."""
        self.showing = showing
        if showing.changes and showing.changes <= BODICE:
            self.show_the_armholes()
        elif showing.changes:
            self.show_the_sleeve()

    @property
    def _has_room_beside(self) -> bool:
        return self.app.size.width >= ROOM_BESIDE

    def show_the_sleeve(self) -> None:
        """Brings the sleeve back into view where the armholes are shown by themselves."""
        if self.seen.armholes is Armholes.ALONE:
            self.view = replace(self.seen, armholes=Armholes.HIDDEN)

    def show_the_armholes(self) -> None:
        """Brings the armholes into view where they are hidden."""
        if self.seen.armholes is Armholes.HIDDEN:
            beside = Armholes.BESIDE if self._has_room_beside else Armholes.ALONE
            self.view = replace(self.seen, armholes=beside)


def _holding(bounds: Bounds, pointing: Pointing) -> Bounds:
    """The bounds, large enough to show what is pointed at as well."""
    places = [pointing.marker, pointing.refused, *(pointing.candidate or ())]
    for place in places:
        if place is not None:
            bounds = bounds.around(Bounds(place, place))
    return bounds
