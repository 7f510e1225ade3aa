"""A lesson on the screen: picture, tape and plan; placing slashes, opening them, having them marked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from tutor.alteration.alter import Altered
from tutor.alteration.refusal import LOOSE, Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import HINTS, NumberTask
from tutor.marking.marked import Marked
from tutor.picture.scene import Bounds, Scene
from tutor.picture.sheet import Armholes, Pointing, SlashEnd, View, cap_bounds, scene_of, slash_ends, underarm_bounds
from tutor.practice.place_text import LANDMARK_WORDS
from tutor.tui import guide
from tutor.tui.actions import Action, Mode, bindings, named
from tutor.tui.desk import Desk
from tutor.tui.face import Face
from tutor.tui.foot import Foot
from tutor.tui.marker import Marker
from tutor.tui.pages import Part, legend_parts, marked_parts, measures_parts, page, paragraphs
from tutor.tui.picture import Picture
from tutor.tui.placing import Placing, refused, track_of
from tutor.tui.plan_lines import Kind, PlanLine, main_station, plan_lines, stepped
from tutor.tui.prompt import Choice, Prompt
from tutor.tui.say import Say
from tutor.tui.side import Side, SideState
from tutor.tui.small import Small
from tutor.units import Unit, format_length, parse_length

ZOOMS = ("whole", "cap", "back underarm", "front underarm")
ROOM_BESIDE = 116
"""Columns from which the armholes fit beside the cap."""
STEP = {Unit.CM: 5.0, Unit.MM: 5.0, Unit.INCH: 25.4 / 4}
FINE = {Unit.CM: 1.0, Unit.MM: 1.0, Unit.INCH: 25.4 / 16}
LONG = {Unit.CM: 30.0, Unit.MM: 30.0, Unit.INCH: 25.4}
"""Steps of the marker in mm: by arrow, by a hair, and long."""


class LessonScreen(Face):
    """One lesson. What is known of the work is in its ``Session``; here is only what is chosen and looked at."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.PLAN, Mode.PLACING, Mode.NUMBER)

    def __init__(self, desk: Desk, lesson: Lesson) -> None:
        super().__init__(desk)
        self.lesson = lesson
        self.session = desk.session(lesson)
        self.placing: Placing | None = None
        self.chosen = ""
        self.view = View()
        self.zoom = 0
        self.said = ""
        self.scene = Scene()
        self._pressed: Marker | None = None
        self._held: SlashEnd | None = None

    @property
    def mode(self) -> Mode:
        if self.placing is not None:
            return Mode.PLACING
        return Mode.NUMBER if isinstance(self.session.task, NumberTask) else Mode.PLAN

    @property
    def foot(self) -> tuple[Action, ...]:
        if self.mode is Mode.PLAN and not self.session.may_use("slashes"):
            return tuple(named(name) for name in ("help", "quit", "more", "type_amount", "check", "hint"))
        return super().foot

    def compose(self) -> ComposeResult:
        yield Small()
        with Vertical(id="page"):
            yield Static(id="head")
            with Horizontal(id="work"):
                yield Picture(ascii=self.desk.ascii, id="picture")
                yield Side(ascii=self.desk.ascii, id="side")
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    def on_mount(self) -> None:
        self._look_at_what_matters()
        self.show()
        if not self.session.can_undo and not self.session.attempts():
            self.do_brief()

    # Showing.

    def show(self) -> None:
        super().show()
        self._choose_some_line()
        ascii = self.desk.ascii
        self.query_one("#head", Static).update(page([(self._head(), "")], ascii=ascii), layout=False)
        self.query_one(Side).show(self._side())
        self.scene = self._scene()
        self.query_one(Picture).show(self.scene, self._bounds())
        self.query_one(Say).show(self.said or self._guide())
        self.said = ""

    def _head(self) -> str:
        session = self.session
        task = f"task {session.task_number} of {len(session.tasks)}: {session.task.title}"
        zoom = "" if self.zoom == 0 else f" · {ZOOMS[self.zoom]}"
        return f"{self.lesson.number} {self.lesson.title} · {task}{zoom}"

    def _guide(self) -> str:
        if self.placing is not None:
            return guide.placing_words(self.session, self.placing, self.desk.unit)
        if self.mode is Mode.NUMBER:
            return guide.number_words(self.session)
        return guide.plan_words(self.session, self._line(), self.desk.unit)

    def _side(self) -> SideState:
        session = self.session
        planned = self.mode is not Mode.NUMBER
        lines = self._lines() if planned else ()
        heading = "plan" if lines else "plan: nothing yet" if planned else ""
        return SideState(session.ask, session.tape(), lines, self.chosen, heading, self.desk.unit)

    def _found(self) -> Altered | Refusal | None:
        return None if self.mode is Mode.NUMBER else self.session.preview()

    def _scene(self) -> Scene:
        """The paper as it lies: flat while a slash is placed or paper refuses, else altered over what it was."""
        session, found = self.session, self._found()
        pointing = Pointing()
        altered = found if isinstance(found, Altered) and self._does_something() else None
        if self.placing is not None:
            altered = None
            reason = refused(session, self.placing)
            place = reason.place if reason is not None else None
            pointing = Pointing(self.placing.point, self.placing.candidate, place)
        elif isinstance(found, Refusal) and (found.kind != LOOSE or self._does_something()):
            pointing = Pointing(refused=found.place)
        return scene_of(
            session.pattern,
            altered,
            plan=session.draft,
            view=self.view,
            pointing=pointing,
            unit=self.desk.unit,
        )

    def _does_something(self) -> bool:
        """Whether the plan moves anything: an opening, the cap, an armhole."""
        draft = self.session.draft
        answers = (draft.back.widen, draft.back.lower, draft.front.widen, draft.front.lower)
        return draft.set_back or any(answers) or any(opening.amount for opening in draft.openings)

    def _bounds(self) -> Bounds:
        """What of the plane is shown: steady while amounts change, so that the paper grows and not the scale."""
        sleeve = self.session.pattern.sleeve
        if self.zoom == 1:
            return cap_bounds(sleeve)
        if self.zoom > 1:
            return underarm_bounds(sleeve, ZOOMS[self.zoom].split()[0])
        return _around(
            scene_of(self.session.pattern, view=View(armholes=self.view.armholes)).bounds(), self.scene.bounds()
        )

    def _look_at_what_matters(self) -> None:
        """A task about the armholes begins with them in view: beside the cap where there is room, else alone."""
        task = self.session.task
        about = self.session.may_use("armhole") or (isinstance(task, NumberTask) and task.of.startswith("armhole"))
        beside = Armholes.BESIDE if self.app.size.width >= ROOM_BESIDE else Armholes.ALONE
        self.view = View(armholes=beside if about else Armholes.HIDDEN)
        self.zoom = 0

    # The chosen line of the plan.

    def _lines(self) -> tuple[PlanLine, ...]:
        return plan_lines(self.session, self.chosen, ascii=self.desk.ascii)

    def _line(self) -> PlanLine | None:
        return next((line for line in self._lines() if line.key == self.chosen), None)

    def _choose_some_line(self) -> None:
        """Keeps the chosen line if it is still there, else its slash, else the first."""
        if self.mode is Mode.NUMBER:
            return
        keys = [line.key for line in self._lines()]
        if self.chosen not in keys:
            slash = self.chosen.split("/")[0]
            self.chosen = slash if slash in keys else keys[0] if keys else ""

    def _select(self, way: int) -> None:
        keys = [line.key for line in self._lines()]
        if keys:
            here = keys.index(self.chosen) if self.chosen in keys else 0
            self.chosen = keys[min(max(here + way, 0), len(keys) - 1)]

    def do_select_up(self) -> None:
        self._select(-1)

    def do_select_down(self) -> None:
        self._select(1)

    @on(Side.Chosen)
    def choose_line(self, event: Side.Chosen) -> None:
        if self.mode is Mode.PLAN:
            again = event.key == self.chosen
            self.chosen = event.key
            line = self._line()
            if again and line is not None and line.kind is not Kind.SLASH:
                self.do_type_amount()
            self.show()

    def _try(self, edit: Callable[[], object]) -> bool:
        """Makes an edit; a fault is said instead."""
        try:
            edit()
        except Fault as fault:
            self.said = f"{fault.what}; {fault.right}." if fault.right else f"{fault.what}."
            return False
        return True

    # Amounts.

    def _amount_line(self) -> PlanLine | None:
        """The chosen line, or the place where its slash is opened, which is chosen then."""
        line = self._line()
        if line is None or line.kind is not Kind.SLASH:
            return line
        slash = self.session.draft.slash(line.slash)
        assert slash is not None
        station = main_station(self.session.stations(line.slash), slash)
        if station is None:
            return None
        self.chosen = f"{line.slash}/{station.key}"
        return self._line()

    def _set_amount(self, line: PlanLine, mm: float | None) -> None:
        if line.kind is Kind.STATION and line.station is not None:
            station = line.station
            self._try(lambda: self.session.set_opening(line.slash, station, mm))
        elif line.kind is Kind.ANSWER:
            widen, lower = (mm or 0.0, None) if line.part == "widen" else (None, mm or 0.0)
            self._try(lambda: self.session.set_answer(line.side, widen, lower))

    def _step_amount(self, steps: int, *, coarse: bool) -> None:
        line = self._amount_line()
        if line is None:
            self.said = "There is nothing to open yet: s starts a slash."
        elif line.kind is Kind.SET_BACK:
            self.do_set_back()
        else:
            self._set_amount(line, stepped(line.amount, steps, self.desk.unit, coarse=coarse))

    def do_more(self) -> None:
        self._step_amount(1, coarse=False)

    def do_less(self) -> None:
        self._step_amount(-1, coarse=False)

    def do_much_more(self) -> None:
        self._step_amount(1, coarse=True)

    def do_much_less(self) -> None:
        self._step_amount(-1, coarse=True)

    def do_type_amount(self) -> None:
        line = self._amount_line()
        if line is None:
            self.said = "There is nothing to open yet: s starts a slash."
            return
        if line.kind is Kind.SET_BACK:
            self.do_set_back()
            return
        unit = self.desk.unit
        what = f"{line.slash} {line.words}: open by (minus overlaps)" if line.slash else f"{line.words} by"
        start = format_length(line.amount, unit) if line.amount else ""

        def take(text: str | None) -> None:
            if text is not None:
                self._set_amount(line, parse_length(text, unit))
            self.show()

        prompt = Prompt(
            f"{what}, in {unit.value}", "such as 3, 3.5 cm, 1 1/4 in", lambda text: parse_length(text, unit), start
        )
        self.app.push_screen(prompt, take)

    def do_next_place(self) -> None:
        """Moves the opening of the chosen line on to the next place of its slash."""
        line = self._amount_line()
        if line is None or line.station is None:
            self.said = "Choose a slash first; then p moves its opening along it."
            return
        known = self.session.stations(line.slash)
        here = next(k for k, station in enumerate(known) if station.key == line.station.key)
        following = known[(here + 1) % len(known)]
        if line.amount is not None:
            self._set_amount(line, None)
            self._try(lambda: self.session.set_opening(line.slash, following.key, line.amount))
        self.chosen = f"{line.slash}/{following.key}"

    def do_add_opening(self) -> None:
        """Holds the chosen place shut, to be opened from there."""
        line = self._amount_line()
        if line is not None and line.station is not None and line.amount is None:
            self._set_amount(line, 0.0)

    def do_set_back(self) -> None:
        self._try(lambda: self.session.set_set_back(not self.session.draft.set_back))

    # Slashes.

    def _slash_name(self) -> str:
        line = self._line()
        return line.slash if line is not None else ""

    def _toggle(self, end: str) -> None:
        slash = self.session.draft.slash(self._slash_name())
        if slash is None:
            self.said = "Choose a slash first: its ends are hinges, or cut through."
        elif end == "start":
            self._try(lambda: self.session.set_hinge(slash.name, "start", not slash.start_hinge))
        else:
            self._try(lambda: self.session.set_hinge(slash.name, "end", not slash.end_hinge))

    def do_toggle_start(self) -> None:
        self._toggle("start")

    def do_toggle_end(self) -> None:
        self._toggle("end")

    def do_delete(self) -> None:
        line = self._line()
        if line is None:
            return
        if line.kind is Kind.SLASH:
            self._try(lambda: self.session.remove_slash(line.slash))
        elif line.kind in (Kind.STATION, Kind.ANSWER):
            self._set_amount(line, None)

    def do_undo(self) -> None:
        if not self.session.undo():
            self.said = "There is nothing to take back."

    def do_redo(self) -> None:
        if not self.session.redo():
            self.said = "There is nothing to do again."

    # Placing.

    def do_new_slash(self) -> None:
        if not self.session.may_use("slashes"):
            self.said = "This task is done without slashes: choose an amount with the arrows, + changes it."
            return
        track = track_of(self.session)
        self.placing = Placing(track, track.at_landmark("crown") or Marker(track.stops[0][0]))

    def do_move_start(self) -> None:
        self._pick_up("start")

    def do_move_end(self) -> None:
        self._pick_up("end")

    def _pick_up(self, end: str) -> None:
        name = self._slash_name()
        line = self.session.slash_line(name)
        slash = self.session.draft.slash(name)
        if line is None or slash is None:
            self.said = "Choose a slash first; then m picks up its start and M its end."
            return
        track = track_of(self.session, leaving=name)
        moved, other = line if end == "start" else line[::-1]
        marker = track.nearest(moved, 1.0) or track.nearest_on_edge(moved)[0]
        self.placing = Placing(track, marker, set_point=other, name=name, moving=end)

    def do_give_up(self) -> None:
        self.placing = None

    def _walk(self, move: Callable[[Placing], Marker | None]) -> None:
        assert self.placing is not None
        marker = move(self.placing)
        if marker is None:
            self.said = "The edge does not go that way from here: try the other arrows, or n for the next named place."
        else:
            self.placing = self.placing.at(marker)

    def _toward(self, direction: complex) -> None:
        step = STEP[self.desk.unit]
        self._walk(lambda placing: placing.track.toward(placing.marker, direction, step))

    def do_walk_left(self) -> None:
        self._toward(-1)

    def do_walk_right(self) -> None:
        self._toward(1)

    def do_walk_up(self) -> None:
        self._toward(1j)

    def do_walk_down(self) -> None:
        self._toward(-1j)

    def _along(self, mm: float) -> None:
        self._walk(lambda placing: placing.track.stepped(placing.marker, mm))

    def do_fine_back(self) -> None:
        self._along(-FINE[self.desk.unit])

    def do_fine_on(self) -> None:
        self._along(FINE[self.desk.unit])

    def do_coarse_back(self) -> None:
        self._along(-LONG[self.desk.unit])

    def do_coarse_on(self) -> None:
        self._along(LONG[self.desk.unit])

    def do_next_stop(self) -> None:
        self._walk(lambda placing: placing.track.next_stop(placing.marker, 1))

    def do_previous_stop(self) -> None:
        self._walk(lambda placing: placing.track.next_stop(placing.marker, -1))

    def do_next_line(self) -> None:
        self._walk(lambda placing: placing.track.next_line(placing.marker))

    def do_go_to(self) -> None:
        assert self.placing is not None
        names = [(name, LANDMARK_WORDS.get(name, name)) for _, name in self.placing.track.stops]

        def take(name: str | None) -> None:
            if name is not None and self.placing is not None:
                self.placing = self.placing.at(self.placing.track.at_landmark(name) or self.placing.marker)
            self.show()

        self.app.push_screen(Choice("Go to which place?", names), take)

    def do_put(self) -> None:
        self._put(hinge=False)

    def do_put_hinge(self) -> None:
        self._put(hinge=True)

    def _put(self, *, hinge: bool) -> None:
        placing = self.placing
        assert placing is not None
        if not placing.moving and placing.set_at is None:
            self.placing = replace(placing, set_at=placing.place, set_point=placing.point, set_hinge=hinge)
            return
        if placing.candidate is None:
            self.said = "The slash has no length yet: walk the marker to where it ends."
            return
        reason = refused(self.session, placing)
        if reason is not None:
            self.said = (
                f"Paper can't be cut so: {guide.refusal_words(reason, self.desk.unit)}. Walk on, or Esc leaves off."
            )
            return
        self._finish(placing, hinge=hinge)

    def _finish(self, placing: Placing, *, hinge: bool) -> None:
        session = self.session
        if placing.moving:
            place = placing.place
            start, end = (place, None) if placing.moving == "start" else (None, place)
            self._try(lambda: session.move_slash(placing.name, start, end))
            self.chosen = placing.name
        elif placing.set_at is not None:
            before = {slash.name for slash in session.draft.slashes}
            start_place = placing.set_at
            self._try(lambda: session.add_slash(start_place, placing.place, placing.set_hinge, hinge))
            new = [slash.name for slash in session.draft.slashes if slash.name not in before]
            self.chosen = new[0] if new else self.chosen
        self.placing = None

    # The mouse.

    @on(Picture.Pointed)
    def point(self, event: Picture.Pointed) -> None:
        if self.mode is Mode.NUMBER:
            return
        if self.placing is not None:
            self._point_at_edge(event)
        elif event.how == "down":
            self._press(event)
        elif self._held is not None:
            self._drag_or_click(self._held, event)
        self.show()

    @on(Picture.Wheeled)
    def wheel(self, event: Picture.Wheeled) -> None:
        if self.mode is Mode.PLAN:
            self._step_amount(event.way, coarse=True)
            self.show()

    def _ends(self) -> list[SlashEnd]:
        found = self._found()
        altered = found if isinstance(found, Altered) and self._does_something() else None
        return slash_ends(self.session.pattern.sleeve, self.session.draft, altered)

    def _press(self, event: Picture.Pointed) -> None:
        """The mouse goes down: an end of a slash is held, or a slash is started from the edge."""
        near = min(self._ends(), key=lambda end: abs(end.point - event.place), default=None)
        if near is not None and abs(near.point - event.place) <= 1.5 * event.reach:
            self._held = near
            self.chosen = near.slash
            return
        if not self.session.may_use("slashes"):
            return
        track = track_of(self.session)
        marker = track.nearest(event.place, event.reach)
        if marker is not None:
            self.placing = Placing(track, marker)
            self._pressed = marker
            self._put(hinge=False)

    def _drag_or_click(self, held: SlashEnd, event: Picture.Pointed) -> None:
        """An end that is held: dragged away it is moved, let go of where it is it turns hinge or through cut."""
        if event.how == "up":
            self._held = None
            self._toggle(held.name)
        elif abs(held.point - event.place) > 2 * event.reach:
            self._held = None
            self._pick_up(held.name)

    def _point_at_edge(self, event: Picture.Pointed) -> None:
        """While placing, the marker follows the mouse; where it is let go of, away from the start, an end is set."""
        assert self.placing is not None
        marker = self.placing.track.nearest(event.place, event.reach)
        if marker is None:
            if event.how == "down":
                self.said = "Point at the edge of the paper, or at a slash."
            return
        self.placing = self.placing.at(marker)
        if event.how == "down" and self.placing.set_at is None and not self.placing.moving:
            self._pressed = marker
            self._put(hinge=False)
        elif event.how == "up":
            pressed, self._pressed = self._pressed, None
            if pressed is None or abs(self.placing.track.point(pressed) - self.placing.point) > 2 * event.reach:
                self._put(hinge=False)

    # Marking and help.

    def do_check(self) -> None:
        marked = self.session.check()
        self._tell(marked)

    def _tell(self, marked: Marked) -> None:
        ways: tuple[tuple[str, str], ...] = (("n", "n: next task"),) if marked.passed else (("h", "h: hint"),)

        def then(key: str | None) -> None:
            if key == "n":
                self.do_next_task()
            elif key == "h":
                self.do_hint()
            self.show()

        secret = self.mode is Mode.NUMBER and not marked.passed
        parts = marked_parts(marked, self.desk.unit, self.session.notes(), secret=secret)
        self.read(f"Mark: {self.session.task.title}", parts, then, ways)

    def do_answer(self) -> None:
        session, marks = self.session, list[Marked]()

        def check(text: str) -> None:
            marks.append(session.answer(text))

        def take(text: str | None) -> None:
            if marks:
                self._tell(marks[-1])
            self.show()

        words = f"{session.task.title}: your answer, in {self.desk.unit.value}"
        self.app.push_screen(Prompt(words, "such as 12.5", check), take)

    def do_hint(self) -> None:
        text = self.session.hint()
        taken = self.session.hints_taken
        ways = (("h", "h: next hint"),) if taken < HINTS else (("w", "w: worked solution"),)

        def then(key: str | None) -> None:
            if key == "h":
                self.do_hint()
            elif key == "w":
                self.do_solution()
            self.show()

        self.read(f"Hint {taken} of {HINTS}", paragraphs([text]), then, ways)

    def do_solution(self) -> None:
        def then(key: str | None) -> None:
            if key == "y":
                self._show_solution()
            self.show()

        if self.session.standing() in ("passed", "shown"):
            self._show_solution()
            return
        text = "Once you have seen the worked solution, this task counts as shown, and can't be passed any more."
        self.read("A worked solution?", paragraphs([text]), then, (("y", "y: show it"),))

    def _show_solution(self) -> None:
        solution = self.session.solution()
        steps = [f"{number}. {step}" for number, step in enumerate(solution.steps, 1)]
        self.read("Worked solution", paragraphs(steps))

    def do_next_task(self) -> None:
        if self.session.next_task():
            self.chosen = ""
            self._look_at_what_matters()
            self.do_brief()
        else:
            self.do_lessons()

    def do_lessons(self) -> None:
        self.app.pop_screen()

    # Looking.

    def do_brief(self) -> None:
        parts: list[Part] = []
        if self.session.task_number == 1:
            parts += paragraphs(self.session.brief)
            for caution in self.session.cautions:
                parts += [("\n\nCaution: ", "bold $bad"), (caution, "$text")]
            parts.append(("\n\n", ""))
        parts += [(f"{self.session.task.title}\n", "bold $strong"), (self.session.ask, "$text")]
        self.read(f"{self.lesson.number} {self.lesson.title}", parts)

    def do_zoom(self) -> None:
        if self.view.armholes is Armholes.ALONE:
            self.view = replace(self.view, armholes=Armholes.HIDDEN)
            self.zoom = 0
        else:
            self.zoom = (self.zoom + 1) % len(ZOOMS)

    def do_overlay(self) -> None:
        self.view = replace(self.view, before=not self.view.before)

    def do_apart(self) -> None:
        self.view = replace(self.view, apart=not self.view.apart)
        if self.view.apart and not isinstance(self._found(), Altered):
            self.said = "There are no pieces yet to pull apart: place a slash and open it."

    def do_armholes(self) -> None:
        order = list(Armholes)
        self.view = replace(self.view, armholes=order[(order.index(self.view.armholes) + 1) % len(order)])
        self.zoom = 0

    def do_legend(self) -> None:
        self.read("What the marks mean", legend_parts(self.scene, ascii=self.desk.ascii))

    def do_all_measures(self) -> None:
        before, now = self.session.measures_before(), self.session.measures_now()
        task = self.session.task
        hidden = task.of if isinstance(task, NumberTask) and not task.after else ""
        shown = {name: figure for name, figure in before.items() if name != hidden}
        after = {name: figure for name, figure in (now or {}).items() if name != hidden}
        self.read("Every measure", measures_parts(shown, after, self.desk.unit))

    def do_theme(self) -> None:
        super().do_theme()
        self.query_one(Picture).repaint()


def _around(a: Bounds, b: Bounds) -> Bounds:
    """The bounds round both, with a little to spare about the first."""
    spare = complex(12, 8)
    low, high = a.low - spare, a.high + spare
    return Bounds(
        complex(min(low.real, b.low.real), min(low.imag, b.low.imag)),
        complex(max(high.real, b.high.real), max(high.imag, b.high.imag)),
    )
