"""Which usual mistake a figure shows, if it shows one clearly; and which can't be told apart."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tutor.lesson.goal import Aim
from tutor.marking.case import NumberCase
from tutor.marking.credit import credit, tolerance_of
from tutor.marking.figures import shown
from tutor.marking.mistake import Mistake, Show
from tutor.marking.named import CLEAR, RIGHT, Confusion, Named, clear_winner, confused
from tutor.marking.nearness import MOST, MOST_OTHERWISE, SHOWN, rounding, slack
from tutor.marking.usual import MISTAKES
from tutor.pattern.measures import words_for
from tutor.units import Unit

STILL = 2.0
"""mm; a change smaller than this is none that anybody would give as a figure."""
EXACTLY = 0.01
"""mm; a figure that is written out is met to this."""
OTHERWISE = 0.5
"""Share of the tolerance that is near, for figures that are no lengths."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """What a mistake makes of the figure, in the measure's own unit; what is said of it, and what to do next."""

    mistake: str
    value: float
    said: Callable[[Show], str]
    then: str
    again: bool = False
    typed: bool = False


def recognise_number(case: NumberCase, unit: Unit, answer: float) -> Named | None:
    """The mistake that a figure shows (mm, degrees or per cent); None when it passes, or shows none clearly."""
    if number_passes(case, unit, answer):
        return None
    found = _led_to(case, unit)
    ranked = [(abs(each.value - answer), each.mistake) for each in found]
    tolerance = tolerance_of(aim_of(case), unit)
    best = clear_winner(ranked, tolerance, _clear(case, unit))
    if best is None:
        return None
    # A slip of writing leads to one text, and no rounding comes between.
    lost = EXACTLY if found[best].typed else rounding(case.of, answer, unit)
    if ranked[best][0] > lost + _slack(case, unit):
        return None
    said = found[best].said(lambda value: shown(case.of, value, unit))
    return Named(found[best].mistake, (said, found[best].then))


def candidates(case: NumberCase, unit: Unit) -> tuple[Candidate, ...]:
    """What every usual mistake leads to here, those left out that lead to an answer that passes."""
    return tuple(each for each in _led_to(case, unit) if not number_passes(case, unit, each.value))


def number_confusions(case: NumberCase, unit: Unit) -> tuple[Confusion, ...]:
    """The mistakes whose figures, as they are shown, can't be told apart from each other or from a right one."""
    found = [each for each in candidates(case, unit) if not each.again]
    clear = _clear(case, unit)
    lost = SHOWN[unit] if case.is_length else clear / 2
    pairs = [
        (first.mistake, second.mistake)
        for first, second in itertools.combinations(found, 2)
        if first.mistake != second.mistake and abs(first.value - second.value) < 2 * lost + clear
    ]
    pairs += [
        (each.mistake, RIGHT)
        for each in found
        if any(number_passes(case, unit, each.value + off) for off in (-lost, lost))
    ]
    return confused(pairs)


def number_hidden(case: NumberCase, unit: Unit) -> tuple[str, ...]:
    """The mistakes that pass: the tolerance is too wide to tell their figures from the right one."""
    found = (each for each in _led_to(case, unit) if not each.again)
    return tuple(dict.fromkeys(each.mistake for each in found if number_passes(case, unit, each.value)))


def number_passes(case: NumberCase, unit: Unit, answer: float) -> bool:
    """Whether a figure, in its own unit, gets what the task needs to be passed."""
    tolerance = tolerance_of(aim_of(case), unit)
    return credit(answer - case.right, tolerance) >= case.task.pass_mark - 1e-12


def aim_of(case: NumberCase) -> Aim:
    """The right figure as bounds, with the tolerance of the task."""
    return Aim(case.of, case.right, case.right, case.task.tolerance.of(case.of))


def _slack(case: NumberCase, unit: Unit) -> float:
    """What is allowed beside rounding, in the measure's own unit."""
    return case.kept(("slack", unit), lambda: _worked_out(case, unit))


def _worked_out(case: NumberCase, unit: Unit) -> float:
    most = MOST if case.is_length else min(MOST_OTHERWISE, OTHERWISE * tolerance_of(aim_of(case), unit))
    return slack((each.value for each in candidates(case, unit)), case.right, most)


def _clear(case: NumberCase, unit: Unit) -> float:
    """How much farther the next mistake has to be, in the measure's own unit."""
    return CLEAR if case.is_length else OTHERWISE * tolerance_of(aim_of(case), unit)


def _led_to(case: NumberCase, unit: Unit) -> tuple[Candidate, ...]:
    """What every usual mistake leads to; what would pass as well, for rounding can make an answer of it that fails."""
    return case.kept(("candidates", unit), lambda: (*_figures(case, unit), *_plans(case)))


def _figures(case: NumberCase, unit: Unit) -> tuple[Candidate, ...]:
    return tuple(_each(case, lambda mistake: _figured(mistake, case, unit)))


def _plans(case: NumberCase) -> tuple[Candidate, ...]:
    return case.kept("planned", lambda: tuple(_each(case, lambda mistake: _planned(mistake, case))))


def _each(case: NumberCase, led_to: Callable[[Mistake], Iterator[Candidate]]) -> Iterator[Candidate]:
    for mistake in MISTAKES.values():
        if mistake.name not in case.task.unnamed:
            yield from led_to(mistake)


def _figured(mistake: Mistake, case: NumberCase, unit: Unit) -> Iterator[Candidate]:
    for each in mistake.figures(case, unit) if mistake.figures is not None else ():
        yield Candidate(mistake.name, each.value, each.said, each.then, each.again, mistake.typed)


def _planned(mistake: Mistake, case: NumberCase) -> Iterator[Candidate]:
    """The figures after plans gone wrong; those that leave the measure as it was are no answer to what it changes."""
    for wrong in mistake.plans(case) if mistake.plans is not None else ():
        plan = wrong.made() if wrong.number else None
        value = None if plan is None else case.after(plan)
        if value is not None and not (case.is_change and abs(value) < STILL):
            yield Candidate(mistake.name, value, _said(case, value, wrong.number), wrong.then)


def _said(case: NumberCase, value: float, number: str) -> Callable[[Show], str]:
    what = f"what the {words_for(case.of)} changes by" if case.is_change else f"the {words_for(case.of)}"
    return lambda show: f"{show(value)} is {what} {number}."
