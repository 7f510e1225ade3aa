"""A cap walked along its armhole, as scenes."""

from __future__ import annotations

from functools import lru_cache

from tutor.geometry.curve import Curve
from tutor.pattern.cap_walk import CapWalk
from tutor.picture.looks import Look, Sign
from tutor.picture.scene import Bounds, Mark, Scene, Stroke

FINE = 0.2
"""mm that a drawn line may stray from its curve."""
SHOWN = 40.0
"""mm of the side seam that are drawn."""


def walk_scene(walk: CapWalk, distance: float) -> Scene:
    """Armhole and cap as they lie when so many mm are walked."""
    armhole, seam = walk.armhole, walk.armhole.seam
    cap = walk.cap.moved(walk.rolled(distance))
    strokes = [Stroke(seam.flatten(FINE), Look.ARMHOLE), Stroke(cap.flatten(FINE), Look.AFTER)]
    if armhole.side_seam is not None:
        strokes.append(Stroke(_top_of(armhole.side_seam).flatten(FINE), Look.ARMHOLE))
    marks = [Mark(armhole.underarm_point, Sign.UNDERARM), Mark(cap.end, Sign.CROWN, "crown")]
    marks += [Mark(seam.point(seam.at_distance(far)), Sign.NOTCH) for _, far in walk.armhole_notches]
    marks += [Mark(cap.point(cap.at_distance(far)), Sign.NOTCH, "cap") for _, far in walk.cap_notches]
    marks.append(Mark(seam.point(seam.at_distance(distance)), Sign.MARKER))
    return Scene(tuple(strokes), (), tuple(marks))


@lru_cache(maxsize=4)
def walk_bounds(walk: CapWalk) -> Bounds:
    """What holds every scene of a walk."""
    first, *others = (walk_scene(walk, walk.most * share).bounds() for share in (0.0, 0.25, 0.5, 0.75, 1.0))
    for other in others:
        first = first.around(other)
    return first


def _top_of(side_seam: Curve) -> Curve:
    return side_seam.part(0, side_seam.at_distance(SHOWN)) if side_seam.length() > SHOWN else side_seam
