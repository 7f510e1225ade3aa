"""By what a bodice piece is turned on the page that it was drawn on, told by the part of it that no answer moves.

That part is short, so an unsteady hand leaves its angle open by some tenths of a degree. The side seam, which is moved
but never turned, tells as much again: where the two agree, they are taken together. Where the piece may lie as it was
handed out, or as the sleeve beside it does, as well as not, it is taken to.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np

from tutor.classwork.outline_points import laid_on, spread_along
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole

UPPER = (0.4, 0.03, 0.8)
"""The share of an armhole's length from which on, counted from the underarm, it keeps its shape: from its across point
and a little more, but from no lower than the first and no higher than the last of these."""
FINE = 1e-4
"""mm by which broken lines may be off the seams that they stand for."""
QUARTERS = (1 + 0j, 1j, -1 + 0j, -1j)
"""A page may be turned so before it is drawn on, or a drawing when it is saved."""
UPRIGHT = math.radians(20)
"""A piece that is turned by less than this is looked at as it lies."""
UNSTEADY = {False: 0.2, True: 0.005}
"""mm by which points are off, in the root of the mean square, at the least: drawn by hand within 0.3 mm, or not."""
POINTS = 40
OWN = 2
"""So many places of the upper part are off each by itself: its ends, which the line between them goes along with."""
SURE = 3.0
"""Standard errors between what a piece may still be turned by, and what it is not, where its upper part alone tells."""
LIKELY = 1.0
"""Standard errors within which an expected turn is taken where the side seam tells as well. What both tell is off by so
little that to take it is never far wrong, but to take another may be, by all that is open between the two."""


@dataclass(frozen=True, slots=True)
class Turns:
    """What was turned when a drawing was read, as complex numbers of modulus 1, from the page to where it lies now."""

    sleeve: complex = 1 + 0j
    pieces: Mapping[str, complex] = field(default_factory=dict)
    """Of each bodice piece, by side."""

    def left(self, side: str) -> tuple[complex, ...]:
        """By what a piece is still turned back that lies on the page any quarter round, or as the sleeve does."""
        done = self.pieces.get(side, 1 + 0j)
        return tuple(turn / done for turn in (*QUARTERS, self.sleeve))


def upright(seam: Curve, like: Curve) -> complex:
    """By what an armhole seam, drawn either way, is turned to lie as one that is like it; 1 where it nearly does."""
    there = spread_along(like.flatten(FINE))
    best: tuple[float, complex] | None = None
    for way in (seam, seam.reversed()):
        here = spread_along(way.flatten(FINE))
        move = laid_on(here, there)
        off = float((np.abs(move(here) - there) ** 2).mean())
        if best is None or off < best[0]:
            best = off, move.turn
    assert best is not None
    return best[1] if abs(cmath.phase(best[1])) > UPRIGHT else 1 + 0j


def turned_back(drawn: Armhole, block: Armhole, known: Sequence[complex], *, exact: bool) -> complex:
    """By what a drawn piece is to be turned, so that it lies as the block's does.

    ``known`` are turns that it may be expected to need, the likeliest first: one of them is taken where what the piece
    needs differs from it by no more than chance.
    """
    share = upper_share(drawn)
    kept = (1 - share) * drawn.seam.length()
    upper = _Evidence.of([(_from_end(drawn.seam, kept), _from_end(block.seam, kept))], exact)
    found, sure = upper, SURE
    side = _side_points(drawn, block)
    if side is not None and _between(_Evidence.of([side], exact).turn, upper.turn) <= SURE * upper.error:
        found, sure = _Evidence.of([*upper.parts, side], exact), LIKELY
    open_to = [turn for turn in known if _between(turn, found.turn) <= sure * found.error]
    return min(open_to, key=lambda turn: _between(turn, found.turn)) if open_to else found.turn


Part: TypeAlias = tuple[Complexes, Complexes]
"""Points of a part of a piece as it was drawn, and those of the block's that they belong to."""


@dataclass(frozen=True, slots=True)
class _Evidence:
    """What parts that keep their shape, each shifted by itself, tell of a turn, and its standard error in radians."""

    parts: Sequence[Part]
    turn: complex
    error: float

    @classmethod
    def of(cls, parts: Sequence[Part], exact: bool) -> _Evidence:
        turn = sum(complex(np.vdot(here - here.mean(), there - there.mean())) for here, there in parts)
        reach = math.sqrt(sum(_mean_square(here - here.mean()) for here, _ in parts))
        off = max(math.sqrt(_mean_square(laid_on(here, there)(here) - there)) for here, there in parts)
        turn = turn / abs(turn) if abs(turn) > 0 else 1 + 0j
        return cls(parts, turn, max(off, UNSTEADY[exact]) / (reach * math.sqrt(OWN)))


def _mean_square(points: Complexes) -> float:
    return float((np.abs(points) ** 2).mean())


def upper_share(piece: Armhole) -> float:
    """From which share of its length on, counted from the underarm, an armhole keeps its shape."""
    lowest, more, highest = UPPER
    return min(max(piece.seam.distance_at(piece.across) / piece.seam.length() + more, lowest), highest)


def _side_points(drawn: Armhole, block: Armhole) -> Part | None:
    """The side seam, as far as both reach up from their lower ends; None without one."""
    if drawn.side_seam is None or block.side_seam is None:
        return None
    both = min(drawn.side_seam.length(), block.side_seam.length())
    return _from_end(drawn.side_seam, both), _from_end(block.side_seam, both)


def _from_end(curve: Curve, size: float) -> Complexes:
    """Points of the last so many mm of a curve, or of all of it where it is shorter."""
    line = curve.flatten(FINE)
    first = max(1 - size / float(np.abs(np.diff(line)).sum()), 0.0)
    return spread_along(line, np.linspace(first, 1.0, POINTS))


def _between(turn: complex, other: complex) -> float:
    """The angle between two turns in radians."""
    return abs(cmath.phase(turn / other))
