"""Truing: seams redrawn smoothly where the paper parted, overlapped or turned.

At every joint the two edges are carried to meet half way between their ends. Between a blend point on either side the
seam is redrawn with the tangents at the blend points kept, and with one common tangent where the edges meet, unless
the joint was a corner before, which stays a corner. A blend point lies about ``BLEND`` mm from the joint, or four
times as far as the joint has to be carried, but never beyond half way to the next joint.
"""

from __future__ import annotations

import cmath
import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tutor.alteration.cutting import Arc
from tutor.alteration.outline import Outline
from tutor.geometry.carry import carry_end, carry_start
from tutor.geometry.cubic import Complexes, polygon_lengths
from tutor.geometry.curve import Curve
from tutor.geometry.move import Move
from tutor.pattern.sleeve import Mark

BLEND = 60.0
CORNER = math.radians(20)
"""A joint that turned by more than this before the alteration is a corner of the pattern, and stays one."""
STILL = 1e-9
NEAR = 1e-9
"""Places of a seam nearer than this, in u, are one."""


@dataclass(frozen=True, slots=True)
class Trued:
    """Seams after truing, by name in the outline's order, and the marks carried along."""

    seams: dict[str, Curve]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class _Edge:
    """What truing does at one end of a stretch: a shift in mm and a turn in radians."""

    shift: complex
    turn: float

    @property
    def still(self) -> bool:
        return abs(self.shift) < STILL and abs(self.turn) < STILL


def true(outline: Outline, arcs: Sequence[Arc], moves: Sequence[Move]) -> Trued:
    """The outline's seams after its arcs, in order round it, moved with their pieces; trued at each joint."""
    moved = [arc.curve.moved(moves[arc.piece]) for arc in arcs]
    joints = [_joint(arcs[k - 1], arcs[k], moved[k - 1], moved[k]) for k in range(len(arcs))]
    seams: dict[str, Curve] = {}
    marks: dict[str, Mark] = {}
    for number, name in enumerate(outline.names):
        own = [k for k, arc in enumerate(arcs) if arc.seam == number]
        blends = [_blends(arcs[k], moved[k], joints[k][1], joints[(k + 1) % len(arcs)][0]) for k in own]
        knots = _knots(outline.curves[number], [arcs[k] for k in own], blends)
        rows = [
            _redrawn(moved[k], arcs[k], blend, joints[k][1], joints[(k + 1) % len(arcs)][0], knots)
            for k, blend in zip(own, blends, strict=True)
        ]
        seams[name] = Curve(np.concatenate(rows))
        for mark in outline.marks:
            if mark.seam == name:
                marks[mark.name] = Mark(mark.name, name, _renumbered(mark.u, knots))
    return Trued(seams, tuple(marks[mark.name] for mark in outline.marks if mark.name in marks))


def _joint(before: Arc, after: Arc, before_moved: Curve, after_moved: Curve) -> tuple[_Edge, _Edge]:
    """What the end of one arc and the start of the next have to do to meet smoothly."""
    if before.piece == after.piece:
        return _Edge(0j, 0.0), _Edge(0j, 0.0)
    middle = (before_moved.end + after_moved.start) / 2
    half = 0.0
    if abs(_turn(before.curve, after.curve)) < CORNER:
        half = _turn(before_moved, after_moved) / 2
    return _Edge(middle - before_moved.end, half), _Edge(middle - after_moved.start, -half)


def _turn(before: Curve, after: Curve) -> float:
    return cmath.phase(after.tangent(0) / before.tangent(len(before), arriving=True))


def _blends(arc: Arc, curve: Curve, at_start: _Edge, at_end: _Edge) -> tuple[float, float]:
    """The places (u of the seam) of the blend points after the arc's start and before its end."""
    size = float(polygon_lengths(curve.controls).sum())
    most = 0.85 if at_start.still or at_end.still else 0.5
    first, last = (
        min(max(BLEND, 4 * abs(edge.shift)) / size, most) if not edge.still else 0.0 for edge in (at_start, at_end)
    )
    return arc.start + first * (arc.end - arc.start), arc.end - last * (arc.end - arc.start)


def _knots(curve: Curve, arcs: Sequence[Arc], blends: Sequence[tuple[float, float]]) -> list[float]:
    """All places of the seam where the new chain has a joint, increasing; places too close to tell apart are one."""
    kept = sorted({float(k) for k in range(len(curve) + 1)} | {place for arc in arcs for place in (arc.start, arc.end)})
    for place in (place for pair in blends for place in pair):
        k = bisect_left(kept, place - NEAR)
        if k == len(kept) or kept[k] - place > NEAR:
            kept.insert(k, place)
    return kept


def _number(place: float, knots: Sequence[float]) -> int:
    return bisect_left(knots, place - NEAR)


def _renumbered(u: float, knots: Sequence[float]) -> float:
    """A place of the seam as it was, on the chain with all knots as joints."""
    k = min(max(bisect_right(knots, u) - 1, 0), len(knots) - 2)
    return k + min(max((u - knots[k]) / (knots[k + 1] - knots[k]), 0.0), 1.0)


def _redrawn(
    curve: Curve, arc: Arc, blend: tuple[float, float], at_start: _Edge, at_end: _Edge, knots: Sequence[float]
) -> Complexes:
    """The rows of one moved arc, a joint at every knot inside it, its ends carried."""
    first, last = _number(arc.start, knots), _number(arc.end, knots)
    inner = [_within(arc, knots[k]) for k in range(first + 1, last)]
    rows = np.concatenate([part.controls for part in curve.cut(inner)]) if inner else curve.controls.copy()
    head, tail = _number(blend[0], knots) - first, _number(blend[1], knots) - first
    if not at_start.still:
        rows[:head] = carry_start(Curve(rows[:head]), at_start.shift, at_start.turn).controls
    if not at_end.still:
        rows[tail:] = carry_end(Curve(rows[tail:]), at_end.shift, at_end.turn).controls
    return rows


def _within(arc: Arc, place: float) -> float:
    """A place of the seam as a place of the arc, which is the seam's part from ``arc.start`` to ``arc.end``."""
    k = min(int(place), math.ceil(arc.end) - 1)
    first = int(arc.start)
    low = arc.start - k if k == first else 0.0
    high = arc.end - k if arc.end < k + 1 else 1.0
    return (k - first) + (place - k - low) / (high - low)
