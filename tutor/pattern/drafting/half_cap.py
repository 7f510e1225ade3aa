"""One half of a cap seam, from underarm point to crown.

It is a single cubic, level at both ends, so that the cap runs over the crown without a corner, and the two
halves run into each other without one when the underarm seam is sewn. Its handles are shares of the half's
width. ``fullness`` multiplies both: at 1 the curve lies as far off the slant (the straight line from underarm
point to crown) as on a usual set-in sleeve, below 1 nearer, above 1 farther, the crown rounder and the
underarm more hollow.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from tutor.geometry.arclength import lengths
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import Curve
from tutor.pattern.drafting.root import rising_root

Side = Literal["front", "back"]

HOLLOW = {"front": 0.48, "back": 0.40}
ROUND = {"front": 0.54, "back": 0.58}
"""The handles at the underarm point and at the crown, at fullness 1.

On a half 168 mm wide and 145 mm high the front lies 14 mm below its slant and 18 mm above it, the back 11 and
21 (common practice: the front is hollowed more).
"""
LEAST_FULLNESS, MOST_FULLNESS = 0.5, 1.5
"""Below, the crown comes to a point; above, the cap is a box with upright sides."""
SOLVED = 1e-10


def half_caps(side: Side, widths: Floats, heights: Floats, fullness: Floats) -> Complexes:
    """Cubics from underarm point up to crown, controls (n, 4), the crown on x = 0 and the rest to its left.

    Widths and heights in mm, shapes broadcasting to (n,). While no handle is longer than the half is wide, x
    and y only rise on the way.
    """
    widths, heights, fullness = np.broadcast_arrays(widths, heights, fullness)
    hollow, crown = HOLLOW[side] * fullness * widths, ROUND[side] * fullness * widths
    level = 1j * heights
    return np.stack([-widths + 0j, hollow - widths + 0j, level - crown, level], axis=-1)


def seam_lengths(side: Side, widths: Floats, heights: Floats, fullness: Floats) -> Floats:
    """Arc lengths in mm of such halves, shape (n,). They rise with each of the three."""
    return lengths(half_caps(side, np.atleast_1d(widths), heights, fullness))


def seam_range(side: Side, width: float, height: float) -> tuple[float, float]:
    """The shortest and longest cap seam in mm that a half of this size can have."""
    fullness = np.array([LEAST_FULLNESS, MOST_FULLNESS])
    shortest, longest = seam_lengths(side, np.array([width]), np.array([height]), fullness)
    return float(shortest), float(longest)


def solved_half(side: Side, width: float, height: float, seam: float) -> Curve:
    """The half whose cap seam is ``seam`` mm long, within 1e-9 mm, from underarm point to crown.

    The back lies left of the crown, the front right of it. Raises ValueError when ``seam`` is outside
    ``seam_range``.
    """
    w, h = np.array([width]), np.array([height])

    def excess(fullness: float) -> float:
        return float(seam_lengths(side, w, h, np.array([fullness]))[0]) - seam

    fullness = rising_root(excess, LEAST_FULLNESS, MOST_FULLNESS, SOLVED)
    curve = Curve(half_caps(side, w, h, np.array([fullness])))
    return curve if side == "back" else curve.mirrored()
