"""Patterns as lines of a picture: the sleeve before, as handed in and as wanted, and the armholes where they change."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from tutor.classwork.result import Drawn
from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.pattern import Pattern

BEFORE, THEIRS, WANTED = "before", "theirs", "wanted"
STRAIGHT = 0.05
"""mm; cubics as near to their chord as this are written as lines."""
SIDES = ("back", "front")


def pictures(before: Pattern, theirs: Pattern | None, wanted: Pattern | None) -> tuple[tuple[Drawn, ...], ...]:
    """One picture of the sleeves over each other, and one for each armhole that anybody has changed."""
    patterns = [(look, each) for look, each in ((BEFORE, before), (WANTED, wanted), (THEIRS, theirs)) if each]
    sleeves = tuple(Drawn(look, _closed(each)) for look, each in patterns)
    armholes = [tuple(Drawn(look, _armhole(each, side)) for look, each in patterns) for side in SIDES]
    return (sleeves, *(lines for lines in armholes if len({line.path for line in lines}) > 1))


def _closed(pattern: Pattern) -> str:
    return _path(pattern.sleeve.rows()) + "Z"


def _armhole(pattern: Pattern, side: str) -> str:
    """An armhole and its side seam, from the shoulder tip, which stays where it is."""
    armhole = pattern.armhole(side)
    if armhole is None:
        return ""
    curves = [armhole.seam.reversed(), *filter(None, [armhole.side_seam])]
    return _path(_rows(curves) - armhole.shoulder_tip)


def _rows(curves: Iterable[Curve]) -> Complexes:
    return np.concatenate([curve.controls for curve in curves])


def _path(rows: Complexes) -> str:
    """Path data of a chain of cubics, tenths of millimetres, y down."""
    steps = [f"M{_xy(rows[0, 0])}"]
    for row in rows:
        straight = np.abs(row - cubic.line(complex(row[0]), complex(row[3]))).max() <= STRAIGHT
        points = row[3:] if straight else row[1:]
        steps.append(("L" if straight else "C") + " ".join(map(_xy, points)))
    return "".join(steps)


def _xy(point: complex) -> str:
    return f"{round(point.real, 1) + 0.0:g},{0.0 - round(point.imag, 1):g}"
