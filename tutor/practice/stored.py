"""Plans as plain tables of texts, numbers and lists, to be kept and read back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from tutor.alteration.amounts import BY_KEY, given
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.faults import Fault


def stored_plan(plan: Plan) -> dict[str, Any]:
    """The plan as a table; lengths in mm."""
    return {
        "slashes": [
            {
                "name": slash.name,
                "start": _stored_place(slash.start),
                "end": _stored_place(slash.end),
                "start_hinge": slash.start_hinge,
                "end_hinge": slash.end_hinge,
            }
            for slash in plan.slashes
        ],
        "openings": [
            {"slash": o.slash, "amount": o.amount, "share": o.share, "where": o.where, "toward": o.toward}
            for o in plan.openings
        ],
        "set_back": plan.set_back,
        "back": [plan.back.widen, plan.back.lower],
        "front": [plan.front.widen, plan.front.lower],
        "amounts": {amount.key: amount.read(plan) for amount in given(plan) if amount.means != "armhole"},
    }


def plan_from(stored: object) -> Plan:
    """The plan that ``stored_plan`` made the table of. Raises Fault for anything else."""
    try:
        return _plan(stored)
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
        raise Fault("stored plan", "can't be read", "start the task again") from None


def _plan(stored: Any) -> Plan:
    plan = Plan(
        tuple(
            Slash(str(s["name"]), _place(s["start"]), _place(s["end"]), bool(s["start_hinge"]), bool(s["end_hinge"]))
            for s in stored["slashes"]
        ),
        tuple(
            Opening(str(o["slash"]), _mm(o["amount"]), _mm(o["share"]), str(o["where"]), str(o["toward"]))
            for o in stored["openings"]
        ),
        bool(stored["set_back"]),
        Answer(*map(_mm, stored["back"])),
        Answer(*map(_mm, stored["front"])),
    )
    # Plans kept before there were other amounts than the armholes' have none.
    for key, mm in stored.get("amounts", {}).items():
        plan = BY_KEY[key].put(plan, _mm(mm))
    return plan


def _stored_place(place: Place) -> dict[str, Any]:
    match place:
        case Landmark(name):
            return {"landmark": name}
        case Along(seam, distance, from_end):
            return {"seam": seam, "distance": distance, "from_end": from_end}
        case Share(seam, share):
            return {"seam": seam, "share": share}
        case OnSlash(slash, share):
            return {"slash": slash, "share": share}
        case At(point):
            return {"point": [point.real, point.imag]}


def _place(stored: Mapping[str, Any]) -> Place:
    if "landmark" in stored:
        return Landmark(str(stored["landmark"]))
    if "distance" in stored:
        return Along(str(stored["seam"]), _mm(stored["distance"]), bool(stored["from_end"]))
    if "seam" in stored:
        return Share(str(stored["seam"]), _mm(stored["share"]))
    if "slash" in stored:
        return OnSlash(str(stored["slash"]), _mm(stored["share"]))
    x, y = stored["point"]
    return At(complex(_mm(x), _mm(y)))


def _mm(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError(value)
    return number
