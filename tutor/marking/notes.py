"""What the armhole gains against what common practice counts, and the same for the sleeve it answers."""

from __future__ import annotations

from collections.abc import Mapping

from tutor.alteration.plan import Answer, Plan
from tutor.units import Unit, format_length

SIDES = ("back", "front")
LEAST = 0.05
"""mm; smaller changes have no share worth telling."""


def armhole_notes(plan: Plan, before: Mapping[str, float], after: Mapping[str, float], unit: Unit) -> tuple[str, ...]:
    """For each armhole that was changed: width and depth, their sum, and the armhole's gain as computed.

    That the armhole grows by the sum is common practice's way of counting, and overstates.
    """
    notes = []
    for side in SIDES:
        answer = plan.back if side == "back" else plan.front
        name = f"armhole-{side}"
        if answer == Answer() or name not in before or name not in after:
            continue
        total, gain = answer.widen + answer.lower, after[name] - before[name]
        counted = f"{_cm(answer.widen, unit)} out and {_cm(answer.lower, unit)} down"
        notes.append(
            f"The {side} armhole: {counted}, {_cm(total, unit)} in all; computed, it gains {_gain(gain, total, unit)}."
        )
    if notes:
        notes.append("Common practice counts the gain as width plus depth. The mark goes by what is computed.")
    return tuple(notes)


def sleeve_notes(block: Mapping[str, float], start: Mapping[str, float], unit: Unit) -> tuple[str, ...]:
    """How far the sleeve a task starts from was carried out beyond the block, and what its cap seam gained by that."""
    out = (start["bicep-girth"] - block["bicep-girth"]) / 2
    if abs(out) < LEAST:
        return ()
    notes = []
    for side in SIDES:
        gain = start[f"cap-seam-{side}"] - block[f"cap-seam-{side}"]
        notes.append(f"The {side} cap seam was carried out by {_cm(out, unit)} and gained {_gain(gain, out, unit)}.")
    return tuple(notes)


def _gain(gain: float, total: float, unit: Unit) -> str:
    share = f", {100 * gain / total:.0f}% of that" if abs(total) >= LEAST else ""
    return f"{_cm(gain, unit)}{share}"


def _cm(mm: float, unit: Unit) -> str:
    """A small amount, in cm to half a millimetre's worth of figures: two decimals."""
    return format_length(mm, unit, decimals=2)
