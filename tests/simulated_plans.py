"""Simulated learners who alter the pattern."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import numpy as np
from simulated_tally import Tally

from tutor.alteration.alter import Altered, alter
from tutor.alteration.amounts import PlanAmount, given
from tutor.alteration.plan import Along, Answer, Landmark, Opening, Place, Plan, Share, Slash
from tutor.alteration.reach import Amount, OpeningAmount, reach
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.geometry.curve import Curve
from tutor.lesson.recipe import Recipe
from tutor.marking.answers import mark_result
from tutor.marking.case import PlanCase
from tutor.marking.credit import tolerance_of
from tutor.marking.left_behind import untrued_kink
from tutor.marking.marked import Marked
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session
from tutor.practice.variants import told
from tutor.units import Unit

INCH = 25.4
SIDES = ("back", "front")
PLANS = 4
RIGHT = 6
HEM = Landmark("grain-hem")


def each_amount(plan: Plan, change: Callable[[float], float]) -> Plan:
    """The plan with every amount that it has changed."""
    changed = plan.with_amounts(*(change(opening.amount) for opening in plan.openings))
    for amount in given(plan):
        changed = amount.put(changed, change(amount.read(plan)))
    return changed


def times(plan: Plan, factor: float) -> Plan:
    return each_amount(plan, lambda mm: mm * factor)


def rounded(plan: Plan, unit: Unit) -> Plan:
    """The plan as it is typed: in whole millimetres, or in sixteenths of an inch."""
    division = 1.0 if unit is not Unit.INCH else INCH / 16
    return each_amount(plan, lambda mm: round(mm / division) * division)


def crossed(amount: float, gap: float) -> Plan:
    """Crossed slashes, opened below by an amount, and at the crown by a gap."""
    grain = Slash("down", Landmark("crown"), HEM, gap == 0, True)
    across = Slash("across", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
    openings = [Opening("down", amount, where="across", toward="end")]
    return Plan((grain, across), (*openings, *([Opening("down", gap, 0.0)] if gap else [])))


def crossed_in(plan: Plan, amount: float, gap: float) -> Plan:
    """Crossed slashes in place of a plan's own, all else left as it is."""
    found = crossed(amount, gap)
    return replace(plan, slashes=found.slashes, openings=found.openings, set_back=False)


def in_one_direction(plan: Plan, width: bool, whole: bool) -> Plan:
    """The armholes widened only, or lowered only: by the one share, or by the whole of both."""

    def turned(answer: Answer) -> Answer:
        out = answer.widen + (answer.lower if whole else 0.0)
        down = answer.lower + (answer.widen if whole else 0.0)
        return Answer(out, 0.0) if width else Answer(0.0, down)

    return replace(plan, back=turned(plan.back), front=turned(plan.front))


def reached(pattern: Pattern, plan: Plan, girth: float, recipe: Recipe | None = None) -> Plan:
    """The plan brought to a bicep girth by its first opening, or by whatever amount a recipe has for the girth."""
    amounts: list[Amount] = [each.amount for each in recipe.sought if each.measure == "bicep-girth"] if recipe else []
    return reach(pattern, plan, {"bicep-girth": girth}, amounts or [OpeningAmount(0)])


def wrong_plans(session: Session, case: PlanCase, worked: Plan) -> Iterator[tuple[str, Plan]]:
    """Every usual mistake made on a plan that is right: its amounts rounded first, or rounded when all is done."""
    for plan in (rounded(worked, session.unit), worked):
        for name, wrong in _wrong(session, case, plan):
            yield name, rounded(wrong, session.unit)


def _wrong(session: Session, case: PlanCase, plan: Plan) -> Iterator[tuple[str, Plan]]:
    for factor in (0.5, 2.0):
        yield "per-side", times(plan, factor)
    yield "unit-swap", times(plan, INCH / 10 if session.unit is not Unit.INCH else 10 / INCH)
    yield "wrong-sign", times(plan, -1)
    yield from other_ease(session, case, plan)
    if plan.openings:
        yield from wrong_slashes(plan)
    if plan.back != Answer() or plan.front != Answer():
        yield from wrong_armholes(plan)
    yield from wrong_amounts(plan)


