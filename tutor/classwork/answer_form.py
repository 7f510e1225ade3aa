"""An answer form filled in: a TOML file of one learner's.

    homework = "Room at the upper arm"
    learner = "Anouk"
    variant = "K7Q2MX"          # as it stands on the sheet
    units = "cm"                # of bare numbers
    handed-in = 2026-11-18      # may be left out

    [[answers]]
    task = 1
    answer = "12.4 cm"          # a figure, or other words

    [[answers]]
    task = 2
    plan = "anouk-2.toml"       # a plan file beside this one; or the plan itself, [answers.plan]
    pattern = "anouk-2.svg"     # or the altered pattern, drawn
    points = "anouk-2.csv"      # or traced: a CSV file with seam, x and y; or [answers.points] with lists of [x, y]

What is left empty is not answered. One answer that is wrong in itself leaves the others as they are.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct

from tutor.classwork.attachment import given_plan, given_points, read_attachment
from tutor.classwork.given import LONGEST_TEXT, Given, GivenText, Submission
from tutor.classwork.learner import read_name
from tutor.classwork.safe_files import Found, file_beside
from tutor.faults import Fault
from tutor.lesson.strict import Reader
from tutor.toml_lines import key_lines
from tutor.toml_reading import Document
from tutor.units import Unit

LARGEST = 256 * 1024
MOST_ANSWERS = 200
KEYS = ("answer", "plan", "pattern", "points")
UnitOf = Callable[[str], Unit]
"""The unit that a learner works in, by name."""
CheckOwn = Callable[[Path, str, str], None]
"""Given a file, a learner's name and a place, raises Fault where that learner may not give that file."""


class FormText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What a form holds; its answers are looked at one by one."""

    learner: str
    homework: str = ""
    variant: str = ""
    units: Literal["cm", "in", "mm"] | None = None
    handed_in: datetime.date | None = None
    answers: tuple[dict[str, Any], ...] = ()


class AnswerText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """One answer of a form."""

    task: int
    answer: str | int | float = ""
    plan: str | dict[str, Any] = ""
    pattern: str = ""
    points: str | dict[str, Any] = ""


def is_form(document: Document) -> bool:
    """Whether a TOML file means to be an answer form, and not a plan."""
    return "learner" in document.tables or "answers" in document.tables


class FormReader:
    """Reads one form; ``attached`` are the files beside it that its answers name."""

    def __init__(self, found: Found, document: Document, unit_of: UnitOf, check_own: CheckOwn) -> None:
        self.found = found
        self.attached: list[str] = []
        self._document = document
        self._unit_of = unit_of
        self._check_own = check_own
        self._learner = ""
        self._reader = Reader(found.name, Unit.CM, key_lines(document.text))

    def read(self) -> Submission:
        """What was handed in. Raises Fault when it can't be told whose it is."""
        head = {**self._document.tables, "answers": []}
        form = self._reader.read(FormText, head)
        if form is None:
            raise self._reader.faults[0]
        name = read_name(form.learner, self._reader.where(("learner",)))
        self._learner = name
        unit = Unit(form.units) if form.units else None
        answers = tuple(self._answers(unit or self._unit_of(name)))
        return Submission(
            source=self.found.name,
            learner=name,
            answers=answers,
            homework=form.homework or None,
            variant=form.variant or None,
            unit=unit,
            on=form.handed_in,
            attached=tuple(self.attached),
            path=self.found.place,
        )

    def _answers(self, unit: Unit) -> list[tuple[int, Given | Fault]]:
        answers = self._document.tables.get("answers", [])
        if not isinstance(answers, list) or not all(isinstance(each, Mapping) for each in answers):
            raise Fault(self._reader.where(("answers",)), "are no tables", "write [[answers]] before each answer")
        if len(answers) > MOST_ANSWERS:
            raise Fault(self._reader.where(("answers",)), f"there are {len(answers)}", f"write at most {MOST_ANSWERS}")
        found: list[tuple[int, Given | Fault]] = []
        for k, each in enumerate(answers):
            given = self._answer(k, each, unit)
            task = each.get("task")
            number = task if isinstance(task, int) and not isinstance(task, bool) and 0 < task <= MOST_ANSWERS else 0
            if given is not None:
                found.append((number, given))
        return found

    def _answer(self, k: int, table: Mapping[str, Any], unit: Unit) -> Given | Fault | None:
        """The answer, or why it can't be read; None where there is none."""
        before = len(self._reader.faults)
        answer = self._reader.value(AnswerText, table, ("answers", k))
        if not isinstance(answer, AnswerText):
            return self._reader.faults[before]
        given = [key for key in KEYS if getattr(answer, key) not in ("", {})]
        place = self._reader.where(("answers", k))
        if len(given) > 1:
            return Fault(place, f"gives both {given[0]} and {given[1]}", "give one, and leave the others empty")
        if not given:
            return None
        try:
            return self._given(given[0], getattr(answer, given[0]), f"{place}, {given[0]}", unit)
        except Fault as fault:
            return fault

    def _given(self, key: str, value: Any, where: str, unit: Unit) -> Given:
        if key == "answer":
            return given_text(value, where)
        if isinstance(value, Mapping):
            return (given_plan if key == "plan" else given_points)(value, where, unit)
        ending = {"plan": ".toml", "pattern": ".svg", "points": ".csv"}[key]
        path = file_beside(self.found.path, value, (ending,), where)
        self._check_own(path, self._learner, where)
        self.attached.append(value)
        return read_attachment(path, f"{self.found.name}: {value}", unit)


def given_text(value: str | float, where: str) -> GivenText:
    """A figure or words. Raises Fault for what is too long, or can't be shown."""
    text = value.strip() if isinstance(value, str) else repr(value)
    if len(text) > LONGEST_TEXT:
        raise Fault(where, f"has {len(text)} letters", f"write at most {LONGEST_TEXT}")
    if not text.replace("\n", "").isprintable():
        raise Fault(where, "has letters that can't be shown", "write plain text")
    return GivenText(text)
