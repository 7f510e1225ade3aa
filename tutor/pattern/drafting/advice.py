"""What would be possible, when a cap can't be drafted as asked.

Every suggestion is a whole number of millimetres, or of sixteenths of an inch where inches are asked in, the nearest to
what was asked, and has been tried.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tutor.geometry.cubic import Floats
from tutor.pattern.drafting.cap_size import extremes, given_size
from tutor.pattern.drafting.half_cap import seam_lengths
from tutor.pattern.drafting.spec import LIMITS, SIDES, DraftSpec, listed
from tutor.pattern.drafting.telling import DIVISION, told

NAMES = {
    "cap_height": "a cap height of",
    "bicep_girth": "a bicep girth of",
    "wearing_ease": "a wearing ease of",
    "slant_front": "a front slant of",
    "slant_back": "a back slant of",
    "cap_ease": "a cap ease of",
    "cap_ease_front": "a front cap ease of",
    "cap_ease_back": "a back cap ease of",
}
"""The measures that can give way, and how a suggestion names them."""
NOTHING = "no one measure alone can put it right"
CHUNKS = (40, 400)
"""After how many candidates, nearest first, it is seen whether one fits."""

Bools = NDArray[np.bool_]


def advice(spec: DraftSpec, works: Callable[[DraftSpec], bool]) -> str:
    """Changes of one measure that would do, in words; ``works`` tries a changed spec."""
    fields = [field for field in NAMES if field == "cap_ease" or getattr(spec, field) is not None]
    found = [(field, value) for field in fields if (value := _nearest(spec, field, works)) is not None]
    if not found:
        nearer = _nearer_armholes(spec, works)
        return f"{NOTHING}, but {nearer} would do" if nearer else NOTHING
    return f"{listed([f'{NAMES[field]} {told(value, spec.unit)}' for field, value in found], 'or')} would do"


def _nearer_armholes(spec: DraftSpec, works: Callable[[DraftSpec], bool]) -> str:
    """The two armholes that do, as long together and as unlike as can be in whole divisions; "" if none do."""
    whole, apart = spec.armhole_front + spec.armhole_back, spec.armhole_back - spec.armhole_front
    sign, division = 1.0 if apart >= 0 else -1.0, DIVISION[spec.unit]

    def rounded(mm: float) -> float:
        return round(mm / division) * division

    def with_difference(difference: float) -> DraftSpec:
        front = rounded((whole - sign * difference) / 2)
        return replace(spec, armhole_front=front, armhole_back=rounded(whole - front))

    specs = [with_difference(d * division) for d in range(int(abs(apart) / division), -1, -2)]
    found = _first(specs, works)
    if found is None:
        return ""
    front, back = (told(specs[found].armhole(side), spec.unit) for side in SIDES)
    return f"armholes of {front} in front and {back} at the back"


def changed(spec: DraftSpec, field: str, value: float) -> DraftSpec:
    """The spec with one measure changed; a whole cap ease takes the place of the halves' own."""
    halves = {"cap_ease_front": None, "cap_ease_back": None} if field == "cap_ease" else {}
    changes: dict[str, Any] = {field: value, **halves}
    return replace(spec, **changes)


def _nearest(spec: DraftSpec, field: str, works: Callable[[DraftSpec], bool]) -> float | None:
    """The whole divisions nearest to what was asked that bring the cap seam within reach, if they work."""
    asked = spec.whole_ease if field == "cap_ease" else getattr(spec, field)
    low, high = LIMITS[field]
    if spec.arm_girth is not None and field == "wearing_ease":
        low, high = (limit - spec.arm_girth for limit in LIMITS["bicep_girth"])
    division = DIVISION[spec.unit]
    grid = np.arange(np.ceil(low / division), np.floor(high / division) + 1) * division
    grid = grid[np.argsort(np.abs(grid - asked), kind="stable")]
    for chunk in np.split(grid, CHUNKS):
        specs = [changed(spec, field, float(value)) for value in chunk]
        fitting = np.flatnonzero(_fit(specs)) if specs else np.arange(0)
        found = _first([specs[k] for k in fitting], works)
        if found is not None:
            return float(chunk[fitting[found]])
    return None


def _first(specs: Sequence[DraftSpec], works: Callable[[DraftSpec], bool]) -> int | None:
    """The number of the first spec that works, taking it that from there to the first one met they all do."""
    failing, k = -1, 0
    while k < len(specs) and not works(specs[k]):
        failing, k = k, 2 * k + 1
    if k >= len(specs):
        return None
    while k - failing > 1:
        middle = (failing + k) // 2
        failing, k = (failing, middle) if works(specs[middle]) else (middle, k)
    return k


def _fit(specs: Sequence[DraftSpec]) -> Bools:
    """For each spec, whether the cap seam it asks for lies between the shortest and the longest.

    All must ask for the cap's size in the same way.
    """
    ends = [extremes(spec) for spec in specs]
    shape = (len(specs), 2)
    height = np.array([size.height for pair in ends for size, _ in pair])
    fullness = np.array([full for pair in ends for _, full in pair])
    over: Floats = np.zeros(shape)
    fits: Bools = np.ones(len(specs), dtype=np.bool_)
    for side in SIDES:
        width = np.array([size.width(side) for pair in ends for size, _ in pair])
        reach = seam_lengths(side, width, height, fullness).reshape(shape)
        excess = reach - np.array([[spec.seam(side)] for spec in specs])
        over += excess
        fits &= _between(excess)
    return fits if given_size(specs[0]) else _between(over)


def _between(excess: Floats) -> Bools:
    """Which rows of (shortest, longest) lie on both sides of zero."""
    result: Bools = (excess[:, 0] <= 0) & (excess[:, 1] >= 0)
    return result
