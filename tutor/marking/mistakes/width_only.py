"""All of the armhole's gain put into width."""

from __future__ import annotations

from tutor.marking.mistake import Mistake, PlanAnswer
from tutor.marking.one_direction import one_direction

NEXT = "Share the gain: lower the underarm as well."


def _reply(answer: PlanAnswer) -> tuple[str, str]:
    bust = answer.show("bust-gain", answer.after.get("bust-gain", 0.0))
    return f"The armholes only go out, and not down: right round, the bust has grown by {bust}.", NEXT


OUT = "when the armhole only goes out, and not down"
MISTAKE = Mistake(
    "width-only", plans=one_direction(_reply, OUT, NEXT, width=True), words="all of the armhole's gain put into width"
)
