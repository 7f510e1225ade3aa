"""Keys that change only what is looked at."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tutor.alteration.alter import Altered
from tutor.faults import printable
from tutor.pattern.measures import Kind, kind_of
from tutor.picture.sheet import Armholes
from tutor.practice.pattern_out import write_own_pattern
from tutor.tui.figure_pages import legend_parts, measures_parts
from tutor.tui.lesson_face import LessonFace
from tutor.tui.lesson_state import ZOOMS
from tutor.tui.pages import Part
from tutor.tui.prompt import Prompt


class LookingKeys(LessonFace):
    """Closer, apart, with the armholes; and pages that tell more."""

    def do_zoom(self) -> None:
        if self.seen.armholes is Armholes.ALONE:
            self.view = replace(self.seen, armholes=Armholes.HIDDEN)
            self.zoom = 0
        else:
            self.zoom = (self.zoom + 1) % len(ZOOMS)

    def do_overlay(self) -> None:
        self.view = replace(self.seen, before=not self.seen.before)

    def do_apart(self) -> None:
        if not self.seen.apart and not (isinstance(self.found(), Altered) and self.moves_something()):
            self.said = "There are no pieces yet to pull apart: place a slash and open it."
            return
        self.view = replace(self.seen, apart=not self.seen.apart)

    def do_armholes(self) -> None:
        order = list(Armholes)
        self.view = replace(self.seen, armholes=order[(order.index(self.seen.armholes) + 1) % len(order)])
        self.zoom = 0

    def do_write_pattern(self) -> None:
        written = list[Path]()

        def write(text: str) -> None:
            written.append(write_own_pattern(self.session, text))

        def told(text: str | None) -> None:
            if written:
                name = printable(str(written[0]))
                self.said = f"{name} is written, to scale; sleeve-tutor sheet lays it on pages to print."
            self.show()

        words = "Write your pattern to which file? Keep this name, or type another."
        start, example = f"{self.session.lesson.name}.svg", "such as my-sleeve.svg"
        prompt = Prompt(words, example, write, None, start, enter="write it", ascii=self.desk.ascii)
        self.app.push_screen(prompt, told)

    def do_legend(self) -> None:
        self.read("What the marks mean", legend_parts(self.scene, ascii=self.desk.ascii), beside=True)

    def do_all_measures(self) -> None:
        rows, now, lies = self.session.tape_of_all(), self.session.measures_now(), self.session.lies
        areas = {name: figure for name, figure in (now or {}).items() if kind_of(name) is Kind.AREA}
        refused = [("\nPaper can't do the plan as it is, so there is no now.", "$text")] if now is None else []

        def parts(width: int) -> list[Part]:
            # A column stays free beside the sign that there is more.
            return [*measures_parts(rows, areas, self.desk.unit, width - 1, lies, ascii=self.desk.ascii), *refused]

        self.read("Every measure", parts)
