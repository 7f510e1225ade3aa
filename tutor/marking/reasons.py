"""Why a tolerance is what it is, in one short sentence."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.marking.figures import shown
from tutor.marking.marked import Part
from tutor.units import Unit


def tolerance_reason(part: Part, unit: Unit) -> str:
    """What is allowed of a measure, and why: rounding, sewing, or the task's own choice."""
    allowed = shown(part.measure, part.tolerance, unit)
    if part.tolerance > part.aim.tolerance:
        return f"Allowed is {allowed}: half the smallest division that you are asked for, so rounding costs nothing."
    if part.measure == "kink":
        return f"Allowed is {allowed}: less of a turn doesn't show in the sewn seam."
    if part.measure == "underarm-mismatch":
        return f"Allowed is {allowed}: seams that are nearer than that are sewn as equal."
    if part.measure.startswith("notch-"):
        return f"Allowed is {allowed}: notches that are nearer than that are brought together in sewing."
    return f"Allowed is {allowed}: so close is near enough for this task."


def tolerance_reasons(parts: Iterable[Part], unit: Unit) -> tuple[str, ...]:
    """The reasons for several measures, each sentence once."""
    return tuple(dict.fromkeys(tolerance_reason(part, unit) for part in parts))
