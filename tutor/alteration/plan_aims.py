"""What an amount of a plan is solved for, as plan files write it: a measure with its value or its change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from tutor.alteration.plan_faults import Faults
from tutor.alteration.plan_lengths import Length, read_length
from tutor.alteration.plan_places import LONGEST_NAME, Context, Table
from tutor.alteration.reach import Amount
from tutor.faults import Fault
from tutor.pattern.measures import MEASURES, Kind

GREATEST_FIGURE = 1e9
"""Of whatever is no length: degrees, per cent, mm2."""

NO_AIMS = ("wearing-ease", "stretch-used", "bust-gain", "overlap", "gap")
"""Measures that no amount is solved for: they need an arm, or don't come from the sleeve's outline."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What an amount is solved for: a measure's ``value``, or its ``change`` from before.

    The figure is in the measure's own unit inside: mm, degrees, per cent or mm2. Just one of the two is a number.
    """

    amount: Amount
    measure: str
    value: float | None = None
    change: float | None = None


class _Aim(msgspec.Struct, forbid_unknown_fields=True):
    measure: str
    value: Length | None = None
    change: Length | None = None


def read_aim(written: Table, amount: Amount, where: str, context: Context) -> Aim:
    """What an amount is ``for``, from its table in a plan file. Raises Fault, with all that is wrong with it."""
    faults = Faults()
    table = faults.table(written, _Aim, where)
    if table.measure not in MEASURES or table.measure in NO_AIMS:
        what = f'"{table.measure[:LONGEST_NAME]}" is no measure that an amount can be for'
        right = "write one such as bicep-girth, cap-height or cap-ease"
        faults.found.append(Fault(f"{where}, measure", what, right))
    if (table.value is None) == (table.change is None):
        faults.found.append(Fault(where, "should have one of value and change", "give one of them"))
    faults.check()
    kind = MEASURES[table.measure].kind
    value, change = (
        None if figure is None else _figure(figure, f"{where}, {key}", kind, context)
        for key, figure in (("value", table.value), ("change", table.change))
    )
    return Aim(amount, table.measure, value, change)


def _figure(value: Length, where: str, kind: Kind, context: Context) -> float:
    if kind is Kind.LENGTH:
        return read_length(value, where, context.unit)
    if isinstance(value, str) or not abs(value) <= GREATEST_FIGURE:
        raise Fault(where, "is not what this measure is in", f"write a number in {kind.value}")
    return float(value)


def check_aims(aims: Sequence[Aim], where: str) -> None:
    """Raises Fault where two amounts are for the same measure: no solution could tell them apart."""
    names = [aim.measure for aim in aims]
    twice = next((name for name in names if names.count(name) > 1), "")
    if twice:
        raise Fault(where, f"two amounts are for {twice}", "give one of them an amount")
