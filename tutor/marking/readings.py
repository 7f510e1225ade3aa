"""Measures taken off a pattern along its seams, or in a way that misleads: straight where the seam is curved."""

from __future__ import annotations

from tutor.geometry.curve import Curve
from tutor.pattern.by_side import SIDES, Reading, by_side
from tutor.pattern.pattern import Pattern


def cap_curve(pattern: Pattern, side: str) -> Curve:
    """One side's cap seam, walked as the sleeve has it."""
    return pattern.sleeve.cap_back if side == "back" else pattern.sleeve.cap_front


def cap_chord(pattern: Pattern, side: str) -> float:
    """From crown straight to the underarm point, mm."""
    curve = cap_curve(pattern, side)
    return abs(curve.end - curve.start)


def armhole_chord(pattern: Pattern, side: str) -> float:
    """From underarm point straight to the shoulder tip, mm."""
    armhole = pattern.armhole(side)
    return 0.0 if armhole is None else abs(armhole.shoulder_tip - armhole.underarm_point)


def straight(of: str) -> Reading | None:
    """The measure with every curved seam in it measured straight from end to end; None where no seam is curved."""
    return by_side(of, cap_chord, armhole_chord)


def cap_length(pattern: Pattern, side: str) -> float:
    """Along one side's cap seam, mm."""
    return cap_curve(pattern, side).length()


def armhole_length(pattern: Pattern, side: str) -> float:
    """Along one side's armhole, mm."""
    armhole = pattern.armhole(side)
    return 0.0 if armhole is None else armhole.seam.length()


def at_seam(of: str) -> Reading | None:
    """A seam, an armhole or a cap ease measured along its seam lines; None for another measure."""
    return by_side(of, cap_length, armhole_length)


__all__ = ["SIDES", "armhole_length", "at_seam", "cap_chord", "cap_curve", "cap_length", "straight"]
