"""What has been done on one task, and how it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import takewhile
from typing import Any

from tutor.alteration.plan import Plan
from tutor.practice.history import MOST, History
from tutor.practice.stored import plan_from, stored_plan


@dataclass(frozen=True, slots=True)
class Attempt:
    """An answer as it was given and marked: a plan, or the text of a number. ``mistake`` is the usual one it shows.

    ``figure`` is what a number meant, in mm, degrees or per cent.
    """

    given: Plan | str
    total: float
    passed: bool
    hints: int
    shown: bool
    mistake: str | None = None
    figure: float | None = None


@dataclass(slots=True)
class Work:
    """What has been done on one task."""

    history: History[Plan] = field(default_factory=lambda: History(Plan()))
    found: History[str] = field(default_factory=lambda: History(""))
    """What has been found out in a diagnosis, as ``Finding.text``."""
    answer: str | None = None
    figure: float = 0.0
    """The answer in mm, degrees or per cent: what it meant in the unit of its time."""
    hints: int = 0
    shown: bool = False
    passed: bool = False
    attempts: list[Attempt] = field(default_factory=list)


def taken_in(work: Work, other: Work) -> bool:
    """Takes in what another has that this work lacks, built and answered at the same time elsewhere; whether it did.

    What was built there becomes the step before the one now, to be undone to.
    """
    history, built = work.history, other.history.now
    took = built != Plan() and built not in (history.now, *history.past, *history.undone)
    if took:
        history.past.append(built)
        del history.past[:-MOST]
    found, there = work.found, other.found.now
    if there and there not in (found.now, *found.past, *found.undone):
        found.past.append(there)
        del found.past[:-MOST]
        took = True
    pairs = zip(work.attempts, other.attempts, strict=False)
    alike = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
    if len(other.attempts) > alike:
        work.attempts[alike:alike] = other.attempts[alike:]
        took = True
    if work.answer is None and other.answer is not None:
        work.answer, work.figure, took = other.answer, other.figure, True
    work.hints, work.shown = max(work.hints, other.hints), work.shown or other.shown
    work.passed = work.passed or other.passed
    return took


def stored_work(work: Work) -> dict[str, Any]:
    """The work as plain tables, lists, texts and numbers, every undo step included."""
    return {
        "now": stored_plan(work.history.now),
        "past": [stored_plan(plan) for plan in work.history.past],
        "undone": [stored_plan(plan) for plan in work.history.undone],
        "found": [work.found.now, work.found.past, work.found.undone],
        "answer": work.answer,
        "figure": work.figure,
        "hints": work.hints,
        "shown": work.shown,
        "passed": work.passed,
        "attempts": [
            {
                "given": attempt.given if isinstance(attempt.given, str) else stored_plan(attempt.given),
                "total": attempt.total,
                "passed": attempt.passed,
                "hints": attempt.hints,
                "shown": attempt.shown,
                "mistake": attempt.mistake,
                "figure": attempt.figure,
            }
            for attempt in work.attempts
        ],
    }


def work_from(stored: Mapping[str, Any]) -> Work:
    """The work that ``stored_work`` made. Raises Fault, KeyError, TypeError or ValueError for anything else."""
    history = History(
        plan_from(stored["now"]),
        [plan_from(plan) for plan in stored["past"]],
        [plan_from(plan) for plan in stored["undone"]],
    )
    attempts = [
        Attempt(
            given if isinstance(given := each["given"], str) else plan_from(given),
            float(each["total"]),
            bool(each["passed"]),
            int(each["hints"]),
            bool(each["shown"]),
            None if each.get("mistake") is None else str(each["mistake"]),
            None if each.get("figure") is None else float(each["figure"]),
        )
        for each in stored["attempts"]
    ]
    answer = stored["answer"]
    # Work kept before there were diagnoses has found nothing out.
    now, past, undone = stored.get("found", ("", (), ()))
    return Work(
        history,
        History(str(now), list(map(str, past)), list(map(str, undone))),
        None if answer is None else str(answer),
        float(stored["figure"]),
        int(stored["hints"]),
        bool(stored["shown"]),
        bool(stored["passed"]),
        attempts,
    )
