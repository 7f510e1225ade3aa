"""How long or short the cap seams can be made at a given size of the cap."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from tutor.pattern.drafting.cap_size import CapSize, shared_size
from tutor.pattern.drafting.half_cap import LEAST_FULLNESS, MOST_FULLNESS, Side, seam_lengths, seam_range
from tutor.pattern.drafting.no_cap import NoCap, seam_in_words, size_in_words
from tutor.pattern.drafting.root import rising_root
from tutor.pattern.drafting.spec import SIDES, DraftSpec, listed
from tutor.pattern.drafting.telling import told

ROUGHLY = 1e-6

Ranges = dict[Side, tuple[float, float]]


def check_seams(spec: DraftSpec, size: CapSize) -> None:
    """Raises NoCap when a half of this size can't have the seam that armhole and ease ask for."""
    ranges = {side: seam_range(side, size.width(side), size.height) for side in SIDES}
    out = [side for side in SIDES if not ranges[side][0] <= spec.seam(side) <= ranges[side][1]]
    if out:
        raise NoCap(spec, lambda: _trouble(spec, size, ranges, out))


def _trouble(spec: DraftSpec, size: CapSize, ranges: Ranges, out: list[Side]) -> str:
    """What the seams that are out of range can be, with what stays as it is.

    The crown moves with the seams asked for, unless slants hold it. It stays where it is when both seams
    change by the same factor.
    """
    with_size = size_in_words(spec, size.height, size.girth)
    if spec.slant_front is None and len(out) == 1:
        ranges = {out[0]: lone_range(spec, size, out[0])}
    elif spec.slant_front is None:
        least, most = _factors(ranges, spec.seams)
        if least <= most:
            ranges = {side: (least * spec.seam(side), most * spec.seam(side)) for side in SIDES}
        else:
            widths = (f"a {side} half width of {told(size.width(side), spec.unit)}" for side in SIDES)
            with_size = listed([*widths, f"a cap height of {told(size.height, spec.unit)}"], "and")
    seams = (seam_in_words(f"the {side} cap seam", spec.seam(side), *ranges[side], spec.unit) for side in out)
    return f"with {with_size} {', and '.join(seams)}"


def _factors(ranges: Ranges, seams: Mapping[Side, float]) -> tuple[float, float]:
    """The least and the greatest factor that brings both seams into their ranges; crosswise when there is none."""
    return (
        max(ranges[side][0] / seams[side] for side in SIDES),
        min(ranges[side][1] / seams[side] for side in SIDES),
    )


def lone_range(spec: DraftSpec, size: CapSize, side: Side) -> tuple[float, float]:
    """The shortest and longest seam in mm that one half can ask for; girth, cap height and the other seam are kept."""

    def limit(fullness: float) -> float:
        def over(seam: float) -> float:
            width = shared_size({**spec.seams, side: seam}, size.girth, size.height).width(side)
            args = (np.array([value]) for value in (width, size.height, fullness))
            return seam - float(seam_lengths(side, *args)[0])

        return rising_root(over, 1.0, 2 * (size.girth + size.height), ROUGHLY)

    return limit(LEAST_FULLNESS), limit(MOST_FULLNESS)