def other_ease(session: Session, case: PlanCase, plan: Plan) -> Iterator[tuple[str, Plan]]:
    """The sleeve made for the arm with no ease, or with the other cloth's."""
    arm, recipe = session.lesson.arm, case.recipe
    if recipe is not None and any(sought.measure == "bicep-girth" for sought in recipe.sought) and case.goes_by_ease:
        for ease in {0.0, arm.other_ease} if arm.wearing_ease else {arm.other_ease}:
            name = "no-ease" if not ease else "stretch-missed"
            yield name, reached(session.pattern, plan, arm.girth + ease, recipe)


def wrong_slashes(plan: Plan) -> Iterator[tuple[str, Plan]]:
    opening = plan.openings[0]
    main = next(slash for slash in plan.slashes if slash.name == opening.slash)
    yield from ends_mixed_up(plan, main, opening.amount)
    if main.end_hinge and main.end == HEM:
        if plan.set_back or not main.start_hinge:
            yield "crown-closed", crossed_in(plan, opening.amount, 0.0)
        yield "crown-wide-open", crossed_in(plan, opening.amount, opening.amount)
        if opening.where:
            through = replace(main, end_hinge=False)
            at_hem = (*plan.openings, Opening(main.name, opening.amount, 1.0))
            yield "hem-widened", replace(plan, slashes=_with(plan, main, through), openings=at_hem)
    for slash in plan.slashes:
        if slash.start_hinge and slash.start == Landmark("crown"):
            yield "crown-wide-open", replace(plan, slashes=_with(plan, slash, replace(slash, start_hinge=False)))
        if slash.start_hinge and slash.start != Landmark("crown"):
            yield "hinge-cut", replace(plan, slashes=_with(plan, slash, replace(slash, start_hinge=False)))
        if slash.end_hinge and slash.end not in (HEM, Landmark("crown")) and getattr(slash.end, "seam", "") != "hem":
            yield "hinge-cut", replace(plan, slashes=_with(plan, slash, replace(slash, end_hinge=False)))


def _with(plan: Plan, old: Slash, new: Slash) -> tuple[Slash, ...]:
    return tuple(new if slash is old else slash for slash in plan.slashes)


def ends_mixed_up(plan: Plan, main: Slash, amount: float) -> Iterator[tuple[str, Plan]]:
    """The slash that makes the room alone, hinged at its other end or at none; or all the slashes of a fan."""
    if not (main.start_hinge or main.end_hinge):
        return
    if len(plan.slashes) > 1 and all(slash.start_hinge != slash.end_hinge for slash in plan.slashes):
        yield from fan_mixed_up(plan)
        return
    free = replace(main, start_hinge=False, end_hinge=False)
    other = replace(free, start_hinge=main.end_hinge, end_hinge=not main.end_hinge)
    yield (
        "hinge-at-wrong-end",
        replace(plan, slashes=(other,), openings=(Opening(main.name, amount, 1.0 if main.end_hinge else 0.0),)),
    )
    both = (Opening(main.name, amount, 0.0), Opening(main.name, amount, 1.0))
    yield "parallel-for-hinged", replace(plan, slashes=(free,), openings=both)


def fan_mixed_up(plan: Plan) -> Iterator[tuple[str, Plan]]:
    """Wedges side by side, all of them hinged at their other ends, or at none."""
    held_at_end = {slash.name: slash.end_hinge for slash in plan.slashes}
    far = [Opening(o.slash, o.amount, 1.0 if held_at_end[o.slash] else 0.0) for o in plan.openings]
    turned = tuple(replace(s, start_hinge=s.end_hinge, end_hinge=s.start_hinge) for s in plan.slashes)
    yield "hinge-at-wrong-end", replace(plan, slashes=turned, openings=tuple(far))
    free = tuple(replace(slash, start_hinge=False, end_hinge=False) for slash in plan.slashes)
    both = tuple(Opening(o.slash, o.amount, share) for o in plan.openings for share in (0.0, 1.0))
    yield "parallel-for-hinged", replace(plan, slashes=free, openings=both)


