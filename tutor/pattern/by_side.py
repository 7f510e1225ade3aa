"""Measures of cap and armhole made up of their sides, whose lengths are measured in one way or another."""

from __future__ import annotations

from collections.abc import Callable

from tutor.pattern.pattern import Pattern

SIDES = ("back", "front")

Reading = Callable[[Pattern], "float | None"]
"""A way to take a measure off a pattern, in the measure's own unit; None where the pattern doesn't have it."""
CapLength = Callable[[Pattern, str], float]
"""The length of one side's cap seam, or of one side's armhole, as somebody measures it."""


def by_side(of: str, cap: CapLength, armhole: CapLength) -> Reading | None:
    """The reading of a seam, an armhole or a cap ease out of lengths side by side; None for another measure."""
    for name, sides in ((of, SIDES), *((of.removesuffix(f"-{side}"), (side,)) for side in SIDES if of.endswith(side))):
        if name == "cap-seam":
            return lambda pattern: sum(cap(pattern, side) for side in sides)
        if name == "armhole":
            return lambda pattern: _armholes(pattern, sides, armhole)
        if name == "cap-ease":
            return lambda pattern: _less(sum(cap(pattern, side) for side in sides), _armholes(pattern, sides, armhole))
    return None


def _armholes(pattern: Pattern, sides: tuple[str, ...], armhole: CapLength) -> float | None:
    if any(pattern.armhole(side) is None for side in sides):
        return None
    return sum(armhole(pattern, side) for side in sides)


def _less(first: float, second: float | None) -> float | None:
    return None if second is None else first - second
