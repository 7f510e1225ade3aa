"""The demo class of ``assets/evening-class``: run as a script it writes anew the class list and what is handed in.

Fourteen learners with invented names: most fill in their forms, some draw, one traces points, three measured on paper
and stand in a table, one comes late, one hands in a form that can't be read, and one nothing.
"""

from __future__ import annotations

import random
import shutil
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from drawn_answers import Hand, as_editors_write, lines_of, redrawn
from plan_text import write_plan

from tutor.alteration.plan import Plan
from tutor.classwork.enrolment import enrolled
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.marker import Marker
from tutor.classwork.register import Register
from tutor.classwork.store import Store
from tutor.lesson.task import PlanTask
from tutor.marking.case import NumberCase
from tutor.marking.usual import MISTAKES
from tutor.marking.wrong_plans import scaled
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS
from tutor.practice.session import Session
from tutor.practice.worked import AnyCase, case_of
from tutor.units import Unit, format_length

FOLDER = Path(__file__).resolve().parent.parent / "assets" / "evening-class"


@dataclass(frozen=True)
class Pupil:
    """One of the class: what is handed in for each task, and how. A task is left out where nothing is given.

    ``gives`` are, by task: "right"; a number, by which a figure is off in mm; or a usual mistake. ``draws`` are the
    tasks whose altered pattern is handed in, drawn or traced, in place of the plan.
    """

    name: str
    gives: dict[int, str | float]
    draws: tuple[int, ...] = ()
    traces: tuple[int, ...] = ()
    unit: str = ""
    on: str = ""
    table: bool = False
    broken: bool = False
    loose: dict[int, float] = field(default_factory=dict)
    """By how much the amounts of a right plan are off, as a share."""


ALL_RIGHT: dict[int, str | float] = dict.fromkeys(range(1, 7), "right")
CLASS = (
    Pupil("Anouk", ALL_RIGHT, on="2025-03-18"),
    Pupil("Tove", ALL_RIGHT | {4: 1.5}, draws=(2, 6), on="2025-03-19"),
    Pupil("Odd", ALL_RIGHT | {2: "per-side", 1: "change-for-value"}, on="2025-03-17"),
    Pupil("Mirjam", ALL_RIGHT | {3: "crown-closed", 5: "stretch-missed", 6: "stretch-missed"}),
    Pupil("Hedda", ALL_RIGHT | {2: "crown-wide-open", 4: 2.0}, loose={3: 1.06}),
    Pupil("Bram", {1: "slant-for-height", 2: "per-side", 3: "right", 5: "no-ease"}, draws=(2,), on="2025-03-20"),
    Pupil("Noor", {1: 1.0, 4: "right", 5: "right"}, table=True),
    Pupil("Ines", {}),
    Pupil("Idris", ALL_RIGHT | {1: 2.0, 6: "wrong-sign"}, traces=(3,), on="2025-03-20"),
    Pupil("Pilar", {1: "right", 4: 6.0, 5: "right"}, table=True),
    Pupil("Oona", ALL_RIGHT | {4: "one-side"}, unit="in", loose={2: 1.03}),
    Pupil("Marit", ALL_RIGHT, broken=True),
    Pupil("Fenna", ALL_RIGHT | {2: "unit-swap", 4: 9.0}, on="2025-03-22", loose={3: 1.15}),
    Pupil("Kees", {1: "change-for-value", 4: "right", 5: "stretch-missed"}, table=True),
)


def rounded(plan: Plan) -> Plan:
    """The plan with its openings in whole millimetres, as they are typed."""
    return plan.with_amounts(*(float(round(opening.amount)) for opening in plan.openings))


