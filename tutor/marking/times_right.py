"""Figures that are so many times the right one."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured
from tutor.marking.nearness import as_shown
from tutor.units import Unit


def times_right(case: NumberCase, unit: Unit, factor: float, words: str, then: str) -> Iterator[Figured]:
    """The right figure times a factor; and the same of the right figure written down first, and so rounded twice.

    ``words`` go on after the figure.
    """
    yield _figured(case.right * factor, words, then)
    written = as_shown(case.of, case.right, unit)
    if written != case.right:
        yield _figured(written * factor, words, then, again=True)


def _figured(value: float, words: str, then: str, again: bool = False) -> Figured:
    return Figured(value, lambda show: f"{show(value)} {words}", then, again)
