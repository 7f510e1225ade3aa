"""The parts of a plan that can be got wrong by themselves: all of it, what needs slashes, and each kind of amount."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tutor.alteration.amounts import SIDES, PlanAmount, given, times
from tutor.alteration.plan import Plan
from tutor.marking.likely import telling
from tutor.marking.wrong_plans import scaled

TOLD = 2
"""So many kinds of amounts are named in a sentence; of more the first are."""

EDGES = ("out ", "in ")
"""What is said of an edge begins with one of these."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a plan: its openings, or not, and some of its other amounts; ``side`` where it is one side's alone."""

    plan: Plan
    openings: bool
    amounts: tuple[PlanAmount, ...]
    side: str = ""

    def scaled(self, factor: float) -> Plan:
        """The plan with the amounts of this part multiplied, all others as they are."""
        plan = scaled(self.plan, factor) if self.openings else self.plan
        others = [amount for amount in given(self.plan) if amount not in self.amounts]
        if self.openings:
            return _taken_over(plan, self.plan, others)
        return times(plan, factor, self.amounts)

    @property
    def rest(self) -> Plan | None:
        """The plan without this part; None where it is all there is."""
        others = len(given(self.plan)) > len(self.amounts) or bool(self.plan.openings) != self.openings
        return self.scaled(0.0) if others else None

    @property
    def is_armholes(self) -> bool:
        return self._all(amount.means == "armhole" for amount in self.amounts)

    @property
    def between(self) -> bool:
        """Whether it gives to one half what it takes from the other."""
        return self._all(amount.between for amount in self.amounts)

    def _all(self, each: Iterable[bool]) -> bool:
        return bool(self.amounts) and not self.openings and all(each)

    @property
    def sided(self) -> bool:
        """Whether what it adds up to lies on two sides."""
        return self.openings or any(amount.side for amount in self.amounts)

    @property
    def tells(self) -> str:
        """The measure that shows how far it goes."""
        return "bicep-girth" if self.openings else telling(self.amounts)

    def turned(self) -> str:
        """What it does the other way round, to stand after "with": "the cap turned back"."""
        kinds = {amount.kind: amount for amount in self.amounts}
        told = [amount.told[amount.read(self.plan) > 0] for amount in kinds.values()]
        return " and ".join(f"the {f'edges {words}' if words.startswith(EDGES) else words}" for words in told[:TOLD])


def whole(plan: Plan) -> Part:
    """All that a plan has amounts of."""
    return Part(plan, bool(plan.openings), given(plan))


def parts(plan: Plan) -> Iterator[Part]:
    """The whole; and where it is of several kinds, its openings by themselves, and each kind of its other amounts.

    The armholes follow the sleeve, and are not taken by themselves here.
    """
    if not (plan.openings or given(plan)):
        return
    yield whole(plan)
    kinds = list(_kinds(given(plan)))
    apart = [amounts for amounts in kinds if amounts[0].means != "armhole"]
    if apart and len(kinds) + bool(plan.openings) > 1:
        if plan.openings:
            yield Part(plan, True, ())
        for amounts in apart:
            yield Part(plan, False, amounts)


def sides(plan: Plan) -> Iterator[Part]:
    """What is done on one side alone, of the armholes and of the sleeve's edges, where it is done on both."""
    for means in ("seams", "armhole"):
        both = [
            tuple(amount for amount in given(plan) if (amount.means, amount.side) == (means, side)) for side in SIDES
        ]
        if all(both):
            for side, amounts in zip(SIDES, both, strict=True):
                yield Part(plan, False, amounts, side)


def _kinds(amounts: Iterable[PlanAmount]) -> Iterator[tuple[PlanAmount, ...]]:
    """The amounts by kind; those of the armholes are one, as width and depth make up one gain."""
    found: dict[str, tuple[PlanAmount, ...]] = {}
    for amount in amounts:
        kind = amount.means if amount.means == "armhole" else amount.kind
        found[kind] = (*found.get(kind, ()), amount)
    yield from found.values()


def _taken_over(plan: Plan, source: Plan, amounts: Iterable[PlanAmount]) -> Plan:
    for amount in amounts:
        plan = amount.put(plan, amount.read(source))
    return plan
