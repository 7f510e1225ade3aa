"""The places of a sleeve at which the strain of its cloth is worked out: a square grid over it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tutor.geometry.cubic import Complexes
from tutor.geometry.region import Region
from tutor.pattern.sleeve import Sleeve

GRID = 7.0
"""mm between the places of the grid; strains hardly change from one to the next."""
EDGE = 4.0
"""mm; nearer to the seam line than this no fold is seen."""
REMEMBERED = 16

Places = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Places from ``low`` up and to the right, GRID apart; ``on``, shape (rows, columns), are those on the sleeve.

    A column of it lies on the grain line, so that the grid of the other arm's sleeve is its mirror image.
    """

    low: complex
    on: Places
    places: Complexes

    @property
    def cells(self) -> Places:
        """The cells whose four corners are on the sleeve, by their lower left, shape (rows - 1, columns - 1)."""
        on = self.on
        return np.asarray(on[1:, 1:] & on[1:, :-1] & on[:-1, 1:] & on[:-1, :-1], dtype=np.bool_)


@lru_cache(maxsize=REMEMBERED)
def grid_of(sleeve: Sleeve) -> Grid:
    """The grid of a framed sleeve."""
    ring = sleeve.outline(0.5)
    first = math.floor(ring.real.min() / GRID)
    columns = GRID * np.arange(first, math.ceil(ring.real.max() / GRID) + 1)
    rows = np.arange(ring.imag.min(), ring.imag.max() + GRID, GRID)
    points = (columns[None, :] + 1j * rows[:, None]).ravel()
    region = Region(ring)
    on = region.distances_outside(points) == 0
    on[on] = region.distances_to_edge(points[on]) >= EDGE
    return Grid(complex(columns[0], rows[0]), on.reshape(len(rows), len(columns)), points[on])
