"""Figures to choose from, made of a number task: the right one, and what usual mistakes would make of it."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import NumberCase
from tutor.marking.credit import tolerance_of
from tutor.marking.recognise_number import Candidate, aim_of, candidates, number_passes
from tutor.marking.usual import MISTAKES
from tutor.practice.variants import UNITS
from tutor.quiz.shares import Shares

MOST_WRONG = 3
LEAST_WRONG = 2
APART = 2.0
"""How many tolerances any two options lie apart at least."""
DECIMALS = 3
"""Of a millimetre, in which figures are kept, so that they are alike on every machine."""
SAME = 0.01


def options(case: NumberCase, shares: Shares) -> tuple[float, ...] | None:
    """The figures, in the measure's own unit and in no order that tells; None where too few mistakes can be told."""
    chosen = [case.right]
    made: set[str] = set()
    for each in shares.ordered("wrong", wrong_figures(case)):
        if each.mistake not in made and all(abs(each.value - other) > apart(case) for other in chosen):
            chosen.append(each.value)
            made.add(each.mistake)
        if len(made) == MOST_WRONG:
            break
    if len(made) < LEAST_WRONG:
        return None
    return tuple(round(float(figure), DECIMALS) for figure in shares.ordered("order", chosen))


def apart(case: NumberCase) -> float:
    """How far apart any two options lie at the least, in the measure's own unit."""
    return APART * max(tolerance_of(aim_of(case), unit) for unit in UNITS)


def wrong_figures(case: NumberCase) -> tuple[Candidate, ...]:
    """What usual mistakes lead to in every unit, those left out that nobody would believe."""
    by_unit = [candidates(case, unit) for unit in UNITS]
    known = [{(each.mistake, round(each.value, DECIMALS)) for each in found} for found in by_unit]
    return tuple(
        each
        for each in by_unit[0]
        if all((each.mistake, round(each.value, DECIMALS)) in found for found in known) and _believable(case, each)
    )


def _believable(case: NumberCase, each: Candidate) -> bool:
    """Whether a figure could be the answer: a measure that is there is not below nought."""
    return not MISTAKES[each.mistake].typed and (case.is_change or case.right <= 0 or each.value > 0)


def right_option(case: NumberCase, figures: tuple[float, ...]) -> int | None:
    """The number, from 0, of the figure that is right; None where none is, or more than one."""
    passing = [k for k, figure in enumerate(figures) if all(number_passes(case, unit, figure) for unit in UNITS)]
    return passing[0] if len(passing) == 1 else None


def shown_by(case: NumberCase, figure: float) -> Iterator[Candidate]:
    """The mistakes that a figure shows."""
    return (each for each in wrong_figures(case) if abs(each.value - figure) < SAME)