@dataclass(frozen=True)
class Desk:
    """One learner at the homework: works out what to hand in, and writes it into the folder of answers."""

    pupil: Pupil
    file: str
    variant: str
    sessions: dict[int, Session]
    cases: dict[int, AnyCase]

    def figure(self, task: int) -> str:
        """A figure in the learner's unit, without it: a bare number is in the unit of the form."""
        case = self.cases[task]
        assert isinstance(case, NumberCase)
        gives = self.pupil.gives[task]
        if isinstance(gives, str) and gives != "right":
            figures = MISTAKES[gives].figures
            assert figures is not None
            mm = next(iter(figures(case, self.unit))).value
        else:
            mm = case.right + (0.0 if isinstance(gives, str) else gives)
        return format_length(mm, self.unit).split()[0] if self.unit is not Unit.INCH else f"{mm / 25.4:.2f}"

    @property
    def unit(self) -> Unit:
        return Unit(self.pupil.unit or "cm")

    def plan(self, task: int) -> Plan:
        case = self.sessions[task].plan_case()
        gives = self.pupil.gives[task]
        right = case.plan
        assert right is not None
        if gives == "right":
            return rounded(scaled(right, self.pupil.loose.get(task, 1.0)))
        plans = MISTAKES[str(gives)].plans
        assert plans is not None
        made = (wrong.made() for wrong in plans(case))
        return rounded(next(plan for plan in made if plan is not None and case.measures(plan) is not None))

    def pattern(self, task: int) -> Pattern:
        altered = self.sessions[task].plan_case().altered(self.plan(task))
        assert altered is not None
        return altered.after

    def form(self, folder: Path) -> str:
        """The form filled in; files that it names are written beside it."""
        lines = ['homework = "Room at the upper arm"', f'learner = "{self.pupil.name}"', f'variant = "{self.variant}"']
        lines += [f'units = "{self.unit.value}"'] + ([f"handed-in = {self.pupil.on}"] if self.pupil.on else [])
        for task in sorted(self.pupil.gives):
            lines += ["", "[[answers]]", f"task = {task}", self.answer(task, folder)]
        return "\n".join(lines) + "\n"

    def answer(self, task: int, folder: Path) -> str:
        if not isinstance(self.sessions[task].task, PlanTask):
            return f'answer = "{self.figure(task)}"'
        rng = random.Random(f"{self.file} {task}")
        name = f"{self.file}-{task}"
        if task in self.pupil.draws:
            svg = as_editors_write(redrawn(lines_of(self.pattern(task)), Hand(), rng), rng)
            (folder / f"{name}.svg").write_bytes(svg)
            return f'pattern = "{name}.svg"'
        if task in self.pupil.traces:
            (folder / f"{name}.csv").write_text(traced(self.pattern(task), rng), encoding="utf-8")
            return f'points = "{name}.csv"'
        (folder / f"{name}.toml").write_text(write_plan(self.plan(task)), encoding="utf-8")
        return f'plan = "{name}.toml"'


def traced(pattern: Pattern, rng: random.Random) -> str:
    """Points every 8 mm along the seams in cm with decimal commas, off by 0.3 mm at the most, and the notches."""
    rows = ["seam;x;y"]
    for name in SEAMS:
        seam = pattern.sleeve.seam(name)
        length = seam.length()
        places = np.linspace(0, length, round(length / 8) + 1)
        points = [seam.point(seam.at_distance(float(place))) for place in places]
        rows += [f"{name};{decimal(p.real, rng)};{decimal(p.imag, rng)}" for p in points]
    for mark in pattern.sleeve.marks:
        if mark.name.startswith("notch"):
            point = pattern.sleeve.mark_point(mark)
            rows.append(f"{mark.name};{decimal(point.real, rng)};{decimal(point.imag, rng)}")
    return "\n".join(rows) + "\n"


def decimal(mm: float, rng: random.Random) -> str:
    return f"{(mm + rng.uniform(-0.2, 0.2)) / 10:.2f}".replace(".", ",")


def class_list() -> str:
    """The class as a spreadsheet writes it: a byte order mark, semicolons, quoted names, decimal commas."""
    rng = random.Random(14)
    rows = ["Name;Units;Years at the machine"]
    rows += [f'"{pupil.name}";{pupil.unit};{rng.randrange(1, 60) / 2:.1f}'.replace(".", ",") for pupil in CLASS]
    return "\ufeff" + "\r\n".join(rows) + "\r\n"


def desks(register: Register, marker: Marker) -> dict[str, Desk]:
    found = {}
    for learner, pupil in zip(register.learners, CLASS, strict=True):
        deal = register.deal_of(learner)
        questions = marker.homework.questions
        sessions = {q.number: marker.session(q, learner.deal, deal, learner.unit) for q in questions}
        cases = {q.number: case_of(sessions[q.number].lesson, q.task_number) for q in questions}
        found[pupil.name] = Desk(pupil, learner.file, learner.deal, sessions, cases)
    return found


def hand_in(every: dict[str, Desk], folder: Path) -> None:
    """Writes everything that the class hands in."""
    for desk in every.values():
        if desk.pupil.gives and not desk.pupil.table:
            form = desk.form(folder)
            text = form.replace(f'"{desk.pupil.name}"', f'"{desk.pupil.name}') if desk.pupil.broken else form
            (folder / f"{desk.file}.toml").write_text(text, encoding="utf-8")
    tasks = sorted({task for desk in every.values() if desk.pupil.table for task in desk.pupil.gives})
    rows = [";".join(["Name", *map(str, tasks)])]
    for desk in every.values():
        if desk.pupil.table:
            cells = [desk.figure(task).replace(".", ",") if task in desk.pupil.gives else "" for task in tasks]
            rows.append(";".join([f'"{desk.pupil.name}"', *cells]))
    (folder / "on-paper.csv").write_text("\ufeff" + "\r\n".join(rows) + "\r\n", encoding="utf-8", newline="")


def main() -> None:
    (FOLDER / "class.csv").write_text(class_list(), encoding="utf-8", newline="")
    shutil.rmtree(FOLDER / "answers", ignore_errors=True)
    (FOLDER / "answers").mkdir()
    homework = read_homework(FOLDER / "homework.toml")
    with tempfile.TemporaryDirectory() as name:
        store = Store(Path(name))
        register = enrolled(homework, store, FOLDER / "class.csv", [])
        store.close()
    hand_in(desks(register, Marker(homework)), FOLDER / "answers")


if __name__ == "__main__":
    main()
