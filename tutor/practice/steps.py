"""A plan told as steps at the cutting table."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from tutor.alteration.amounts import BY_KEY, PlanAmount, given
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Plan, Slash
from tutor.pattern.pattern import Pattern
from tutor.practice.outlines import outline_of
from tutor.practice.stations import stations
from tutor.units import Unit, format_length


def slash_words(slash: Slash, unit: Unit) -> str:
    """A slash in words: from where to where, and what holds."""
    ends = ((slash.start, slash.start_hinge), (slash.end, slash.end_hinge))
    held = [place_words(place, unit) for place, hinge in ends if hinge]
    hinges = f", a hinge at {' and at '.join(held)}" if held else ", cut through at both ends"
    return f"{slash.name}: from {place_words(slash.start, unit)} to {place_words(slash.end, unit)}{hinges}"


def opening_words(amount: float, unit: Unit) -> str:
    """What is done at a station: opened or overlapped, and by how much."""
    if amount == 0:
        return "kept closed"
    return f"{'opened' if amount > 0 else 'overlapped'} by {format_length(abs(amount), unit)}"


def plan_steps(pattern: Pattern, plan: Plan, unit: Unit) -> tuple[str, ...]:
    """The plan step by step, in the order the hands do it."""
    steps = ["Cut the cap off along the bicep line and lay it aside."] if plan.set_back else []
    steps += [f"Slash {slash_words(slash, unit)}." for slash in plan.slashes]
    outline = outline_of(pattern, plan)
    for slash in plan.slashes:
        for station in stations(pattern.sleeve, outline, plan, slash.name):
            if station.amount is not None:
                steps.append(f"{slash.name}, {station.words}: {opening_words(station.amount, unit)}.")
    if plan.set_back:
        steps.append("Set the cap back on the new bicep line and carry its seam out to the new underarm points.")
    steps += amount_steps(plan, unit)
    if plan.slashes:
        steps.append("True the seams.")
    return tuple(steps)


def amount_steps(plan: Plan, unit: Unit) -> list[str]:
    """What is to be done that needs no slash, a sentence for each edge or piece."""
    steps = []
    for on, amounts in groupby(given(plan), key=lambda amount: amount.on or amount.key):
        orders = [_order(amount, amount.read(plan), unit) for amount in amounts]
        words = " and ".join(orders)
        steps.append(f"On the {on} {words}." if on not in BY_KEY else f"{words[:1].upper()}{words[1:]}.")
    return steps


def _order(amount: PlanAmount, mm: float, unit: Unit) -> str:
    return amount.orders[mm < 0].format(format_length(abs(mm), unit))


def amounts_told(plan: Plan, amounts: Iterable[PlanAmount], unit: Unit) -> list[str]:
    """How these amounts stand, and those of the same edges and pieces: "Back bodice: side seam out 1.0 cm."."""
    pieces = dict.fromkeys(amount.on or amount.key for amount in amounts)
    said = []
    for on in pieces:
        done = [amount for amount in given(plan) if on in (amount.on, amount.key)]
        told = ", ".join(amount_told(amount, amount.read(plan), unit) for amount in done)
        piece = BY_KEY[on].words if on in BY_KEY else on
        if on in BY_KEY and done:
            said.append(f"{told[:1].upper()}{told[1:]}.")
        else:
            said.append(f"{piece[:1].upper()}{piece[1:]}: {told or 'as it was'}.")
    return said


def amount_told(amount: PlanAmount, mm: float, unit: Unit) -> str:
    """How one amount stands: "side seam out 1.0 cm"."""
    return f"{amount.told[mm < 0]} {format_length(abs(mm), unit)}"
