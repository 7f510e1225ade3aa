"""Folds of a worn sleeve: lines traced along the strain of its cloth."""

from __future__ import annotations

import cmath
from dataclasses import dataclass
from enum import Enum

import numpy as np

from tutor.fit.field import Field
from tutor.fit.strain import Worn
from tutor.geometry.cubic import Complexes

SEEN = 0.012
"""A strain below this shows no fold (this program's own choice)."""
STEP = 5.0
"""mm between the points of a traced fold."""
APART = 18.0
"""mm that folds keep from each other."""
SHORTEST = 18.0
"""mm; shorter ones are none."""
MOST = 16
LONGEST = 100
"""Steps to either side of where a fold begins."""
BEND = 0.35
"""Radians that a fold turns at most from one step to the next."""


class Kind(Enum):
    """Cloth that is pulled taut along the fold, or cloth with room that sags across it."""

    PULL = "pull"
    SLACK = "slack"


@dataclass(frozen=True, slots=True, eq=False)
class Fold:
    """One fold: its line, mm, shape (n,), from its upper end; its kind; and its greatest strain, above 0."""

    line: Complexes
    kind: Kind
    strength: float

    @property
    def length(self) -> float:
        """mm along the line."""
        return float(np.abs(np.diff(self.line)).sum())

    @property
    def slope(self) -> float:
        """Degrees off level, 0 to 90: its whole way up and down against its whole way across."""
        steps = np.diff(self.line)
        return float(np.degrees(np.arctan2(np.abs(steps.imag).sum(), np.abs(steps.real).sum())))


def folds(worn: Worn) -> tuple[Fold, ...]:
    """The folds that show, the strongest first; none where nothing is off by as much as shows."""
    field = Field.of(worn)
    pull, room = -field.strains.shortest, field.strains.roomiest
    strengths = np.maximum(pull, room)
    shows = strengths >= SEEN
    places, pull, room, strengths = field.places[shows], pull[shows], room[shows], strengths[shows]
    taken = np.empty(0, dtype=np.complex128)
    free = np.ones(len(places), dtype=np.bool_)
    found: list[Fold] = []
    # Where the strain is the same all along, folds begin in the middle of the sleeve; of two alike on both halves the
    # pull goes first, so that the other arm's sleeve shows the mirror image.
    for number in np.lexsort((pull < room, np.abs(places.real), -np.round(strengths, 3))):
        if len(found) == MOST:
            break
        line = _traced(field, complex(places[number]), taken) if free[number] else None
        if line is not None:
            kind = Kind.PULL if pull[number] >= room[number] else Kind.SLACK
            found.append(Fold(line, kind, float(strengths[number])))
            taken = np.concatenate([taken, line])
            free[free] = np.abs(places[free][:, None] - line[None, :]).min(axis=1) >= APART
    return tuple(found)


def _traced(field: Field, place: complex, taken: Complexes) -> Complexes | None:
    """The fold through a place, from its upper end; None if it is too short to be seen."""
    ahead = _way(field, place, 1, taken)
    behind = _way(field, place, -1, taken)
    line = np.array([*reversed(behind), place, *ahead])
    if float(np.abs(np.diff(line)).sum()) < SHORTEST:
        return None
    return line if line[0].imag >= line[-1].imag else line[::-1]


def _way(field: Field, place: complex, sense: int, taken: Complexes) -> list[complex]:
    """The points of a fold from a place in one sense, until it fades, leaves the sleeve or comes near another."""
    points: list[complex] = []
    heading = _direction(field, place)
    if heading is None:
        return points
    heading *= sense
    for _ in range(LONGEST):
        middle = _direction(field, place + STEP / 2 * heading)
        if middle is None:
            break
        step = middle if (middle * heading.conjugate()).real >= 0 else -middle
        if abs(cmath.phase(step / heading)) > BEND:
            break
        place += STEP * step
        heading = step
        if len(taken) and float(np.abs(taken - place).min()) < APART / 2:
            break
        points.append(place)
    return points


def _direction(field: Field, place: complex) -> complex | None:
    """The direction of a fold at a place; None where none shows."""
    read = field.read(place)
    if read is None:
        return None
    mean, deviator = read
    if max(abs(deviator) - mean, mean + abs(deviator)) < SEEN:
        return None
    return 1j * cmath.exp(0.5j * cmath.phase(deviator))
