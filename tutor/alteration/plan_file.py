"""Plans as people write them: TOML 1.0, with our own words.

::

    title = "Crossed slashes, crown closed"
    units = "cm"             # of lengths without a unit: "mm", "cm" or "in"; needless when each says its own
    set-back = false         # true: the cap comes off along the bicep line first, and is set back afterwards

    [[slash]]
    name = "grain"
    from = "crown"           # a place, see below
    to = "grain-hem"
    hinge = ["from", "to"]   # the ends that hold; or one of them, "to"; left out, both are cut through

    [[slash]]
    name = "bicep"
    from = "underarm-back"
    to = "underarm-front"
    hinge = ["from", "to"]

    [[opening]]
    slash = "grain"
    at = { crosses = "bicep", toward = "to" }            # or "from", "to", or a share of the slash from 0 to 1
    for = { measure = "bicep-girth", change = "3 cm" }   # the opening that leads to this; or value = "37 cm"

    [[opening]]
    slash = "grain"
    at = "from"
    amount = 0               # or the opening itself; below zero it overlaps

    [armhole.front]          # and armhole.back: what the bodice piece answers
    widen = "8 mm"
    lower = "8 mm"

Amounts that need no slash are plain keys, ``pitch = "5 mm"``, or stand in tables, as those of the armholes do;
``amounts.py`` lists them. In place of a length each can have ``{ for = { measure = "cap-ease", change = "1 cm" } }``.
``[armhole.back]`` itself can have ``for``, and ``width-share``, 0 to 1: width and depth are then solved together.

A place is a landmark's name; ``{ seam = "cap-back", distance = "6 cm", from = "crown" }``, along a seam from the
landmark at one of its ends; ``{ seam = "hem", share = 0.5 }``, which needs ``from`` too unless it is one half;
``{ slash = "grain", share = 0.4 }``, on another slash, from its ``from`` to its ``to``; or
``{ x = "-3 cm", y = "2 cm" }``, from where grain and bicep line cross, x to the front and y to the shoulder.
A length is text such as "1 1/2 in", or a number in ``units``; 0 needs no unit.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

import msgspec

from tutor.alteration.plan import Opening, Plan, Slash
from tutor.alteration.plan_aims import Aim, check_aims, read_aim
from tutor.alteration.plan_amounts import TREE, file_fields, read_amounts
from tutor.alteration.plan_faults import Faults, PlanFaults, at_own_lines
from tutor.alteration.plan_lengths import Length, read_length
from tutor.alteration.plan_places import (
    LONGEST_NAME,
    Context,
    Number,
    Table,
    known_slash,
    read_name,
    read_place,
    read_share,
    read_text,
)
from tutor.alteration.reach import OpeningAmount, reach
from tutor.faults import Fault
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.toml_reading import Document, read_toml
from tutor.toml_tables import convert
from tutor.units import Unit

MOST_SLASHES = 60
"""More than any sleeve is slashed by; all crossing each other they still take seconds, not minutes."""
MOST_OPENINGS = 2 * MOST_SLASHES
LONGEST_TITLE = 200


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan as written, and the aims of those amounts that are still to be solved, which are 0 in it."""

    plan: Plan
    aims: tuple[Aim, ...] = ()


class _Top(msgspec.Struct):
    title: str = ""
    units: str | None = None
    set_back: bool = msgspec.field(name="set-back", default=False)
    slash: list[Table] = []
    opening: list[Table] = []


_FILE = cast(
    type[_Top],
    msgspec.defstruct("_File", file_fields(), bases=(_Top,), rename="kebab", forbid_unknown_fields=True),
)


class _Slash(msgspec.Struct, forbid_unknown_fields=True):
    name: str
    start: str | Table = msgspec.field(name="from")
    end: str | Table = msgspec.field(name="to")
    hinge: str | list[str] = []


class _Opening(msgspec.Struct, forbid_unknown_fields=True):
    slash: str
    at: str | Number | Table
    amount: Length | None = None
    aim: Table | None = msgspec.field(name="for", default=None)


class _Crossing(msgspec.Struct, forbid_unknown_fields=True):
    crosses: str
    toward: str | None = None


def read_plan(source: Path | bytes, where: str = "", landmarks: Collection[str] = ()) -> PlanFile:
    """Reads a plan from a file, or from its bytes, which faults then call ``where``.

    ``landmarks`` are those of the pattern that it is for, where that is known: a place is then one of them. Raises
    PlanFaults with every fault of the keys, slashes, openings and armholes; a single Fault for a file that is no TOML
    at all.
    """
    return plan_of(read_toml(source, where), landmarks)


def plan_of(document: Document, landmarks: Collection[str] = ()) -> PlanFile:
    """The plan that a document holds. Raises as ``read_plan``."""
    try:
        return _plan_of(document, landmarks)
    except PlanFaults as faults:
        raise PlanFaults(at_own_lines(document, faults.faults)) from None


def _plan_of(document: Document, landmarks: Collection[str]) -> PlanFile:
    where, faults = document.where, Faults()
    file = faults.table(document.tables, _FILE, where)
    context = _context(file, where, landmarks, faults)
    title = faults.read(read_text, file.title, f"{where}: title", LONGEST_TITLE)
    slashes = [
        faults.read(_slash, k, written, f"{where}: slash {k + 1}", context) for k, written in enumerate(file.slash)
    ]
    openings = [
        faults.read(_opening, k, written, f"{where}: opening {k + 1}", context)
        for k, written in enumerate(file.opening)
    ]
    amounts = faults.read(read_amounts, {key: getattr(file, key.replace("-", "_")) for key in TREE}, where, context)
    aims = [found[1] for found in openings if found is not None and found[1] is not None]
    aims += amounts.aims if amounts is not None else []
    faults.read(check_aims, aims, where)
    if faults.found or amounts is None:
        raise PlanFaults(faults.found)
    plan = Plan(
        slashes=tuple(slash for slash in slashes if slash is not None),
        openings=tuple(found[0] for found in openings if found is not None),
        set_back=file.set_back,
        title=title or "",
    )
    return PlanFile(amounts.on(plan), tuple(aims))


