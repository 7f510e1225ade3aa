"""Plans in a lesson file, read by the plan files' own reader once what is to be solved is set apart."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping, Sequence
from typing import Any

from tutor.alteration.amounts import AMOUNTS
from tutor.alteration.plan_aims import NO_AIMS
from tutor.alteration.plan_faults import key_path
from tutor.alteration.plan_file import plan_of
from tutor.alteration.reach import Amount, AnswerAmount, OpeningAmount
from tutor.faults import Fault
from tutor.lesson.goal import Figure
from tutor.lesson.recipe import Recipe, Sought
from tutor.lesson.strict import WRONG, Reader
from tutor.toml_lines import Path
from tutor.toml_reading import Document

SOUGHT = "for"
SIDES = ("back", "front")

_WHERE = "plan"
_NUMBERED = re.compile(r"(slash|opening) (\d+)")


def read_recipe(reader: Reader, value: object, path: Path) -> object:
    """The recipe at a path of the file; its faults go to the reader, which then gets WRONG."""
    if not isinstance(value, Mapping):
        reader.fault(path, "is no table", "write a plan, as in a plan file")
        return WRONG
    before = len(reader.faults)
    table, sought = _set_apart(reader, value, path)
    try:
        file = plan_of(Document({"units": reader.unit.value, **table}, "", _WHERE))
    except Fault as fault:
        for each in getattr(fault, "faults", (fault,)):
            reader.faults.append(Fault(_place(reader, each, path), each.what, each.right))
        return WRONG
    measures = [each.measure for each in sought]
    for name in sorted({name for name in measures if measures.count(name) > 1}):
        reader.fault(path, f"two amounts are for {name}", "give one of them an amount")
    return WRONG if len(reader.faults) > before else Recipe(file.plan, tuple(sought))


def _place(reader: Reader, fault: Fault, path: Path) -> str:
    """The plan reader's place of a fault as one of the lesson file, with the line of the key itself."""
    inside = fault.where.removeprefix(_WHERE).lstrip(":. ")
    match = _NUMBERED.match(inside)
    key: Path = (match[1], int(match[2]) - 1) if match else ()
    rest = inside[match.end() :].lstrip(", ") if match else inside
    at = key_path(inside, fault.what, path, reader.lines)
    return ", ".join(filter(None, [reader.where((*path, *key), at), rest]))


def _set_apart(reader: Reader, value: Mapping[str, Any], path: Path) -> tuple[dict[str, Any], list[Sought]]:
    """The table with 0 for everything that is to be solved, and what that is."""
    table, sought = copy.deepcopy(dict(value)), list[Sought]()
    openings = table.get("opening")
    for number, opening in enumerate(openings if isinstance(openings, list) else []):
        if isinstance(opening, dict) and SOUGHT in opening and "amount" not in opening:
            where = (*path, "opening", number, SOUGHT)
            sought += _sought(reader, OpeningAmount(number), opening.pop(SOUGHT), where)
            opening["amount"] = 0
    for side in SIDES:
        answer = _inside(table, ("armhole", side))
        if isinstance(answer, dict) and SOUGHT in answer:
            where = (*path, "armhole", side)
            if {"widen", "lower"} & set(answer):
                reader.fault(where, "gives amounts, and says what they are for", "give one or the other")
            amount = AnswerAmount(side, _width_share(reader, answer, where))
            sought += _sought(reader, amount, answer.pop(SOUGHT), (*where, SOUGHT))
    for each in AMOUNTS:
        *tables, last = each.path
        holder = _inside(table, tables)
        written = holder.get(last) if isinstance(holder, dict) else None
        if isinstance(written, dict) and written.keys() == {SOUGHT}:
            sought += _sought(reader, each, written[SOUGHT], (*path, *each.path, SOUGHT))
            holder[last] = 0
    return table, sought


def _inside(table: dict[str, Any], path: Sequence[str]) -> Any:
    """What lies in a table in a table; None where there is nothing."""
    here: Any = table
    for key in path:
        here = here.get(key) if isinstance(here, dict) else None
    return here


def _width_share(reader: Reader, answer: dict[str, Any], path: Path) -> float:
    share = answer.pop("width-share", 0.5)
    if isinstance(share, bool) or not isinstance(share, int | float) or not 0 <= share <= 1:
        reader.fault((*path, "width-share"), "is no share", "write a number from 0 to 1")
        return 0.5
    return float(share)


def _sought(reader: Reader, amount: Amount, value: object, path: Path) -> list[Sought]:
    """What one amount is for: a measure whose figure the goals give, or a measure with its figure."""
    figure = None if isinstance(value, str) else reader.value(Figure, value, path)
    name = value if isinstance(value, str) else figure.measure if isinstance(figure, Figure) else None
    if name is None:
        return []
    if name in NO_AIMS or not reader.known_measure(name, path):
        if name in NO_AIMS:
            reader.fault(path, f"no amount can be for {name}", "name a measure of the pattern")
        return []
    return [Sought(amount, name, figure if isinstance(figure, Figure) else None)]
