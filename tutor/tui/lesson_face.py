"""A lesson on the screen: what is shown of it, and which line of the plan is chosen."""

from __future__ import annotations

from dataclasses import replace

from textual import on

from tutor.lesson.task import PlanTask
from tutor.practice.figures_told import as_it_lies
from tutor.tui import guide
from tutor.tui.actions import Mode, named
from tutor.tui.figure_pages import explained
from tutor.tui.lesson_state import MODES, ZOOMS
from tutor.tui.pages import Part, paragraphs
from tutor.tui.paper_view import PaperView
from tutor.tui.side import Side
from tutor.tui.side_lines import SideState
from tutor.tui.walking import walking_told, walking_words


class LessonFace(PaperView):
    """Head, picture, panel, guide and footer, brought up to date by ``show``."""

    def on_mount(self) -> None:
        if self.view is None:
            self.look_at_what_matters()
            self.do_brief()
        else:
            self.said = guide.left_words(self.session) if self.mode in MODES.values() else ""
        self.show_tour_once()
        self.show()

    def show(self) -> None:
        self.choose_some_line()
        super().show()
        # Kept before it is seen: whatever is on the screen is there next time as well.
        self.tell_of_record(self.desk.keep(self.session, self._remembered()))
        self.head.show(self._heads())
        self.pointing = self.pointing_now()
        self.scene = self.scene_now()
        self.side.show(self._side())
        self.picture.show(self.scene, self.bounds_now())
        self.say.show(self.said or self._guide())
        self.telling, self.said = bool(self.said), ""

    @on(Side.Wanted)
    def want(self, event: Side.Wanted) -> None:
        self.perform(named(event.action))

    def _heads(self) -> tuple[str, ...]:
        """The heading, in full and shorter and shorter."""
        session = self.session
        lesson, of = f"{self.lesson.number} {session.title}", f"{session.task_number} of {len(session.tasks)}"
        before = [number for number in guide.open_tasks(session) if number < session.task_number]
        some = f" ({len(before)} before it open)" if before else ""
        closer = ZOOMS[self.zoom] if self.mode is not Mode.PLACE else "closer"
        title = session.task.title + ("" if self.zoom == 0 else f" · {closer}")
        tasks = (f"task {of}{some}", f"task {of}")
        return (
            *(f"{lesson} · {task}: {title}" for task in tasks),
            f"Lesson {self.lesson.number} · {tasks[-1]}: {title}",
        )

    def _guide(self) -> str:
        if self.showing is not None:
            step = f"Step {self.showing.done} of {len(self.showing.steps)}."
            return f"{step} → goes on, ← back; a lays all of it on your own paper, Esc goes back to that."
        if self.walking is not None:
            return " ".join((as_it_lies(self.session.task), walking_words(self.walking, self.desk.unit))).strip()
        if self.placing is not None and self.placing.measuring:
            return guide.measuring_words(self.session, self.placing, self.desk.unit)
        if self.placing is not None:
            return guide.placing_words(self.session, self.placing, self.desk.unit)
        if self.mode is Mode.NUMBER:
            return guide.number_words(self.session)
        if self.mode is Mode.PLACE:
            return guide.seeking_guide(self.session, self.seeking_now(), self.desk.unit)
        if self.mode is Mode.CHOICE:
            return guide.choice_words(self.session)
        if self.mode is Mode.DIAGNOSE:
            return guide.diagnosing_words(self.session, self.chosen)
        shown = self.pointing.refused is not None
        return guide.plan_words(self.session, self.line(), self.desk.unit, shown=shown)

    def _side(self) -> SideState:
        session, unit = self.session, self.desk.unit
        marks = tuple(explained(self.scene, ascii=self.desk.ascii))
        if self.showing is not None:
            tape = session.tape(self.showing.plan)
            return SideState(session.ask, tape, (), "", "", unit, self.showing.told, marks)
        if self.walking is not None:
            return SideState(session.ask, (), (), "", "", unit, walking_told(self.walking, unit), marks)
        if session.signs:
            state = SideState(session.ask, (), (), self.chosen, "", unit, (), marks, self.options)
            return replace(state, signs=session.signs)
        if session.options:
            options, tape = (self.options, session.task_picks_one), session.option_tape(self.chosen)
            return SideState(session.ask, tape, (), self.chosen, "", unit, (), marks, *options, lies=session.lies)
        planned = isinstance(session.task, PlanTask)
        lines = self.lines() if planned else ()
        heading = "plan" if lines else "plan: nothing yet" if planned else ""
        return SideState(session.ask, session.tape(), lines, self.chosen, heading, unit, (), marks, lies=session.lies)

    @property
    def texts(self) -> tuple[str, ...]:
        measured = (row.words for row in self.session.tape())
        return self.session.task.title, self.session.ask, *self.session.brief, *measured

    def do_brief(self) -> None:
        """What is asked: of a lesson's first task after what the lesson is about, of any other before that."""
        heading, asked = f"{self.lesson.number} {self.lesson.title}", self._asked()
        first = self.session.task_number == 1
        self.read(heading, [*self._about(), ("\n\n", ""), *asked] if first else [*asked, ("\n\n", ""), *self._about()])

    def show_task(self) -> None:
        """What is asked by a task that is gone on to."""
        if self.session.task_number == 1:
            self.do_brief()
        else:
            self.read(f"{self.lesson.number} {self.lesson.title}", self._asked())

    def _asked(self) -> list[Part]:
        asked = [(f"{self.session.task.title}\n", "bold $strong"), (self.session.ask, "$text")]
        if self.session.signs:
            asked += [("\n\n" + " ".join(self.session.folds_told()), "$text"), ("\n\nSigns to look for:", "bold $text")]
            asked += [(f"\n{each.number}  {each.words}", "$text") for each in self.session.signs]
            asked += [("\n\nCauses to name one of:", "bold $text")]
        return [*asked, *((f"\n{each.letter or '-'}  {each.words}", "$text") for each in self.options)]

    def _about(self) -> list[Part]:
        parts = paragraphs(self.session.brief)
        for caution in self.session.cautions:
            parts += [("\n\nCaution: ", "bold $bad"), (caution, "$text")]
        return parts
