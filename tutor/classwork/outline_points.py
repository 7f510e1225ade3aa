"""An outline as points that can be held against another's: equally far along each seam, and the notches.

Two outlines are as far apart as these points are in the mean, once one sleeve is laid on the other as well as it goes.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import flatten_all
from tutor.geometry.move import Move
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS

PER_SEAM = 25
FLATNESS = 0.02
NOTCH = 6
"""A notch counts as many times as a point of a seam."""
SIDES = ("back", "front")
SHARES = np.linspace(0.0, 1.0, PER_SEAM)


@dataclass(frozen=True, slots=True, eq=False)
class OutlinePoints:
    """Points of the sleeve's seams in their order, its notches, points of each armhole, and their notches, in mm."""

    sleeve: Complexes
    notches: Mapping[str, complex]
    armholes: Mapping[str, Complexes]
    partners: Mapping[str, complex]


def outline_points(pattern: Pattern) -> OutlinePoints:
    """The points of a pattern."""
    armholes = {side: piece for side in SIDES if (piece := pattern.armhole(side)) is not None}
    curves = [pattern.sleeve.seam(name) for name in SEAMS]
    lines = flatten_all([*curves, *(piece.seam for piece in armholes.values())], FLATNESS)
    spread = [spread_along(line) for line in lines]
    return OutlinePoints(
        np.concatenate(spread[: len(SEAMS)]),
        {m.name: pattern.sleeve.mark_point(m) for m in pattern.sleeve.marks if m.seam.startswith("cap-")},
        dict(zip(armholes, spread[len(SEAMS) :], strict=True)),
        {mark.name: piece.seam.point(mark.u) for piece in armholes.values() for mark in piece.marks},
    )


def spread_along(line: Complexes, shares: Floats = SHARES) -> Complexes:
    """Points of a broken line at shares of its length; equally far apart where none are given."""
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(line)))])
    places = shares * along[-1]
    result: Complexes = np.interp(places, along, line.real) + 1j * np.interp(places, along, line.imag)
    return result


def nearest_on(line: Complexes, points: Complexes) -> Complexes:
    """The point of a broken line that is nearest to each of some points."""
    starts, steps = line[:-1], np.diff(line)
    away = points[:, None] - starts
    sizes = np.maximum(np.abs(steps) ** 2, 1e-300)
    feet = starts + np.clip((away * steps.conj()).real / sizes, 0.0, 1.0) * steps
    best = np.abs(feet - points[:, None]).argmin(axis=1)
    found: Complexes = feet[np.arange(len(points)), best]
    return found


def laid_on(points: Complexes, other: Complexes) -> Move:
    """The rigid move that lays points on others, one by one, with the least sum of squares (Kabsch, 1976)."""
    here, there = points.mean(), other.mean()
    turn = complex(np.vdot(points - here, other - there))
    turn = turn / abs(turn) if abs(turn) > 1e-12 else 1 + 0j
    return Move(turn, complex(there - turn * here))


def apart(first: OutlinePoints, second: OutlinePoints) -> float:
    """How far two outlines are apart, in mm: the root of the mean square over all points that both have."""
    move = laid_on(first.sleeve, second.sleeve)
    squares = [np.abs(move(first.sleeve) - second.sleeve) ** 2]
    for name, point in first.notches.items():
        if name in second.notches:
            squares.append(np.full(NOTCH, abs(move(point) - second.notches[name]) ** 2))
    for name, point in first.partners.items():
        if name in second.partners:
            squares.append(np.full(NOTCH, abs(point - second.partners[name]) ** 2))
    for side, points in first.armholes.items():
        if side in second.armholes:
            squares.append(np.abs(points - second.armholes[side]) ** 2)
    return math.sqrt(float(np.concatenate(squares).mean()))
