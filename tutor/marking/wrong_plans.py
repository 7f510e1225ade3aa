"""Plans as they come out when one thing is done wrong, made from the plan that is right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from tutor.alteration import amounts
from tutor.alteration.plan import Answer, Landmark, Opening, Place, Plan, Slash

SIDES = ("back", "front")
HEM = "grain-hem"


def answer_of(plan: Plan, side: str) -> Answer:
    """What one armhole does."""
    return plan.back if side == "back" else plan.front


def has_answers(plan: Plan) -> bool:
    """Whether an armhole answers at all."""
    return plan.back != Answer() or plan.front != Answer()


def scaled(plan: Plan, factor: float) -> Plan:
    """Every amount times a factor."""
    opened = plan.with_amounts(*(opening.amount * factor for opening in plan.openings))
    return amounts.times(opened, factor)


def times(answer: Answer, factor: float) -> Answer:
    """What one armhole does, times a factor."""
    return Answer(answer.widen * factor, answer.lower * factor)


def main_opening(plan: Plan) -> tuple[Slash, float] | None:
    """The slash that makes the room, and how far it opens: that of the first opening; None when nothing is opened."""
    if not plan.openings:
        return None
    first = plan.openings[0]
    slash = plan.slash(first.slash)
    return None if slash is None else (slash, first.amount)


def hinge_moved(plan: Plan) -> Plan | None:
    """The slash that makes the room alone, hinged at the other end and opened where its hinge was.

    Where several wedges lie side by side and nothing crosses, all of them are turned about.
    """
    main = main_opening(plan)
    if main is None:
        return None
    wedges = fan(plan) or {main[0]: main[1]}
    if not all(slash.start_hinge or slash.end_hinge for slash in wedges):
        return None
    turned = tuple(replace(s, start_hinge=s.end_hinge, end_hinge=not s.end_hinge) for s in wedges)
    openings = (Opening(s.name, amount, 1.0 if s.end_hinge else 0.0) for s, amount in wedges.items())
    return replace(plan, slashes=turned, openings=tuple(openings))


def unhinged(plan: Plan) -> Plan | None:
    """The slash that makes the room alone, held by nothing, opened by the same amount at both ends; or a whole fan."""
    main = main_opening(plan)
    if main is None:
        return None
    wedges = fan(plan) or {main[0]: main[1]}
    if not all(slash.start_hinge or slash.end_hinge for slash in wedges):
        return None
    free = tuple(replace(slash, start_hinge=False, end_hinge=False) for slash in wedges)
    openings = (Opening(slash.name, amount, share) for slash, amount in wedges.items() for share in (0.0, 1.0))
    return replace(plan, slashes=free, openings=tuple(openings))


def fan(plan: Plan) -> dict[Slash, float]:
    """The slashes of a plan with their amounts where each is a wedge by itself: one hinge, one opening, no crossing."""
    amounts = {opening.slash: opening.amount for opening in plan.openings if not opening.where}
    alone = len(amounts) == len(plan.openings) == len(plan.slashes)
    if not alone or not all(slash.start_hinge != slash.end_hinge for slash in plan.slashes):
        return {}
    return {slash: amounts[slash.name] for slash in plan.slashes if slash.name in amounts}


def hem_opened(plan: Plan) -> Plan | None:
    """The slash that makes the room cut through at the hem and opened there as far; None for one that nothing crosses.

    That would be held by nothing more, and is another mistake: see ``unhinged``.
    """
    main = main_opening(plan)
    if main is None or not main[0].end_hinge or main[0].end != Landmark(HEM) or not plan.openings[0].where:
        return None
    slash, amount = main
    slashes = tuple(replace(each, end_hinge=False) if each is slash else each for each in plan.slashes)
    return replace(plan, slashes=slashes, openings=(*plan.openings, Opening(slash.name, amount, 1.0)))


def crossed(plan: Plan, gap_share: float) -> Plan | None:
    """Crossed slashes that make the room of a plan hinged at the hem, the crown left open by a share of it.

    None for a plan that makes its room in another way.
    """
    main = main_opening(plan)
    if main is None or not main[0].end_hinge or main[0].end != Landmark(HEM):
        return None
    amount = main[1]
    grain = Slash("grain", Landmark("crown"), Landmark(HEM), start_hinge=gap_share == 0, end_hinge=True)
    bicep = Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
    openings = [Opening("grain", amount, where="bicep", toward="end")]
    if gap_share:
        openings.append(Opening("grain", amount * gap_share, 0.0))
    return replace(plan, slashes=(grain, bicep), openings=tuple(openings), set_back=False)


@dataclass(frozen=True, slots=True)
class HingeCut:
    """A plan with one hinge cut through: where that hinge was."""

    plan: Plan
    place: Place

    @property
    def at_crown(self) -> bool:
        return self.place == Landmark("crown")

    @property
    def at_hem(self) -> bool:
        return self.place == Landmark(HEM) or getattr(self.place, "seam", "") == "hem"


def hinges_cut(plan: Plan) -> Iterator[HingeCut]:
    """The plan with each of its hinges cut through in turn."""
    for slash in plan.slashes:
        for holds, place, cut in (
            (slash.start_hinge, slash.start, replace(slash, start_hinge=False)),
            (slash.end_hinge, slash.end, replace(slash, end_hinge=False)),
        ):
            if holds:
                slashes = tuple(cut if each is slash else each for each in plan.slashes)
                yield HingeCut(replace(plan, slashes=slashes), place)
