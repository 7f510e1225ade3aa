"""A knit treated as a woven, or a woven as a knit: the other cloth's ease."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong

NEXT = "Look at what the cloth is, and at the wearing ease that the brief gives for it."


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
        yield Wrong(_reply, lambda: case.solved_for(ease), f"with the ease of a {other}", NEXT, likely=likely)


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    arm = answer.case.arm
    ease, other = answer.length(answer.after["bicep-girth"] - arm.girth), "woven" if arm.cloth == "knit" else "knit"
    return f"The wearing ease comes to {ease}: that is for a {other}, and this cloth is a {arm.cloth}.", NEXT


MISTAKE = Mistake("stretch-missed", plans=_plans)
