"""A knit treated as a woven, or a woven as a knit: the other cloth's ease."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from tutor.marking.case import Case, NumberCase, with_ease
from tutor.marking.mistake import Figured, Mistake, PlanAnswer, Wrong
from tutor.units import Unit

NEXT = "Look at what the cloth is, and at the wearing ease that the brief gives for it."
NEXT_STRETCHED = "The cloth gives: it may be smaller than what it goes round, by as much as it may stretch."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For a figure to be worked out from the arm: the ease of the other cloth, or a stretch left out."""
    wanted, ease = case.wanted, case.arm.other_ease
    if wanted is None:
        return
    if wanted.arm_and_ease and ease not in (0, float(case.arm.wearing_ease)):
        other = case.wanted_by(with_ease(case.arm, ease))
        cloth = "woven" if case.arm.cloth == "knit" else "knit"
        yield Figured(other, lambda show: f"{show(other)} has the ease of a {cloth} cloth.", NEXT)
    if wanted.stretched:
        unstretched = case.wanted_by(case.arm, structs.replace(wanted, stretched=False))
        yield Figured(unstretched, lambda show: f"{show(unstretched)} is not stretched at all.", NEXT_STRETCHED)


def _plans(case: Case) -> Iterator[Wrong]:
    """Where the other cloth has no ease at all, that is the sleeve made the size of the arm, and told as that."""
    ease = case.arm.other_ease
    if ease in (0, float(case.arm.wearing_ease)):
        return
    girth = case.arm.girth + ease

    def likely(answer: PlanAnswer) -> bool:
        return abs(answer.after.get("bicep-girth", girth) - girth) < 10

    if case.goes_by_ease:
        other = "woven" if case.arm.cloth == "knit" else "knit"
        yield Wrong(_reply, lambda: case.solved_for(ease), f"with the ease of a {other} cloth", NEXT, likely=likely)


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    arm = answer.case.arm
    ease, other = answer.length(answer.after["bicep-girth"] - arm.girth), "woven" if arm.cloth == "knit" else "knit"
    return f"The wearing ease comes to {ease}: that is for a {other} cloth, and this one is {arm.cloth}.", NEXT


MISTAKE = Mistake("stretch-missed", _figures, _plans, words="a knit treated as a woven, or the reverse")
