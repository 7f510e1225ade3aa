"""Edits of a plan, each giving a new plan; a learner's plan may be unfinished, and is judged only when carried out."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Literal

from tutor.alteration.amounts import PlanAmount, given
from tutor.alteration.plan import Place, Plan, Slash
from tutor.faults import Fault
from tutor.practice.stations import Station

End = Literal["start", "end"]
Side = Literal["back", "front"]

MOST_SLASHES = 24
FARTHEST = 1000.0
"""mm; no amount beyond a metre is believed."""
LONGEST_NAME = 20
NOT_NAMES = {"to", "at", "from", "along", "as", "hinge", "off", "none", "start", "end", "point", "and", "by"}
_NAME = re.compile(r"[^\W_][\w-]*")


def free_name(plan: Plan) -> str:
    """The first letter that no slash is named by; then letters with a number."""
    taken = {slash.name.casefold() for slash in plan.slashes}
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return next(name for name in letters if name.casefold() not in taken)


def with_slash(
    plan: Plan, name: str | None, start: Place, end: Place, start_hinge: bool, end_hinge: bool
) -> tuple[Plan, str]:
    """The plan with one slash more, and that slash's name. Raises Fault for a name that can't be."""
    if len(plan.slashes) >= MOST_SLASHES:
        raise Fault("slash", f"there are {MOST_SLASHES} slashes already", "remove one")
    name = free_name(plan) if name is None else _checked_name(plan, name)
    slash = Slash(name, start, end, start_hinge, end_hinge)
    return replace(plan, slashes=(*plan.slashes, slash)), name


def _checked_name(plan: Plan, name: str) -> str:
    if not _NAME.fullmatch(name) or len(name) > LONGEST_NAME or name.casefold() in NOT_NAMES:
        right = f"use one word of up to {LONGEST_NAME} letters, such as grain"
        raise Fault("name", f'"{name[:40]}" can\'t name a slash', right)
    if any(slash.name.casefold() == name.casefold() for slash in plan.slashes):
        raise Fault("name", f"there is a slash {name} already", "use another name, or remove that slash")
    return name


def slash_named(plan: Plan, name: str) -> Slash:
    """The slash of that name, whatever its letters' case. Raises Fault when there is none."""
    for slash in plan.slashes:
        if slash.name.casefold() == name.casefold():
            return slash
    there = ", ".join(slash.name for slash in plan.slashes)
    raise Fault("slash", f'there is no slash "{name[:40]}"', f"there are {there}" if there else "make one first")


def without_slash(plan: Plan, name: str) -> Plan:
    """The plan without a slash, and without the openings asked on it or where it crosses."""
    gone = slash_named(plan, name).name
    openings = tuple(o for o in plan.openings if gone not in (o.slash, o.where))
    return replace(plan, slashes=tuple(s for s in plan.slashes if s.name != gone), openings=openings)


def with_ends(plan: Plan, name: str, start: Place | None, end: Place | None) -> Plan:
    """The plan with a slash's ends moved; None leaves an end where it is."""
    slash = slash_named(plan, name)
    moved = replace(slash, start=start or slash.start, end=end or slash.end)
    return _with(plan, moved)


def with_hinge(plan: Plan, name: str, end: End, holds: bool) -> Plan:
    """The plan with an end of a slash hinged or cut through; a new hinge drops the opening asked at its place."""
    slash = slash_named(plan, name)
    hinged = replace(slash, start_hinge=holds) if end == "start" else replace(slash, end_hinge=holds)
    share = 0.0 if end == "start" else 1.0
    openings = tuple(
        o for o in plan.openings if not (holds and o.slash == slash.name and not o.where and o.share == share)
    )
    return replace(_with(plan, hinged), openings=openings)


def _with(plan: Plan, slash: Slash) -> Plan:
    return replace(plan, slashes=tuple(slash if s.name == slash.name else s for s in plan.slashes))


def with_opening(plan: Plan, station: Station, amount: float | None) -> Plan:
    """The plan with the opening at a station set to ``amount`` mm, or taken away."""
    if amount is not None:
        check_amount(amount)
    kept = tuple(o for o in plan.openings if not station.is_at(o))
    if amount is None:
        return replace(plan, openings=kept)
    if len(kept) < len(plan.openings):
        changed = tuple(replace(o, amount=amount) if station.is_at(o) else o for o in plan.openings)
        return replace(plan, openings=changed)
    return replace(plan, openings=(*kept, station.opening(amount)))


def with_amount(plan: Plan, amount: PlanAmount, mm: float) -> Plan:
    """The plan with one of the amounts that need no slash set, mm. Raises Fault for more than any pattern has."""
    check_amount(mm)
    return amount.put(plan, mm)


def check_amount(amount: float) -> None:
    """Raises Fault for an amount that no pattern has room for."""
    if not abs(amount) <= FARTHEST:
        raise Fault("amount", f"{amount / 10:.5g} cm is no amount for a sleeve", "stay below 100 cm")


def is_empty(plan: Plan) -> bool:
    """Whether a plan does nothing at all."""
    return not plan.slashes and not plan.set_back and not given(plan)
