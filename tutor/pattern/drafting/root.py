"""Where a rising function crosses a wanted value."""

from __future__ import annotations

from collections.abc import Callable

STEPS = 200


def rising_root(function: Callable[[float], float], low: float, high: float, tolerance: float) -> float:
    """The x between low and high where a rising function is zero, its value within ``tolerance`` of it.

    False position with the Illinois rule (M. Dowell and P. Jarratt, BIT 11, 1971, from memory): an end that
    stays twice counts half. Where the function is too steep for the tolerance, the double next to the root is
    found. Raises ValueError when the function has the same sign at both ends, and neither is zero within the
    tolerance.
    """
    at_low, at_high = function(low), function(high)
    for end, value in ((low, at_low), (high, at_high)):
        if abs(value) <= tolerance:
            return end
    if not at_low < 0 < at_high:
        raise ValueError(f"no root between {low:.6g} and {high:.6g}")
    stayed = 0
    for _ in range(STEPS):
        x = (low * at_high - high * at_low) / (at_high - at_low)
        value = function(x)
        if abs(value) <= tolerance or not low < x < high:
            return x
        if value < 0:
            low, at_low = x, value
            at_high, stayed = (at_high / 2 if stayed < 0 else at_high), -1
        else:
            high, at_high = x, value
            at_low, stayed = (at_low / 2 if stayed > 0 else at_low), 1
    raise ValueError(f"no root found between {low:.6g} and {high:.6g}")
