"""What would be possible, when a cap can't be drafted as asked.

Every suggestion is a whole number of millimetres, the nearest to what was asked, and has been tried.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tutor.pattern.drafting.cap_size import extremes, given_size, listed
from tutor.pattern.drafting.half_cap import seam_lengths, seam_range
from tutor.pattern.drafting.spec import LIMITS, SIDES, DraftSpec, cm

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
NOTHING = "no one of these measures alone can put it right"

CHUNKS = (40, 400)
"""After how many candidates, nearest first, it is seen whether one fits."""

Bools = NDArray[np.bool_]


def advice(spec: DraftSpec, works: Callable[[DraftSpec], bool]) -> str:
    """Changes of one measure that would do, in words; ``works`` tries a changed spec."""
    fields = [field for field in NAMES if field == "cap_ease" or getattr(spec, field) is not None]
    found = [(field, value) for field in fields if (value := _nearest(spec, field, works)) is not None]
    return f"{listed([f'{NAMES[field]} {cm(value)}' for field, value in found], 'or')} would do" if found else NOTHING


def changed(spec: DraftSpec, field: str, value: float) -> DraftSpec:
    """The spec with one measure changed; a whole cap ease takes the place of the halves' own."""
    halves = {"cap_ease_front": None, "cap_ease_back": None} if field == "cap_ease" else {}
    changes: dict[str, Any] = {field: value, **halves}
    return replace(spec, **changes)


def _nearest(spec: DraftSpec, field: str, works: Callable[[DraftSpec], bool]) -> float | None:
    """The whole millimetres nearest to what was asked that bring the cap seam within reach, if they work."""
    asked = spec.whole_ease if field == "cap_ease" else getattr(spec, field)
    low, high = LIMITS[field]
    grid = np.arange(np.ceil(low), np.floor(high) + 1)
    grid = grid[np.argsort(np.abs(grid - asked), kind="stable")]
    for chunk in np.split(grid, CHUNKS):
        specs = [changed(spec, field, float(value)) for value in chunk]
        if specs:
            fitting = np.flatnonzero(_fit(specs))
            if len(fitting):
                return float(chunk[fitting[0]]) if works(specs[fitting[0]]) else None
    return None


def _fit(specs: Sequence[DraftSpec]) -> Bools:
    """For each spec, whether the cap seam it asks for lies between the shortest and the longest; all of one kind."""
    ends = [extremes(spec) for spec in specs]
    shape = (len(specs), 2)
    height = np.array([size.height for pair in ends for size, _ in pair])
    fullness = np.array([full for pair in ends for _, full in pair])
    reach, wanted = [], []
    for side in SIDES:
        width = np.array([size.width(side) for pair in ends for size, _ in pair])
        reach.append(seam_lengths(side, width, height, fullness).reshape(shape))
        wanted.append(np.array([spec.seam(side) for spec in specs]))
    if given_size(specs[0]) is None:
        reach, wanted = [reach[0] + reach[1]], [wanted[0] + wanted[1]]
    within = [
        (low_high[:, 0] <= asks) & (asks <= low_high[:, 1])
        for low_high, asks in zip(reach, wanted, strict=True)
    ]
    result: Bools = np.logical_and.reduce(within)
    return result
