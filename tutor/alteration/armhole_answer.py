"""What a bodice armhole does to take a wider sleeve: its side seam moves out, its underarm point goes down.

The armhole below the across-front or across-back point is stretched about that point, in width and in depth, so that
it ends at the new underarm point; its tangents at both ends are kept.
"""

from __future__ import annotations

import cmath
from dataclasses import replace

import numpy as np

from tutor.alteration.plan import Answer
from tutor.alteration.refusal import CROSSES_ITSELF, Refusal, length
from tutor.geometry.carry import carry_end, carry_start
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.sleeve import Mark

LEAST_STRETCHED = 20.0
"""mm; a lower armhole narrower or shallower than this has no shape to stretch, and is carried instead."""


def answer_armhole(armhole: Armhole, answer: Answer) -> Armhole:
    """The armhole with its side seam moved out by ``widen`` and its underarm point lowered by ``lower`` mm.

    The new underarm point lies on the moved side seam. Negative amounts take in and raise. Notches below the across
    point go with the seam. Refuses amounts that would carry the underarm point past the across point or off the side
    seam.
    """
    if answer.widen == 0 and answer.lower == 0:
        return armhole
    _check_room(armhole, answer)
    side_seam, underarm = _side_seam(armhole, answer)
    first = armhole.seam.part(0, armhole.across)
    rest = armhole.seam.part(armhole.across, len(armhole.seam)) if armhole.across < len(armhole.seam) else None
    redrawn = _redrawn(first, underarm)
    seam = Curve.join([redrawn, rest] if rest is not None else [redrawn])
    marks = tuple(Mark(mark.name, mark.seam, _place(armhole, mark.u)) for mark in armhole.marks)
    return replace(armhole, seam=seam, across=float(len(first)), side_seam=side_seam, marks=marks)


def _redrawn(low: Curve, underarm: complex) -> Curve:
    """The lower armhole, underarm point to across point, ending at a new underarm point."""
    old, new = low.start - low.end, underarm - low.end
    if min(abs(old.real), abs(old.imag)) < LEAST_STRETCHED:
        return carry_start(low, underarm - low.start)
    arms = low.controls - low.end
    stretched = Curve(low.end + arms.real * (new.real / old.real) + 1j * arms.imag * (new.imag / old.imag))
    # A tangent that is neither level nor upright turns in the stretch, and is turned back.
    at_start = cmath.phase(low.tangent(0) / stretched.tangent(0))
    size = float(len(low))
    at_end = cmath.phase(low.tangent(size, arriving=True) / stretched.tangent(size, arriving=True))
    return carry_end(carry_start(stretched, underarm - stretched.start, at_start), low.end - stretched.end, at_end)


def _place(armhole: Armhole, u: float) -> float:
    """A place of the armhole on the chain with a joint at the across point."""
    across, length = armhole.across, len(armhole.seam)
    if u <= across:
        return armhole.seam.within_part(u, 0, across)
    return len(armhole.seam.part(0, across)) + armhole.seam.within_part(u, across, length)


def _check_room(armhole: Armhole, answer: Answer) -> None:
    depth = armhole.across_point.imag - armhole.underarm_point.imag
    width = abs(armhole.underarm_point.real - armhole.across_point.real)
    low = armhole.side_seam.start.imag - armhole.side_seam.end.imag if armhole.side_seam is not None else np.inf
    for given, most, words in (
        (-answer.lower, depth, "raised"),
        (-answer.widen, width, "taken in"),
        (answer.lower, low, "lowered"),
        (answer.widen, 2 * (width + depth), "widened"),
    ):
        if given > 0.9 * most:
            what = (
                f"the {armhole.side} armhole can't be {words} by {length(given)};"
                f" {length(0.9 * most)} is the most this piece has room for"
            )
            raise Refusal(CROSSES_ITSELF, what, piece=f"the {armhole.side} bodice", place=armhole.underarm_point)


def _side_seam(armhole: Armhole, answer: Answer) -> tuple[Curve | None, complex]:
    """The side seam moved out, its top at the new underarm level, and the new underarm point."""
    out = armhole.outward * answer.widen
    level = armhole.underarm_point + out - 1j * answer.lower
    if armhole.side_seam is None:
        return None, level
    moved = Curve(armhole.side_seam.controls + out)
    if answer.lower <= 0:
        down = moved.tangent(0)
        top = moved.start + down * (answer.lower / abs(down.imag)) if down.imag else level
        return (Curve.join([Curve.line(top, moved.start), moved]) if answer.lower < 0 else moved), top
    hits = [u for _, u in moved.line_crossings(level, level + 1)]
    u = min(hits) if hits else 0.0
    if u <= 0:
        return moved, moved.start
    return moved.part(u, len(moved)), moved.point(u)
