"""Little loops at the corners of an outline, where two seams cross just before they meet, as by an unsteady hand."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from tutor.geometry.curve import Curve
from tutor.pattern.joining import closed_gap

FLATNESS = 0.005
"""mm; crossings are sought along broken lines this near, and then on the seams themselves."""


def without_loops(curves: Sequence[Curve], reach: float) -> list[Curve]:
    """The seams of a ring, each loop within ``reach`` mm of a corner cut off where its two seams cross."""
    turned = list(curves)
    for k in range(len(turned)):
        following = (k + 1) % len(turned)
        turned[k], turned[following] = untangled(turned[k], turned[following], reach)
    return turned


def untangled(first: Curve, second: Curve, reach: float) -> tuple[Curve, Curve]:
    """Two seams that meet, each up to where they cross within ``reach`` mm of that: first along the first one."""
    low = first.at_distance(max(first.length() - reach, first.length() / 2))
    high = second.at_distance(min(reach, second.length() / 2))
    line = second.part(0, high).flatten(FLATNESS)
    # The first step ends in the corner itself, where the two meet anyhow.
    end = first.part(low, len(first))
    met = [
        (place, end.point(place))
        for a, b in itertools.pairwise(line.tolist())
        for share, place in end.line_crossings(a, b)
        if 0 <= share <= 1 and abs(end.point(place) - first.end) > FLATNESS
    ]
    if not met:
        return first, second
    point = min(met)[1]
    here, there = first.nearest(point)[0], second.nearest(point)[0]
    return closed_gap(first.part(0, here), second.part(there, len(second)), lambda *_: point)
