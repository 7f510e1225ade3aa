"""Whether a cap that was drawn by an unsteady hand has a kink: a corner where pieces parted, and truing was left out.

By itself such a line shows no turn of a few degrees. But truing redraws a seam a long way on both sides of a corner,
and that shows: so the outline is held against the alteration trued and untrued. Where it is neither, a turn must be
sharper than the hand's, and sharper than the seam's own shape makes at one place.
"""

from __future__ import annotations

import math

import numpy as np

from tutor.classwork.left_undone import untrued
from tutor.classwork.outline_points import laid_on
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.geometry.sharp_turns import STEP, evenly, sharper_than_beside
from tutor.marking.case import PlanCase
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve

LIKE = 0.5
"""mm that a drawing may be off an outline to be that outline, drawn by hand."""
NEARER = 0.7
"""The untrued outline must be nearer than the trued one by this share."""
FINE = 0.01
"""mm by which broken lines may be off the seams that they stand for."""
PER_HALF = 80
SHARPER = 5.0
"""Degrees that a cap must turn at one place more than the trued one does."""


def drawn_kink(theirs: Pattern, case: PlanCase) -> float:
    """The sharpest turn of a drawn cap in degrees, as far as such a drawing can tell; 0 where it tells of none."""
    altered = None if case.plan is None else case.altered(case.plan)
    if altered is None:
        return 0.0
    trued = case.kept("trued cap", lambda: _cap(altered.after.sleeve))
    left = case.kept("untrued pattern", lambda: untrued(altered))
    cap = _cap(theirs.sleeve)
    from_trued = _apart(cap, trued)
    if left is not None:
        from_left = _apart(cap, case.kept("untrued cap", lambda: _cap(left.sleeve)))
        if from_left <= LIKE and from_left <= NEARER * from_trued:
            return measure(left)["kink"]
    if from_trued <= LIKE:
        return 0.0
    seen = seen_turn(theirs.sleeve)
    return seen if seen - seen_turn(altered.after.sleeve) > SHARPER else 0.0


def _cap(sleeve: Sleeve) -> Complexes:
    """Points of the cap, equally many on both halves and equally far apart on each."""
    halves = [_evenly(curve, curve.length() / PER_HALF) for curve in (sleeve.cap_back, sleeve.cap_front)]
    return np.concatenate([half[:PER_HALF] for half in halves])


def _apart(cap: Complexes, other: Complexes) -> float:
    """How far two caps are apart in mm, one laid on the other: the root of the mean square over their points."""
    return math.sqrt(float((np.abs(laid_on(cap, other)(cap) - other) ** 2).mean()))


def seen_turn(sleeve: Sleeve) -> float:
    """By how many degrees a cap turns at one place more than beside it, at the most."""
    points = _evenly(Curve.join([sleeve.cap_back, sleeve.cap_front]))
    return math.degrees(float(sharper_than_beside(points).max(initial=0.0)))


def _evenly(curve: Curve, step: float = STEP) -> Complexes:
    """Points so many mm apart along a curve."""
    return evenly(curve.flatten(FINE), step)