def wrong_armholes(plan: Plan) -> Iterator[tuple[str, Plan]]:
    for factor in (0.25, 4.0):
        yield "per-piece", times(plan, factor)
    if Answer() not in (plan.back, plan.front):
        for factor in (0.5, 2.0):
            yield "per-side", replace(plan, back=times(plan, factor).back)
            yield "per-side", replace(plan, front=times(plan, factor).front)
        yield "front-only", replace(plan, back=Answer())
        yield "back-only", replace(plan, front=Answer())
    for name, width in (("width-only", True), ("depth-only", False)):
        for whole in (False, True):
            wrong = in_one_direction(plan, width, whole)
            if wrong != plan and (wrong.back, wrong.front) != (Answer(), Answer()):
                yield name, wrong


def wrong_amounts(plan: Plan) -> Iterator[tuple[str, Plan]]:
    """One of several kinds of amounts wrong by itself, or left out; or done on one side alone."""
    kinds: dict[str, list[PlanAmount]] = {}
    for amount in given(plan):
        kinds.setdefault(amount.kind if amount.means != "armhole" else "armhole", []).append(amount)
    several = len(kinds) + bool(plan.openings) > 1
    for kind, amounts in kinds.items():
        if several and kind != "armhole":
            for name, factor in (("wrong-sign", -1.0), ("per-side", 0.5), ("per-side", 2.0)):
                yield name, _by(plan, amounts, factor)
    if plan.openings and kinds.keys() - {"armhole"}:
        for name, factor in (("wrong-sign", -1.0), ("per-side", 0.5), ("per-side", 2.0)):
            yield name, plan.with_amounts(*(opening.amount * factor for opening in plan.openings))
    edges = {side: [a for a in given(plan) if a.means == "seams" and a.side == side] for side in SIDES}
    if all(edges.values()):
        for side, name in (("back", "front-only"), ("front", "back-only")):
            yield name, _by(plan, edges[side], 0.0)
            for factor in (0.5, 2.0):
                yield "per-side", _by(plan, edges[side], factor)
    means = {amount.means for amount in given(plan)}
    if len(means) + bool(plan.openings) + plan.set_back > 1:
        for each in sorted(means - {"armhole"}):
            yield "part-left-out", _by(plan, [amount for amount in given(plan) if amount.means == each], 0.0)
        if "armhole" in means and (plan.openings or means - {"armhole", "shoulder"}):
            yield "armhole-forgotten", replace(plan, back=Answer(), front=Answer())


def _by(plan: Plan, amounts: Iterable[PlanAmount], factor: float) -> Plan:
    for amount in amounts:
        plan = amount.put(plan, factor * amount.read(plan))
    return plan


def left_undone(altered: Altered) -> Iterator[tuple[str, dict[str, float]]]:
    """What a pattern on a table can have otherwise, and the tutor's own paper can't: not trued, notches not moved."""
    if altered.plan.slashes:
        yield "untrued", {"kink": untrued_kink(altered)}
    yield "notches-left", notches_left(altered)


def notches_left(altered: Altered) -> dict[str, float]:
    """The notches at the points where they were, each found again on its new seam by walking it in small steps."""
    found = {}
    for side in SIDES:
        old, new = altered.before.armhole(side), altered.after.armhole(side)
        for mark in altered.before.sleeve.marks:
            partner = None if old is None else old.mark(mark.name)
            if mark.seam != f"cap-{side}" or partner is None or old is None or new is None:
                continue
            cap, was = (
                pattern.sleeve.cap_back if side == "back" else pattern.sleeve.cap_front
                for pattern in (altered.after, altered.before)
            )
            along = walked_to(cap, was.point(mark.u))
            up_cap = along if side == "back" else cap.length() - along
            name = f"notch-mismatch-{mark.name.removeprefix('notch-')}"
            found[name] = up_cap - walked_to(new.seam, old.seam.point(partner.u))
    return found


def walked_to(curve: Curve, point: complex) -> float:
    """The length of a seam up to the place nearest to a point."""
    points = curve.flatten(1e-5)
    steps = np.append(0, np.cumsum(np.abs(np.diff(points))))
    return float(steps[np.abs(points - point).argmin()])


