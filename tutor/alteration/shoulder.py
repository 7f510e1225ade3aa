"""The shoulder ends of the bodice moved: from one armhole to the other, and up or down."""

from __future__ import annotations

import math
from dataclasses import replace

from tutor.alteration.plan import Shoulder
from tutor.alteration.refusal import NO_ROOM, Refusal, length
from tutor.geometry.carry import carry_end
from tutor.geometry.curve import Curve
from tutor.geometry.joints import jointed
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole

ROOM = 0.9
"""The share of the seam above the uppermost notch, or of its height, that can be given away."""

STILL = 1e-9
"""mm; a strip narrower than this is none."""

Armholes = tuple[Armhole | None, Armhole | None]


def move_shoulder(back: Armhole | None, front: Armhole | None, shoulder: Shoulder) -> Armholes:
    """Both armholes, back and front, with their shoulder ends moved; one that isn't known is left out.

    ``forward`` mm of the front armhole's top are cut off and joined on to the back's, the one seam running on in the
    other: so the one is that much shorter and the other that much longer. Below zero it goes the other way. ``up``
    redraws each armhole above its across point and its notches so that its end lies that much higher. Refuses more
    than the piece has room for.
    """
    if abs(shoulder.forward) > STILL and (back is not None or front is not None):
        giver, taker = (front, back) if shoulder.forward > 0 else (back, front)
        shorter, longer = _handed_over(giver, taker, abs(shoulder.forward))
        back, front = (longer, shorter) if shoulder.forward > 0 else (shorter, longer)
    if shoulder.up:
        back, front = back and _raised(back, shoulder.up), front and _raised(front, shoulder.up)
    return back, front


def _handed_over(giver: Armhole | None, taker: Armhole | None, amount: float) -> Armholes:
    """The top of one armhole, ``amount`` mm long, cut off and joined on to the other's."""
    if giver is None:
        assert taker is not None
        end = taker.shoulder_tip
        strip = Curve.line(end, end + amount * taker.seam.tangent(float(len(taker.seam)), arriving=True))
        return None, _lengthened(taker, strip)
    size = giver.seam.length()
    kept = max(_highest_notch(giver), giver.across if giver.across < len(giver.seam) else 0.0)
    most = ROOM * (size - giver.seam.distance_at(kept))
    if amount > most:
        way = "forward" if giver.side == "front" else "back"
        what = f"the shoulder can't be moved {way} by {length(amount)}; {length(most)} is the most"
        raise Refusal(NO_ROOM, what, piece=f"the {giver.side} bodice", place=giver.shoulder_tip)
    place = giver.seam.at_distance(size - amount)
    strip = giver.seam.part(place, len(giver.seam)).reversed()
    shorter = replace(giver, seam=giver.seam.part(0, place), across=min(giver.across, float(math.ceil(place))))
    return shorter, None if taker is None else _lengthened(taker, strip)


def _lengthened(taker: Armhole, strip: Curve) -> Armhole:
    """The armhole with a strip joined on where it ends, running on as it arrives there."""
    turn = taker.seam.tangent(float(len(taker.seam)), arriving=True) / strip.tangent(0)
    move = Move(turn, taker.shoulder_tip - turn * strip.start)
    return replace(taker, seam=Curve.join([taker.seam, strip.moved(move)]))


def _raised(armhole: Armhole, up: float) -> Armhole:
    """The armhole with its shoulder end ``up`` mm higher, redrawn above its across point and its notches."""
    place = _redrawn_from(armhole)
    most = ROOM * (armhole.shoulder_tip.imag - armhole.seam.point(place).imag)
    if -up > most:
        what = f"the {armhole.side} shoulder can't be lowered by {length(-up)}; {length(max(most, 0.0))} is the most"
        raise Refusal(NO_ROOM, what, piece=f"the {armhole.side} bodice", place=armhole.shoulder_tip)
    found = jointed(armhole.seam, [place])
    joint = found.joint(place)
    rows = found.curve.controls
    top = carry_end(Curve(rows[joint:]), 1j * up)
    new = found.with_rows([Curve(rows[:joint]), top])
    marks = tuple(replace(mark, u=new.place(mark.u)) for mark in armhole.marks)
    return replace(armhole, seam=new.curve, across=new.place(armhole.across), marks=marks)


def _highest_notch(armhole: Armhole) -> float:
    """The place of the uppermost notch, 0 where there is none."""
    return max((mark.u for mark in armhole.marks), default=0.0)


def _redrawn_from(armhole: Armhole) -> float:
    """The place above which the seam is redrawn: the across point, or a notch above it; half way up without either."""
    size = float(len(armhole.seam))
    across = armhole.across if armhole.across <= ROOM * size else size / 2
    return min(max(across, _highest_notch(armhole)), ROOM * size)
