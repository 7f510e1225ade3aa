"""Whether the points of a traced seam lie close enough together to measure it to what its task allows.

Between neighbouring points a seam bulges away from the chord that is traced, and is longer. By how much is seen on the
seam that was handed out, with points at the same shares of its length. A gauge should be four times as exact as what it
decides (ANSI/NCSL Z540.3, 2006), so no more than a quarter of any tolerance may be lost where the seam counts: in
length, or, where a width is taken between two seams, by the bulge itself. Smoothing makes up for most of such a loss,
but with few points it can't be relied on to.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from tutor.classwork.outline_points import laid_on, spread_along
from tutor.faults import Fault
from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import Curve
from tutor.marking.case import PlanCase
from tutor.marking.credit import tolerance_of
from tutor.units import Unit, format_length

QUARTER = 0.25
"""Of a tolerance, that may be lost between points."""
LENGTHS = {
    "cap": ("cap-seam", "cap-ease", "ease-balance", "notch-mismatch"),
    "armhole": ("armhole", "cap-ease", "ease-balance", "notch-mismatch", "bust-gain"),
    "underarm": ("underarm-seam", "underarm-mismatch"),
    "side": ("side-seam", "side-mismatch"),
    "hem": ("hem-seam",),
}
"""How the measures begin that are taken along a seam, by the first word of its id."""
WIDTHS = {"underarm": ("elbow-girth", "forearm-girth")}
"""And those that are taken across, between two of them."""
SEAMS = 0.5
"""mm that a drawn seam is measured to: what a cap may lose whose line is looked at for kinks."""
STRAIGHT = 2e-3
"""mm that a stretch bulges at the most to be one between two traced points."""
FINE = 1e-4
WITHIN = np.linspace(0.0, 1.0, 9)
"""Places of a stretch that are looked at for how far it bulges."""
CLOSEST = 1.0
"""mm; nobody is asked for points that lie closer."""


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """A seam as it was traced: the shares of its length that its joints lie at, and which stretches are straight.

    ``line`` is the seam it was altered from as a broken line, in the direction of the trace.
    """

    line: Complexes
    shares: Floats
    straight: npt.NDArray[np.bool_]

    @property
    def points(self) -> int:
        """How many points the straight stretches join, at the most."""
        return int(self.straight.sum()) + 1

    @property
    def length(self) -> float:
        """mm of the seam it was altered from."""
        return float(np.abs(np.diff(self.line)).sum())

    def evenly(self, count: int) -> Trace:
        """The same seam traced in so many stretches of equal length."""
        return Trace(self.line, np.linspace(0.0, 1.0, count + 1), np.ones(count, dtype=bool))

    def lost(self) -> float:
        """mm by which the chords of all straight stretches are shorter than the seam."""
        chords = np.abs(np.diff(spread_along(self.line, self.shares)))
        return float((np.diff(self.shares) * self.length - chords)[self.straight].sum())

    def bulge(self) -> float:
        """mm by which the seam lies beside the chord of a straight stretch, at the most."""
        starts, sizes = self.shares[:-1, None], np.diff(self.shares)[:, None]
        places = spread_along(self.line, (starts + sizes * WITHIN).ravel()).reshape(len(sizes), len(WITHIN))
        chords = places[:, -1:] - places[:, :1]
        aside = np.abs(((places - places[:, :1]) * chords.conj()).imag) / np.maximum(np.abs(chords), FINE)
        return float(aside.max(axis=1)[self.straight].max(initial=0.0))


@dataclass(frozen=True, slots=True)
class _Bounds:
    """What a trace may lose, mm."""

    length: float
    width: float

    def hold(self, trace: Trace) -> bool:
        return trace.lost() <= self.length and (np.isinf(self.width) or trace.bulge() <= self.width)


def trace_of(seam: Curve, like: Curve) -> Trace | None:
    """How a seam was traced, beside one much like it, walked either way; None where it has no straight stretch."""
    rows = seam.controls
    straight = np.abs(np.diff(rows, n=2, axis=1)).max(axis=1) < STRAIGHT
    if not straight.any():
        return None
    shares = np.concatenate([[0.0], np.cumsum(cubic.polygon_lengths(rows))])
    shares /= shares[-1]
    joints = np.append(rows[:, 0], rows[-1, 3])
    line = like.flatten(FINE)
    along = min((line, line[::-1]), key=lambda way: _misses(joints, spread_along(way, shares)))
    return Trace(along, shares, straight)


def check_spacing(traces: Mapping[str, Trace], case: PlanCase, unit: Unit, where: str) -> None:
    """Raises Fault for a seam that was traced in points too far apart for the goals of a task."""
    for name, trace in traces.items():
        bounds = _bounds(name, case, unit)
        if bounds.hold(trace):
            continue
        what = f"draws {name} through {trace.points} points, too far apart to follow its curve"
        raise Fault(where, what, f"draw it with points at most {_spacing(trace, bounds, unit)} apart")


def _bounds(name: str, case: PlanCase, unit: Unit) -> _Bounds:
    """What a seam may lose for the goals that it counts for."""
    kind = name.partition("-")[0]
    along, across = LENGTHS.get(kind, ()), WIDTHS.get(kind, ())
    length = width = np.inf
    for aim in (aim for goal in case.task.goals for aim in goal.aims(case.before, case.arm)):
        share = QUARTER * tolerance_of(aim, unit)
        if along and aim.measure.startswith(along):
            length = min(length, share)
        if across and aim.measure.startswith(across):
            width = min(width, share)
        if aim.measure == "kink" and kind == "cap":
            length = min(length, SEAMS)
    return _Bounds(length, width)


def _spacing(trace: Trace, bounds: _Bounds, unit: Unit) -> str:
    """How far apart points may lie, in whole millimetres or eighths of an inch rounded down, so that bounds hold."""
    for count in itertools.count(max(trace.points - 1, 1)):
        apart = trace.length / count
        if apart <= CLOSEST or bounds.hold(trace.evenly(count)):
            break
    step = 25.4 / 8 if unit is Unit.INCH else 1.0
    return format_length(max(apart // step, 1.0) * step, unit)


def _misses(points: Complexes, others: Complexes) -> float:
    return float((np.abs(laid_on(points, others)(points) - others) ** 2).sum())
