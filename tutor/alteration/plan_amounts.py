"""The amounts of a plan file that need no slash, read over the one list of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias, cast

import msgspec

from tutor.alteration.amounts import AMOUNTS, PlanAmount
from tutor.alteration.plan import Plan
from tutor.alteration.plan_aims import Aim, read_aim
from tutor.alteration.plan_faults import Faults
from tutor.alteration.plan_lengths import Length, read_length
from tutor.alteration.plan_places import Context, Number, Table, read_share
from tutor.alteration.reach import AnswerAmount
from tutor.faults import Fault

Tree: TypeAlias = "dict[str, Tree | PlanAmount]"
ARMHOLE = "armhole"


@dataclass(slots=True)
class Amounts:
    """What has been read: how much of each amount, and what others are still to be solved for."""

    given: list[tuple[PlanAmount, float]] = field(default_factory=list)
    aims: list[Aim] = field(default_factory=list)

    def on(self, plan: Plan) -> Plan:
        """The plan with what is given."""
        for amount, mm in self.given:
            plan = amount.put(plan, mm)
        return plan


def _tree(amounts: Iterable[PlanAmount]) -> Tree:
    """The amounts in tables as their keys nest."""
    tree: Tree = {}
    for amount in amounts:
        *tables, last = amount.path
        here = tree
        for name in tables:
            here = cast(Tree, here.setdefault(name, {}))
        here[last] = amount
    return tree


TREE = _tree(AMOUNTS)


class _Solved(msgspec.Struct, forbid_unknown_fields=True):
    aim: Table = msgspec.field(name="for")


def file_fields() -> list[tuple[str, Any, Any]]:
    """The fields of a plan file's top table that hold amounts, for ``msgspec.defstruct``."""
    return _fields(TREE)


def _fields(tree: Tree) -> list[tuple[str, Any, Any]]:
    return [
        (
            key.replace("-", "_"),
            *((Table, msgspec.field(default_factory=dict)) if isinstance(inside, dict) else _LENGTH),
        )
        for key, inside in tree.items()
    ]


_LENGTH: tuple[Any, Any] = (Length | Table, 0)


def _kinds(tree: Tree, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], type[msgspec.Struct]]]:
    """What each table inside the file holds, by its path."""
    for key, inside in tree.items():
        if isinstance(inside, dict):
            fields = _fields(inside)
            if path == (ARMHOLE,):
                fields += [("aim", Table | None, msgspec.field(name="for", default=None)), ("width_share", Number, 0.5)]
            yield (*path, key), msgspec.defstruct("_Table", fields, rename="kebab", forbid_unknown_fields=True)
            yield from _kinds(inside, (*path, key))


_KINDS = dict(_kinds(TREE, ()))


def read_amounts(top: Mapping[str, object], where: str, context: Context) -> Amounts:
    """The amounts in a plan file's top table, given by field. Raises PlanFaults with every fault."""
    faults, found = Faults(), Amounts()
    _read(TREE, top, (), where, context, faults, found)
    faults.check()
    return found


def _read(
    tree: Tree,
    table: Mapping[str, object],
    path: tuple[str, ...],
    where: str,
    context: Context,
    faults: Faults,
    found: Amounts,
) -> None:
    for key, inside in tree.items():
        value, here = table[key], (*path, key)
        place = f"{where}: {'.'.join(here)}"
        if isinstance(inside, dict):
            faults.read(_read_table, inside, cast(Table, value), here, where, context, found)
        elif isinstance(value, dict):
            faults.read(_read_solved, inside, value, place, context, found)
        else:
            mm = faults.read(read_length, cast(Length, value), place, context.unit)
            found.given += [(inside, mm)] if mm else []


def _read_table(
    tree: Tree, written: Table, path: tuple[str, ...], where: str, context: Context, found: Amounts
) -> None:
    """One table inside the file. Raises PlanFaults."""
    faults, place = Faults(), f"{where}: {'.'.join(path)}"
    table = faults.table(written, _KINDS[path], place)
    values = {key: getattr(table, key.replace("-", "_")) for key in tree}
    aim = getattr(table, "aim", None)
    if aim is not None:
        if written.keys() & tree.keys():
            faults.found.append(Fault(place, "gives amounts, and says what they are for", "give one or the other"))
        share = faults.read(read_share, getattr(table, "width_share", 0.5), f"{place}.width-share")
        amount = AnswerAmount(path[-1], 0.5 if share is None else share)
        found.aims += filter(None, [faults.read(read_aim, aim, amount, f"{place}, for", context)])
    _read(tree, values, path, where, context, faults, found)
    faults.check()


def _read_solved(amount: PlanAmount, written: Table, where: str, context: Context, found: Amounts) -> None:
    faults = Faults()
    table = faults.table(written, _Solved, where)
    found.aims += filter(None, [faults.read(read_aim, table.aim, amount, f"{where}, for", context)])
    faults.check()
