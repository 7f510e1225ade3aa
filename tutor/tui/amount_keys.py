"""Keys that change amounts: openings, the cap set back, and those that need no slash."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import partial

from textual import on

from tutor.alteration.amounts import BODICE
from tutor.alteration.plan import Plan
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.practice import editing
from tutor.tui.actions import Action, Mode, named
from tutor.tui.ahead import Ahead
from tutor.tui.desk import Desk
from tutor.tui.lesson_face import LessonFace
from tutor.tui.plan_lines import Kind, PlanLine, main_station, stepped, stepped_text
from tutor.tui.prompt import Prompt, asked_in
from tutor.tui.side import Side
from tutor.units import format_length, parse_length


class AmountKeys(LessonFace):
    """Stepping and typing the amount of the chosen line."""

    def __init__(self, desk: Desk, lesson: Lesson, leave: Callable[[], object]) -> None:
        super().__init__(desk, lesson, leave)
        self._ahead = Ahead()

    @on(Side.Chosen)
    def choose_line(self, event: Side.Chosen) -> None:
        if self.mode is Mode.PLAN:
            again = event.key == self.chosen
            self.chosen = event.key
            line = self.line()
            if again and line is not None and line.kind is not Kind.SLASH:
                self.do_type_amount()
            self.show()
        elif self.mode is Mode.CHOICE:
            self.chosen = event.key
            self.perform(named("pick"))

    def amount_line(self) -> PlanLine | None:
        """The chosen line, or the place where its slash is opened, which is chosen then."""
        line = self.line()
        if line is None or line.kind is not Kind.SLASH:
            return line
        slash = self.session.draft.slash(line.slash)
        assert slash is not None
        station = main_station(self.session.stations(line.slash), slash)
        if station is None:
            return None
        self.chosen = f"{line.slash}/{station.key}"
        return self.line()

    def set_amount(self, line: PlanLine, mm: float | None) -> None:
        if line.kind is Kind.STATION and line.station is not None:
            station = line.station
            self.attempt(lambda: self.session.set_opening(line.slash, station, mm))
            self.show_the_sleeve()
        elif line.of is not None:
            amount = line.of
            self.attempt(lambda: self.session.set_amount(amount, mm or 0.0))
            if amount.means in BODICE:
                self.show_the_armholes()
            else:
                self.show_the_sleeve()

    def step_amount(self, steps: int, *, coarse: bool) -> None:
        line = self.amount_line()
        if line is None:
            self.said = "There is nothing to open yet: s starts a slash."
        elif line.kind is Kind.SET_BACK:
            self.do_set_back()
        else:
            mm = stepped(line.amount, steps, self.desk.unit, coarse=coarse)
            self.set_amount(line, mm)
            # Whoever presses a key once more gets a frame for which all is at hand. First comes this key's own.
            foresee = partial(self._foresee, line, stepped(mm, steps, self.desk.unit, coarse=coarse))
            self.call_after_refresh(self._put_ahead, self.session.draft, foresee)

    def _put_ahead(self, draft: Plan, work: Callable[[], object]) -> None:
        """Has work done in the pause after a frame, unless another key has changed the plan since."""
        if self.session.draft is draft:
            self._ahead.put(work)

    def _foresee(self, line: PlanLine, mm: float) -> None:
        """Has at hand what the chosen amount would come to."""
        draft = self.session.draft
        with suppress(Fault):
            if line.station is not None:
                self.foresee(editing.with_opening(draft, line.station, mm))
            elif line.of is not None:
                self.foresee(editing.with_amount(draft, line.of, mm))

    def perform(self, action: Action) -> None:
        self._ahead.drop()
        super().perform(action)

    def do_more(self) -> None:
        self.step_amount(1, coarse=False)

    def do_less(self) -> None:
        self.step_amount(-1, coarse=False)

    def do_much_more(self) -> None:
        self.step_amount(1, coarse=True)

    def do_much_less(self) -> None:
        self.step_amount(-1, coarse=True)

    def do_type_amount(self) -> None:
        line = self.amount_line()
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
                self.set_amount(line, parse_length(text, unit))
            self.show()

        def check(text: str) -> float:
            return parse_length(text, unit)

        def step(text: str, steps: int) -> str:
            return stepped_text(text, steps, unit)

        words = f"{what}, in {asked_in(unit)}"
        prompt = Prompt(words, "such as 3, 3.5 cm, 1 1/4 in", check, step, start, ascii=self.desk.ascii)
        self.app.push_screen(prompt, take)

    def do_next_place(self) -> None:
        """Moves the opening of the chosen line on to the next place of its slash."""
        line = self.amount_line()
        if line is None or line.station is None:
            self.said = "Choose a slash first; then p moves its opening along it."
            return
        known = self.session.stations(line.slash)
        here = next(k for k, station in enumerate(known) if station.key == line.station.key)
        following = known[(here + 1) % len(known)]
        if line.amount is not None:
            with self.session.one_step():
                self.set_amount(line, None)
                self.attempt(lambda: self.session.set_opening(line.slash, following.key, line.amount))
        self.chosen = f"{line.slash}/{following.key}"

    def do_add_opening(self) -> None:
        """Holds the chosen place shut, to be opened from there."""
        line = self.amount_line()
        if line is not None and line.station is not None and line.amount is None:
            self.set_amount(line, 0.0)

    def do_set_back(self) -> None:
        if self.attempt(lambda: self.session.set_set_back(not self.session.draft.set_back)):
            self.show_the_sleeve()
