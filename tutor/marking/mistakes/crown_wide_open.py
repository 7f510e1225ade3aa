"""All of the opening left in the cap, where its seam could take only so much."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import crossed, hinges_cut

NEXT = "Close the crown, wholly or in part: what stays open there goes into the cap seam."
HOLD = "Leave a hinge at the crown: what laps over there is lost to the cap seam."


def _plans(case: Case) -> Iterator[Wrong]:
    """The crown open as far as the bicep line; or its hinge cut through, and left to open as it will."""
    if case.plan is None:
        return
    plan = crossed(case.plan, 1.0)
    if plan is not None and plan != case.plan:
        shown = case.asks_for("cap-seam", "cap-ease") and not case.plan.set_back
        number = "when all of the opening is left in the cap" if shown else ""
        yield Wrong(_reply, plan, number, NEXT, likely=_likely)
    for cut in hinges_cut(case.plan):
        if cut.at_crown:
            yield Wrong(_reply, cut.plan, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    seam, bicep = answer.change("cap-seam"), answer.change("bicep-girth")
    return seam * bicep >= 0 and abs(seam) > 0.6 * abs(bicep)


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    laps = answer.change("bicep-girth") < 0
    crown, then = ("laps over as well", HOLD) if laps else ("is wide open", NEXT)
    return f"{answer.what_moved('cap-seam', 'bicep-girth')}: the crown {crown}.", then


MISTAKE = Mistake("crown-wide-open", plans=_plans, words="the crown left wide open")
