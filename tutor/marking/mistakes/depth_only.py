"""All of the armhole's gain put into depth."""

from __future__ import annotations

from tutor.marking.mistake import Mistake, PlanAnswer
from tutor.marking.one_direction import one_direction

NEXT = "Share the gain: widen at the side seam as well."


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    back, front = (answer.length(-answer.change(f"side-seam-{side}")) for side in ("back", "front"))
    return f"The armholes only go down, and not out: {back} and {front} off the side seams.", NEXT


DOWN = "when the armhole only goes down, and not out"
MISTAKE = Mistake(
    "depth-only", plans=one_direction(_reply, DOWN, NEXT, width=False), words="all of the armhole's gain put into depth"
)
