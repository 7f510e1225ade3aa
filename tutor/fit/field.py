"""The strain of a worn sleeve over a grid of places, read between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tutor.fit.strain import Strain, Worn
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.region import Region

GRID = 6.0
"""mm between the places of the grid; strains hardly change from one to the next."""
EDGE = 4.0
"""mm; nearer to the seam line than this no fold is seen."""


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """Strains at the places of a grid, shape (rows, columns) each, from ``low`` up and to the right; ``on`` the sleeve.

    Between places the mean and the deviator are read linearly.
    """

    low: complex
    mean: Floats
    deviator: Complexes
    on: np.ndarray

    @classmethod
    def of(cls, worn: Worn) -> Field:
        """The field of a worn sleeve."""
        ring = worn.sleeve.outline(0.5)
        low = complex(ring.real.min(), ring.imag.min())
        x = np.arange(low.real, ring.real.max() + GRID, GRID)
        y = np.arange(low.imag, ring.imag.max() + GRID, GRID)
        points = (x[None, :] + 1j * y[:, None]).ravel()
        region = Region(ring)
        on = (region.distances_outside(points) == 0) & (region.distances_to_edge(points) >= EDGE)
        mean, deviator = np.zeros(len(points)), np.zeros(len(points), dtype=np.complex128)
        strain = worn.strain(points[on])
        mean[on], deviator[on] = strain.mean, strain.deviator
        shape = (len(y), len(x))
        return cls(low, mean.reshape(shape), deviator.reshape(shape), on.reshape(shape))

    def places(self) -> Complexes:
        """The places of the grid that lie on the sleeve, row by row from below."""
        rows, columns = np.nonzero(self.on)
        return np.asarray(self.low + GRID * (columns + 1j * rows), dtype=np.complex128)

    def strains(self) -> Strain:
        """The strains at ``places``."""
        return Strain(self.mean[self.on], self.deviator[self.on])

    def read(self, point: complex) -> tuple[float, complex] | None:
        """Mean and deviator at a point; None off the sleeve and at its very edge."""
        at = (point - self.low) / GRID
        column, row = int(at.real), int(at.imag)
        if at.real < 0 or at.imag < 0 or not (row + 1 < self.on.shape[0] and column + 1 < self.on.shape[1]):
            return None
        if not self.on[row : row + 2, column : column + 2].all():
            return None
        x, y = at.real - column, at.imag - row
        weights = ((1 - y) * (1 - x), (1 - y) * x, y * (1 - x), y * x)
        corners = ((row, column), (row, column + 1), (row + 1, column), (row + 1, column + 1))
        mean = sum(w * float(self.mean[c]) for w, c in zip(weights, corners, strict=True))
        deviator = sum(w * complex(self.deviator[c]) for w, c in zip(weights, corners, strict=True))
        return mean, complex(deviator)
