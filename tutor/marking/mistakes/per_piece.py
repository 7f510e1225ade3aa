"""The amount of one of four edges given for the whole, or the whole for each of the four."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case, NumberCase
from tutor.marking.likely import moved_by
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.marking.plan_parts import whole
from tutor.marking.times_right import times_right
from tutor.marking.wrong_plans import has_answers, scaled
from tutor.units import Unit

EDGES = 4
OF_FOUR = ("bust-gain",)
"""Measures that four edges make up: back and front, left and right."""
NEXT = "Four edges share it: back and front, left and right. Say which of them an amount is for."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    if case.of in OF_FOUR:
        yield from times_right(case, unit, 1 / EDGES, "is what one edge of the four adds.", NEXT)
        yield from times_right(case, unit, EDGES, "counts the whole at each of the four edges.", NEXT)


def _plans(case: Case) -> Iterator[Wrong]:
    if case.plan is None or not has_answers(case.plan):
        return
    for factor in (1 / EDGES, float(EDGES)):
        likely = moved_by(factor, whole(case.plan).tells)
        yield Wrong(_few if factor < 1 else _many, scaled(case.plan, factor), likely=likely)


def _few(answer: PlanAnswer) -> tuple[str, str]:
    gained = answer.length(answer.change("armhole"))
    return f"Both armholes together have changed by {gained}: one edge's share of four.", NEXT


def _many(answer: PlanAnswer) -> tuple[str, str]:
    gained = answer.length(answer.change("armhole"))
    return f"Both armholes together have changed by {gained}: the whole, at each of four edges.", NEXT


MISTAKE = Mistake("per-piece", _figures, _plans, words="one edge of four counted for all, or all for one")
