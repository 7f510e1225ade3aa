"""Any right way passes: of every task that alters the pattern, two different sets of slashes or of amounts."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from lessons_for_tests import own_lessons

from tutor.alteration.amounts import AMOUNTS, given
from tutor.alteration.plan import Along, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.faults import Fault
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import PlanTask
from tutor.practice.session import Session
from tutor.units import Unit

Way = Callable[[Plan], Plan | None]
BICEP = Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
BESIDE = 25.0
"""mm from the crown to either of two slashes in place of one."""
NUDGE = 0.5
"""mm by which armholes can be shared otherwise, within every tolerance."""

TASKS = [
    (str(lesson.number), number)
    for lesson in own_lessons()
    for number, task in enumerate(lesson.tasks, 1)
    if isinstance(task, PlanTask)
]


def two_wedges_below(worked: Plan) -> Plan | None:
    """Crossed slashes otherwise: two wedges below the bicep line, each half as wide, and the cap cut by itself."""
    first = worked.openings[0] if worked.openings else None
    if first is None or not first.where:
        return None
    gap = sum(opening.amount for opening in worked.openings[1:])
    cap = Slash("cap", Landmark("crown"), OnSlash("bicep", 0.5), not gap, False)
    one = Slash("one", OnSlash("bicep", 0.4), Share("hem", 0.6), False, True)
    two = Slash("two", OnSlash("bicep", 0.6), Share("hem", 0.4), False, True)
    openings = (Opening("one", first.amount / 2, 0.0), Opening("two", first.amount / 2, 0.0))
    return Plan((BICEP, cap, one, two), (*openings, *([Opening("cap", gap, 0.0)] if gap else [])))


def two_under_the_lifted_cap(worked: Plan) -> Plan | None:
    if not worked.set_back or not worked.openings:
        return None
    half = worked.openings[0].amount / 2
    one = Slash("one", Share("bicep-line", 0.35), Share("hem", 0.65), False, True)
    two = Slash("two", Share("bicep-line", 0.65), Share("hem", 0.35), False, True)
    return replace(worked, slashes=(one, two), openings=(Opening("one", half, 0.0), Opening("two", half, 0.0)))


def two_beside_each_other(worked: Plan) -> Plan | None:
    """Two slashes from the cap to the hem, each opened by half at the same ends and held at the same."""
    slash = worked.slashes[0] if len(worked.slashes) == 1 and not worked.set_back else None
    if slash is None or slash.start != Landmark("crown") or slash.end != Landmark("grain-hem"):
        return None
    one = replace(slash, name="one", start=Along("cap-back", BESIDE, from_end=True), end=Share("hem", 0.6))
    two = replace(slash, name="two", start=Along("cap-front", BESIDE), end=Share("hem", 0.4))
    openings = [
        replace(opening, slash=name, amount=opening.amount / 2)
        for name in ("one", "two")
        for opening in worked.openings
    ]
    return Plan((one, two), tuple(openings))


def without_the_middle(worked: Plan) -> Plan | None:
    """Of slashes side by side the middle one left out, and what it opens shared by the others."""
    if len(worked.slashes) < 3 or len(worked.openings) != len(worked.slashes):
        return None
    first, *rest = worked.openings
    more = first.amount / len(rest)
    slashes = tuple(slash for slash in worked.slashes if slash.name != first.slash)
    return replace(worked, slashes=slashes, openings=tuple(replace(each, amount=each.amount + more) for each in rest))


def across_elsewhere(worked: Plan) -> Plan | None:
    """Slashes from underarm seam to underarm seam, nearer to the elbow."""
    if not worked.slashes or not all(isinstance(slash.start, Share) for slash in worked.slashes):
        return None
    return replace(
        worked,
        slashes=tuple(
            replace(slash, start=_nearer_middle(slash.start), end=_nearer_middle(slash.end)) for slash in worked.slashes
        ),
    )


def _nearer_middle(place: Place) -> Place:
    if not isinstance(place, Share):
        return place
    return replace(place, share=place.share + math.copysign(0.05, 0.5 - place.share))


def two_darts(worked: Plan) -> Plan | None:
    """Two wedges, one above the elbow and one below it, each half as wide, in place of one at the elbow."""
    first = worked.slashes[0] if len(worked.slashes) == 1 else None
    if first is None or first.start != Landmark("elbow-back") or first.end != Landmark("elbow-front"):
        return None
    half = worked.openings[0]
    darts = [
        replace(first, name=name, start=Share("underarm-back", share), end=Share("underarm-front", 1 - share))
        for name, share in (("one", 0.47), ("two", 0.53))
    ]
    openings = (replace(half, slash=dart.name, amount=half.amount / 2) for dart in darts)
    return replace(worked, slashes=tuple(darts), openings=tuple(openings))


def shared_otherwise(worked: Plan) -> Plan | None:
    """A little more of what is lowered, and less of what is widened."""
    if worked.slashes or not given(worked):
        return None
    plan = worked
    for amount in AMOUNTS:
        if amount.read(worked):
            plan = amount.put(plan, amount.read(worked) + (NUDGE if amount.way == "lower" else -NUDGE))
    return plan


WAYS: tuple[Way, ...] = (
    two_wedges_below,
    two_under_the_lifted_cap,
    two_beside_each_other,
    without_the_middle,
    across_elsewhere,
    two_darts,
    shared_otherwise,
)
"""What may be done in place of a worked solution; a lesson that none of these fits needs one of its own here."""


def others(worked: Plan) -> Iterator[Plan]:
    yield from (plan for way in WAYS if (plan := way(worked)) is not None and plan.slashes != worked.slashes)
    if not worked.slashes and (plan := shared_otherwise(worked)) is not None:
        yield plan


def passes(session: Session, plan: Plan) -> bool:
    """Whether a plan passes; no plan that does is accused of anything."""
    try:
        session.adopt(plan)
    except Fault:
        return False
    marked = session.check()
    assert not (marked.passed and marked.mistake)
    return marked.passed


@pytest.mark.parametrize(("name", "number"), TASKS, ids=[f"{name}.{number}" for name, number in TASKS])
def test_two_ways_pass_in_every_variant(name: str, number: int) -> None:
    for seed in (None, 0, 1, 2):
        session = Session(find_lesson(name), Unit.INCH if seed == 1 else Unit.CM, seed)
        session.go_to_task(number)
        worked = session.solution().plan
        assert worked is not None
        assert passes(session, worked), "the worked solution"
        assert any(passes(session, plan) for plan in others(worked)), f"no other way passes in variant {seed}: see WAYS"