def solved(pattern: Pattern, file: PlanFile) -> Plan:
    """The plan with every amount that has an aim solved for it.

    Raises Fault, naming no file, for a measure that this pattern lacks; and Refusal when no amounts lead there, or
    paper can't follow the plan at all.
    """
    if not file.aims:
        return file.plan
    before = measure(pattern)
    lacking = [aim.measure for aim in file.aims if aim.measure not in before]
    if lacking:
        raise Fault(f"for {lacking[0]}", "the pattern doesn't have that measure", "ask for one that it has")
    wanted = {
        aim.measure: aim.value if aim.value is not None else before[aim.measure] + (aim.change or 0.0)
        for aim in file.aims
    }
    return reach(pattern, file.plan, wanted, [aim.amount for aim in file.aims])


def _context(file: _Top, where: str, landmarks: Collection[str], faults: Faults) -> Context:
    for key, tables, most in (("slash", file.slash, MOST_SLASHES), ("opening", file.opening, MOST_OPENINGS)):
        if len(tables) > most:
            raise Fault(f"{where}: {key}", f"there are {len(tables)} of them", f"a plan has {most} at the most")
    names = tuple(table.get("name") for table in file.slash)
    unit = faults.read(_unit, file.units, f"{where}: units")
    if unit is None and file.units is not None:
        # Any unit will do: what it is read for is told faults of alone.
        unit = Unit.CM
    return Context(unit, names, file.set_back, tuple(landmarks))


def _unit(text: str | None, where: str) -> Unit | None:
    if text is None:
        return None
    try:
        return Unit(text)
    except ValueError:
        raise Fault(where, f'"{text[:LONGEST_NAME]}" is no unit known here', 'write "mm", "cm" or "in"') from None


def _slash(number: int, written: Table, where: str, context: Context) -> Slash:
    faults = Faults()
    table = faults.table(written, _Slash, where)
    name = faults.read(_own_name, table.name, f"{where}, name", context.slashes[:number])
    start = faults.read(read_place, table.start, table.name, f"{where}, from", context)
    end = faults.read(read_place, table.end, table.name, f"{where}, to", context)
    if start == end and start is not None:
        faults.found.append(Fault(f"{where}, to", "is the place where the slash begins", "lead it to another place"))
    held = faults.read(_held, table.hinge, f"{where}, hinge") or []
    faults.check()
    assert name is not None
    assert start is not None
    assert end is not None
    return Slash(name, start, end, "from" in held, "to" in held)


def _own_name(text: str, where: str, earlier: Sequence[object]) -> str:
    name = read_name(text, where)
    if name in earlier:
        raise Fault(where, f'"{name}" is the name of an earlier slash', "give each slash its own")
    return name


def _held(hinge: str | list[str], where: str) -> list[str]:
    held = [hinge] if isinstance(hinge, str) else hinge
    if not set(held) <= {"from", "to"}:
        raise Fault(where, "names no end of a slash", 'write "from", "to" or ["from", "to"], or leave it out')
    return held


def _opening(number: int, written: Table, where: str, context: Context) -> tuple[Opening, Aim | None]:
    faults = Faults()
    table = faults.table(written, _Opening, where)
    faults.read(known_slash, table.slash, f"{where}, slash", context)
    if (table.amount is None) == (table.aim is None):
        given = "neither amount nor for is" if table.amount is None else "both amount and for are"
        faults.found.append(Fault(where, f"{given} given", "give the amount, or what the opening is for"))
    aim = (
        None if table.aim is None else faults.read(read_aim, table.aim, OpeningAmount(number), f"{where}, for", context)
    )
    amount = 0.0
    if table.amount is not None:
        amount = faults.read(read_length, table.amount, f"{where}, amount", context.unit) or 0.0
    placed = faults.read(_placed, Opening(table.slash, amount), table.at, f"{where}, at", context)
    faults.check()
    assert placed is not None
    return placed, aim


def _placed(opening: Opening, at: str | Number | Table, where: str, context: Context) -> Opening:
    if isinstance(at, dict):
        return _crossed(opening, convert(at, _Crossing, where), where, context)
    if isinstance(at, str):
        if at not in ("from", "to"):
            right = 'write "from", "to", a share from 0 to 1, or { crosses = "bicep" }'
            raise Fault(where, f'"{at[:LONGEST_NAME]}" is no place on a slash', right)
        return replace(opening, share=float(at == "to"))
    return replace(opening, share=read_share(at, where))


def _crossed(opening: Opening, crossing: _Crossing, where: str, context: Context) -> Opening:
    other = known_slash(crossing.crosses, f"{where}, crosses", context)
    toward = {None: "", "from": "start", "to": "end"}
    if other == opening.slash:
        raise Fault(f"{where}, crosses", "is the slash itself", "name the slash that crosses it")
    if crossing.toward not in toward:
        raise Fault(f"{where}, toward", "names no end of the slash", 'write "from" or "to"')
    return replace(opening, where=other, toward=toward[crossing.toward])
