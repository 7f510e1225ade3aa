"""All of the opening left in the cap, where its seam could take only so much."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.marking.case import Case
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.wrong_plans import crossed

NEXT = "Close the crown, wholly or in part: what stays open there goes into the cap seam."


def _plans(case: Case) -> Iterator[Wrong]:
    plan = None if case.plan is None else crossed(case.plan, 1.0)
    if plan is not None and plan != case.plan:
        number = "when all of the opening is left in the cap" if case.asks_for("cap-seam", "cap-ease") else ""
        yield Wrong(_reply, plan, number, NEXT, likely=_likely)


def _likely(answer: PlanAnswer) -> bool:
    return answer.change("cap-seam") > 0.6 * answer.change("bicep-girth")


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    seam, bicep = (answer.length(answer.change(of)) for of in ("cap-seam", "bicep-girth"))
    return f"The cap seam has grown by {seam}, of the bicep line's {bicep}: the crown is wide open.", NEXT


MISTAKE = Mistake("crown-wide-open", plans=_plans)
