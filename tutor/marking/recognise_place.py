"""Which usual mistake a shown place shows, if it shows one clearly; and which can't be told apart."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from tutor.marking.credit import credit, tolerance_of
from tutor.marking.mistake import Placed
from tutor.marking.named import CLEAR, RIGHT, Confusion, Named, clear_winner, confused
from tutor.marking.place import PlaceCase
from tutor.marking.usual import MISTAKES
from tutor.units import Unit

NEAR = 2.0
"""mm along the edge between a place that is shown and what it is taken for."""


def recognise_place(case: PlaceCase, unit: Unit, along: float) -> Named | None:
    """The mistake that a place shows; None when it passes, or shows none clearly."""
    if place_passes(case, unit, along):
        return None
    found = place_candidates(case, unit)
    ranked = [(abs(case.edge.way(each.along, along)), name) for name, each in found]
    best = clear_winner(ranked, min(NEAR, tolerance_of(case.aim, unit)), CLEAR)
    return None if best is None else Named(found[best][0], (found[best][1].said, found[best][1].then))


def place_candidates(case: PlaceCase, unit: Unit) -> tuple[tuple[str, Placed], ...]:
    """Where every usual mistake leads to here, by its name; those left out that lead to a place that passes."""
    found = case.kept(("places", unit), lambda: tuple(_led_to(case, unit)))
    return tuple((name, each) for name, each in found if not place_passes(case, unit, each.along))


def place_hidden(case: PlaceCase, unit: Unit) -> tuple[str, ...]:
    """The mistakes that lead to a place that passes."""
    found = case.kept(("places", unit), lambda: tuple(_led_to(case, unit)))
    return tuple(sorted({name for name, each in found if place_passes(case, unit, each.along)}))


def place_confusions(case: PlaceCase, unit: Unit) -> tuple[Confusion, ...]:
    """The mistakes whose places can't be told apart from each other, or from the right one."""
    found = place_candidates(case, unit)
    apart = 2 * NEAR + CLEAR
    pairs = [
        (first, second)
        for (first, one), (second, other) in itertools.combinations(found, 2)
        if first != second and abs(case.edge.way(one.along, other.along)) < apart
    ]
    pairs += [
        (name, RIGHT)
        for name, each in found
        if any(place_passes(case, unit, each.along + off) for off in (-NEAR, NEAR))
    ]
    return confused(pairs)


def place_passes(case: PlaceCase, unit: Unit, along: float) -> bool:
    """Whether a place, mm along the edge, gets what the task needs to be passed."""
    return credit(case.off(along), tolerance_of(case.aim, unit)) >= case.task.pass_mark - 1e-12


def _led_to(case: PlaceCase, unit: Unit) -> Iterator[tuple[str, Placed]]:
    for mistake in MISTAKES.values():
        if mistake.places is not None and mistake.name not in case.task.unnamed:
            yield from ((mistake.name, each) for each in mistake.places(case, unit))
