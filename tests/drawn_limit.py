"""What no reader of drawings by an unsteady hand can better: one who knows the true shape of every seam beforehand.

All such a reader must take from the drawing is where the corners lie. Each is drawn once for every seam that meets
there, each time off by itself, and the mean of those is what there is to be had of it.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

from drawn_answers import jolt

from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import CORNERS, SEAMS, Sleeve


def best_read(pattern: Pattern, block: Pattern, noise: float, rng: random.Random) -> Pattern:
    """The pattern with corners off as the mean of what was drawn of each is; what is the block's stays as it is."""
    sleeve = pattern.sleeve
    pieces = {
        side: piece if piece is None or piece == block.armhole(side) else _piece(piece, noise, rng)
        for side, piece in (("back", pattern.armhole_back), ("front", pattern.armhole_front))
    }
    return replace(
        pattern,
        sleeve=sleeve if _same(sleeve, block.sleeve) else _sleeve(sleeve, noise, rng),
        armhole_back=pieces["back"],
        armhole_front=pieces["front"],
    )


def _same(sleeve: Sleeve, other: Sleeve) -> bool:
    """Whether the outlines are the same."""
    return all(
        here.controls.shape == there.controls.shape and abs(here.controls - there.controls).max() < 1e-9
        for here, there in zip(sleeve.curves(), other.curves(), strict=True)
    )


def _sleeve(sleeve: Sleeve, noise: float, rng: random.Random) -> Sleeve:
    starts = [curve.start + _mean_of_two(noise, rng) for curve in sleeve.curves()]
    assert len(starts) == len(CORNERS)
    ends = [*starts[1:], starts[0]]
    seams = {
        name: _between(curve, start, end)
        for name, curve, start, end in zip(SEAMS, sleeve.curves(), starts, ends, strict=True)
    }
    return sleeve.with_seams(seams, sleeve.marks)


def _piece(piece: Armhole, noise: float, rng: random.Random) -> Armhole:
    """An armhole whose underarm point is drawn twice, by the side seam too, and whose shoulder tip nobody moved."""
    side = piece.side_seam
    under = piece.underarm_point + (_mean_of_two(noise, rng) if side is not None else jolt(noise, rng))
    seam = _between(piece.seam, under, piece.shoulder_tip)
    return replace(piece, seam=seam, side_seam=None if side is None else _between(side, under, side.end))


def _mean_of_two(noise: float, rng: random.Random) -> complex:
    return (jolt(noise, rng) + jolt(noise, rng)) / 2


def _between(curve: Curve, start: complex, end: complex) -> Curve:
    """The same curve, turned and drawn a hair larger or smaller to begin and end where it is said to."""
    turn = (end - start) / (curve.end - curve.start)
    if not math.isfinite(abs(turn)):
        return curve
    rows = (curve.controls - curve.start) * turn + start
    rows[-1, 3] = end
    return Curve(rows)
