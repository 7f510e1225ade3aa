"""The walk round the tutor, on the screen that it is about."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tutor.alteration.alter import Altered
from tutor.marking.points import out_of_100
from tutor.picture.scene import Scene
from tutor.picture.sheet import Pointing, scene_of
from tutor.practice.session import Session
from tutor.tui.actions import Mode, bindings
from tutor.tui.desk import Desk
from tutor.tui.figure_pages import explained, legend_parts
from tutor.tui.lesson_page import LessonPage
from tutor.tui.placing import track_of
from tutor.tui.plan_lines import plan_lines
from tutor.tui.side_lines import SideState, Told
from tutor.tui.tour import HEADING, Stop, paper, stops

SPARE = 25.0
"""mm shown round the paper, which grows on the way."""


class TourScreen(LessonPage):
    """Stop after stop, the learner looks at a small piece of work being done. It is no work of theirs: none is kept."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.TOUR)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._session = Session(paper(), desk.unit)
        self._stops = stops(ascii=desk.ascii)
        self._at = 0
        self._shown = Scene()

    @property
    def mode(self) -> Mode:
        return Mode.TOUR

    @property
    def stop(self) -> Stop:
        """Where the walk is."""
        return self._stops[self._at]

    def on_mount(self) -> None:
        self.show()

    def show(self) -> None:
        super().show()
        of = f"{self._at + 1} of {len(self._stops)}"
        self._session.unit = self.desk.unit
        if self._session.draft != self.stop.plan:
            self._session.adopt(self.stop.plan)
        self.head.show((f"{HEADING} · {of}: {self.stop.heading}", f"{of}: {self.stop.heading}"))
        scene = self._scene()
        self._shown = scene
        self.picture.show(scene, self._flat().bounds().around(scene.bounds(), complex(SPARE, SPARE)))
        self.side.show(self._side(scene))
        last = self._at + 1 == len(self._stops)
        on = "ends the walk, ← goes back" if last else "goes on, ← goes back, Esc ends the walk"
        self.say.show(self.said or f"Stop {of}. → or Enter {on}.")
        self.said = ""

    def _flat(self) -> Scene:
        return scene_of(self._session.pattern)

    def _scene(self) -> Scene:
        placing = self.stop.placing(track_of(self._session))
        pointing = Pointing() if placing is None else Pointing(placing.point, placing.candidate)
        found = self._session.preview()
        altered = found if isinstance(found, Altered) and self.stop.plan.openings else None
        return scene_of(self._session.pattern, altered, plan=self.stop.plan, pointing=pointing, unit=self.desk.unit)

    def _side(self, scene: Scene) -> SideState:
        session = self._session
        told = [Told(self.stop.heading, heading=True), Told(self.stop.text)]
        if self.stop.marked:
            marked = session.check()
            told.append(Told(f"{out_of_100(marked.total)} of 100. {' '.join(marked.feedback)}", now=True))
        lines = plan_lines(session, "A", ascii=self.desk.ascii)
        chosen = next((line.key for line in lines if line.amount), "A")
        marks = tuple(explained(scene, ascii=self.desk.ascii))
        heading = "plan" if lines else "plan: nothing yet"
        return SideState(session.ask, session.tape(), lines, chosen, heading, self.desk.unit, tuple(told), marks)

    def do_stop_on(self) -> None:
        if self._at + 1 == len(self._stops):
            self.dismiss()
        else:
            self._at += 1

    def do_stop_back(self) -> None:
        self._at = max(self._at - 1, 0)

    def do_legend(self) -> None:
        self.read("What the marks mean", legend_parts(self._shown, ascii=self.desk.ascii), beside=True)

    def do_stop_here(self) -> None:
        self.dismiss()
