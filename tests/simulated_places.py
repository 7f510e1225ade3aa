"""Simulated learners who are asked to show a place on the edge of the pattern."""

from __future__ import annotations

import random
from collections.abc import Iterator

import numpy as np
from simulated_tally import Tally

from tutor.alteration.plan import Along, Landmark
from tutor.geometry.curve import Curve
from tutor.lesson.task import PlaceTask
from tutor.pattern.sleeve import Sleeve
from tutor.practice.session import Session

INCH = 25.4
RIGHT = 6
NONSENSE = 40
STEPS = 4000
DIVISION = 1.0
"""mm between two places that a marker walked by a hair's breadth can be shown at: the division they are written in."""


def asked_for_a_place(session: Session, tally: Tally, chance: random.Random) -> None:
    """Marks places: right ones but for a shaking hand, one of every mistake, and others."""
    task = session.task
    assert isinstance(task, PlaceTask)
    right, tolerance = session.right_place(), float(task.tolerance)
    for _ in range(RIGHT):
        session.show_place(right + chance.uniform(-1, 1) * tolerance)
        tally.add_right(session.check())
    made = [(name, on_edge(session, point)) for name, point in mistaken(session, task) if name not in task.unnamed]
    for name, along in made:
        session.show_place(along)
        tally.add_mistake(name, session.check())
    for _ in range(NONSENSE):
        near = right + chance.choice((-1, 1)) * chance.uniform(1, 100)
        for kind, along in (("anywhere", chance.uniform(0, session.edge.length)), ("near", near)):
            session.show_place(along)
            usual = any(abs(session.edge.way(along, each)) < DIVISION / 2 for _, each in made)
            tally.add_nonsense(kind, session.check(), usual=usual)


def on_edge(session: Session, point: complex) -> float:
    """How far along the edge a point lies."""
    return session.edge.along(session.edge.outline.nearest(point)[0])


def mistaken(session: Session, task: PlaceTask) -> Iterator[tuple[str, complex]]:
    """Every mistake with the point that it leads to, worked out from the sleeve's own points and curves."""
    sleeve, place = session.pattern.sleeve, task.place.place
    if isinstance(place, Landmark):
        partner = partner_of(place.name)
        for name, point in points(sleeve).items():
            if name == partner:
                yield "other-side", point
            elif name != place.name and abs(point - points(sleeve)[place.name]) > 1:
                yield "other-landmark", point
    elif isinstance(place, Along):
        yield from measured_wrongly(sleeve, place)


def measured_wrongly(sleeve: Sleeve, place: Along) -> Iterator[tuple[str, complex]]:
    """A distance taken from the other end, on the other side, in a straight line, or in the other unit."""
    seam, far = sleeve.seam(place.seam), place.distance
    yield "wrong-end", walked(seam, far, not place.from_end)
    side = place.seam.rpartition("-")[2]
    if side in ("back", "front"):
        other = place.seam.replace(side, "front" if side == "back" else "back")
        yield "other-side", walked(sleeve.seam(other), far, not place.from_end)
    chord = in_a_straight_line(seam, far, place.from_end)
    if chord is not None:
        yield "straight-for-curve", chord
    for factor in (INCH / 10, 10 / INCH):
        if far * factor <= seam.length():
            yield "unit-swap", walked(seam, far * factor, place.from_end)


def walked(seam: Curve, far: float, from_end: bool) -> complex:
    """The point so far along a seam, on a polygon of many short steps."""
    ring = polygon(seam, from_end)
    gone = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(ring)))])
    return complex(np.interp(far, gone, ring.real), np.interp(far, gone, ring.imag))


def in_a_straight_line(seam: Curve, far: float, from_end: bool) -> complex | None:
    """Where a straight line of that length from the end meets the seam for the first time."""
    ring = polygon(seam, from_end)
    beyond = np.flatnonzero(np.abs(ring - ring[0]) >= far)
    return complex(ring[beyond[0]]) if len(beyond) else None


def polygon(seam: Curve, from_end: bool) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    places = np.linspace(0, len(seam), STEPS + 1)
    ring = np.array([seam.point(float(u)) for u in places])
    return ring[::-1] if from_end else ring


def points(sleeve: Sleeve) -> dict[str, complex]:
    """The places of a sleeve that have names."""
    marks = {mark.name: sleeve.mark_point(mark) for mark in sleeve.marks}
    grain = complex(0, sleeve.hem.end.imag)  # A drafted hem is level, and the grain lies at x = 0.
    corners = {
        "crown": sleeve.crown,
        "underarm-back": sleeve.underarm_point_back,
        "underarm-front": sleeve.underarm_point_front,
        "hem-front": sleeve.hem.start,
        "hem-back": sleeve.hem.end,
        "grain-hem": grain,
    }
    return corners | marks


def partner_of(name: str) -> str:
    """Its partner on the other side; of the one notch of the front that is the lower one of the back."""
    if name.startswith("notch"):
        return "notch-back-1" if name == "notch-front" else "notch-front"
    for side, other in (("back", "front"), ("front", "back")):
        if name.endswith(side):
            return name.replace(side, other)
    return ""