def told_to_alter(session: Session, case: PlanCase, tally: Tally, chance: random.Random) -> None:
    """Marks answers to a task that alters the pattern: right ones, one of every mistake, and others."""
    assert case.plan is not None
    for plan in noisy_but_right(session, case, chance):
        tally.add_right(marked_plan(session, case, plan))
    made = dict.fromkeys(
        (name, plan) for name, plan in wrong_plans(session, case, case.plan) if name not in session.task.unnamed
    )
    for name, plan in made:
        tally.add_mistake(name, marked_plan(session, case, plan))
    names = {name for name, _ in made}
    altered = alter(session.pattern, rounded(case.plan, session.unit))
    after = measured(altered, session)
    for name, changed in left_undone(altered):
        if name not in session.task.unnamed:
            names.add(name)
            tally.add_mistake(name, mark_result(case, session.unit, after | changed))
    missing = told(case, session.unit) - names
    assert not missing, f"nobody makes the mistakes {missing} here"
    usual = {plan for _, plan in made}
    for kind, random_plan in (("amounts", random_amounts), ("hinges", random_hinges), ("slashes", random_slashes)):
        for _ in range(PLANS):
            plan = random_plan(session, case.plan, chance)
            tally.add_nonsense(kind, marked_plan(session, case, plan), usual=plan in usual)


def marked_plan(session: Session, case: PlanCase, plan: Plan) -> Marked:
    """The mark of a plan: in the session where the task allows what it uses, or else as a pattern handed in."""
    try:
        session.adopt(plan)
    except Fault:
        altered = alter(session.pattern, plan)
        return mark_result(case, session.unit, measured(altered, session), plan, altered)
    return session.check()


def noisy_but_right(session: Session, case: PlanCase, chance: random.Random) -> Iterator[Plan]:
    """Plans whose amounts are off by measuring and rounding, and whose results are inside every tolerance still."""
    assert case.plan is not None
    for _ in range(RIGHT):
        plan = rounded(each_amount(case.plan, lambda mm: mm + chance.gauss(0, 1.0) if mm else mm), session.unit)
        after = measures_of(session, plan)
        if after is not None and all(
            abs(aim.off(after[aim.measure])) <= tolerance_of(aim, session.unit) for aim in case.aims
        ):
            yield plan


def measures_of(session: Session, plan: Plan) -> dict[str, float] | None:
    try:
        altered = alter(session.pattern, plan)
    except Refusal:
        return None
    return measured(altered, session)


def measured(altered: Altered, session: Session) -> dict[str, float]:
    """All that a pattern on a table, and the arm it is for, have to be measured by."""
    return {**altered.measures_after, **measure(altered.after, session.lesson.arm.girth)}


def random_amounts(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """The right slashes, and any amounts: overlapped by up to 6 cm or opened by up to 10; armholes by 3 either way."""
    opened = plan.with_amounts(*(chance.uniform(-60, 100) for _ in plan.openings))
    for amount in given(plan):
        opened = amount.put(opened, chance.uniform(-30, 30))
    if plan.back == Answer():
        return rounded(opened, session.unit)
    back, front = (Answer(chance.uniform(-30, 30), chance.uniform(-30, 30)) for _ in SIDES)
    return rounded(replace(opened, back=back, front=front), session.unit)


def random_hinges(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """The right slashes with hinges anyhow, and any amounts."""
    slashes = tuple(
        replace(slash, start_hinge=chance.random() < 0.5, end_hinge=chance.random() < 0.5) for slash in plan.slashes
    )
    return random_amounts(session, replace(plan, slashes=slashes), chance)


def random_slashes(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """One slash or two from anywhere to anywhere, opened somewhere."""
    if not plan.slashes:
        return random_amounts(session, plan, chance)
    names = session.outline.names
    slashes, openings = [], []
    for name in "xy"[: chance.randint(1, 2)]:
        ends = [random_place(session, names, chance) for _ in SIDES]
        slashes.append(Slash(name, ends[0], ends[1], False, True))
        openings.append(Opening(name, round(chance.uniform(-40, 60)), 0.0))
    return Plan(tuple(slashes), tuple(openings), plan.set_back)


def random_place(session: Session, names: tuple[str, ...], chance: random.Random) -> Place:
    if chance.random() < 0.5:
        return Landmark(chance.choice(list(session.landmarks)))
    seam = chance.choice(names)
    return Share(seam, chance.random()) if chance.random() < 0.5 else Along(seam, chance.uniform(0, 200))
