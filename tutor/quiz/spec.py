"""What a quiz is drawn from and how it is taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tutor.faults import Fault

Pauses = Literal["count", "stop"]
Marks = Literal["asked", "end"]

COUNT = 8
MOST_QUESTIONS = 100
MOST_LESSONS = 100
PASS_MARK = 0.7
"""Our own choice: a quiz has no hints, and no second try."""
MOST_MINUTES = 24 * 60
GREATEST_SEED = 2**31 - 1
LONGEST_TEXT = 120


@dataclass(frozen=True, slots=True)
class QuizSpec:
    """What a quiz is to be.

    ``lessons`` are their names. ``seed`` chooses the questions; ``variant_set`` the bodies they are set for, so that
    two sets of one seed ask the same of different bodies. ``minutes`` is the time there is, None for no limit, and
    ``pauses`` says whether it runs on ("count") or stands still ("stop") while the quiz is closed. With ``marks`` at
    "asked" a question can be marked before the end, and is settled by that; at "end" none is. ``pass_mark`` is from 0
    to 1, for the mean of the marks of all questions.
    """

    lessons: tuple[str, ...]
    count: int = COUNT
    seed: int = 0
    variant_set: str = ""
    title: str = ""
    pass_mark: float = PASS_MARK
    minutes: int | None = None
    pauses: Pauses = "count"
    marks: Marks = "asked"


def spec_faults(spec: QuizSpec) -> list[Fault]:
    """What can't be of a quiz, each with the key it stands under in a quiz file."""
    found = [
        _within("count", spec.count, 1, MOST_QUESTIONS, "questions"),
        _within("seed", spec.seed, 0, GREATEST_SEED, "a seed"),
        None if spec.minutes is None else _within("minutes", spec.minutes, 1, MOST_MINUTES, "minutes"),
        _pass_mark(spec.pass_mark),
        _text("title", spec.title),
        _text("variant-set", spec.variant_set),
        _lessons(spec.lessons),
    ]
    return [fault for fault in found if fault is not None]


def _within(where: str, value: int, least: int, most: int, words: str) -> Fault | None:
    return None if least <= value <= most else Fault(where, f"{value} is no number of {words}", f"{least} to {most} is")


def _pass_mark(value: float) -> Fault | None:
    if 0 < value <= 1:
        return None
    # Where it can be a share of 100 that was meant, what it is from 0 to 1 is told with it.
    known = f"{value / 100:g} is {value:g} of 100" if 1 < value <= 100 else "0.7 is 70 of 100"
    return Fault("pass-mark", f"{value:g} is no pass mark", f"it goes from 0 to 1, and {known}")


def _text(where: str, text: str) -> Fault | None:
    if len(text) <= LONGEST_TEXT and text.isprintable():
        return None
    return Fault(where, "is no line of text", f"write one line of at most {LONGEST_TEXT} letters")


def _lessons(names: Sequence[str]) -> Fault | None:
    if not names:
        return Fault("lessons", "names none", "name at least one lesson")
    if len(names) > MOST_LESSONS:
        return Fault("lessons", f"names {len(names)}", f"{MOST_LESSONS} are enough")
    twice = next((name for k, name in enumerate(names) if name in names[:k]), None)
    return None if twice is None else Fault("lessons", f"names {twice} twice", "name each lesson once")
