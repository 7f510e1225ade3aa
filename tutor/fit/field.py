"""The strain of a worn sleeve over a grid of places, read between them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import cast

import numpy as np

from tutor.fit.grid import GRID, Grid, grid_of
from tutor.fit.strain import Strain, Worn
from tutor.geometry.cubic import Complexes

ON_LINE = 1e-9
"""Of a cell's width; nearer than this a point lies between two columns."""


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """Strains at the places of a grid; between them the mean and the deviator are read linearly.

    Rows of plain numbers, as folds ask for one place after the other: ``mean``, ``deviator``, and whether all corners
    of the ``cells`` are on the sleeve.
    """

    grid: Grid
    strains: Strain
    mean: list[list[float]]
    deviator: list[list[complex]]
    cells: list[list[bool]]

    @classmethod
    def of(cls, worn: Worn) -> Field:
        """The field of a worn sleeve."""
        grid = grid_of(worn.sleeve)
        strains = worn.strain(grid.places)
        mean = np.zeros(grid.on.shape, dtype=np.float64)
        deviator = np.zeros(grid.on.shape, dtype=np.complex128)
        mean[grid.on], deviator[grid.on] = strains.mean, strains.deviator
        rows = cast("list[list[float]]", mean.tolist())
        return cls(grid, strains, rows, cast("list[list[complex]]", deviator.tolist()), grid.cells.tolist())

    @property
    def places(self) -> Complexes:
        """The places of the grid that lie on the sleeve, row by row from below; those of ``strains``."""
        return self.grid.places

    def _cell(self, at: complex) -> tuple[int, int] | None:
        """The cell, by column and row, that holds a point; of one between two columns either."""
        column, row = math.floor(at.real), math.floor(at.imag)
        for k in (column, column - 1) if at.real - column < ON_LINE else (column,):
            if 0 <= row < len(self.cells) and 0 <= k < len(self.cells[0]) and self.cells[row][k]:
                return k, row
        return None

    def read(self, point: complex) -> tuple[float, complex] | None:
        """Mean and deviator at a point; None off the sleeve and at its very edge."""
        at = (point - self.grid.low) / GRID
        cell = self._cell(at)
        if cell is None:
            return None
        column, row = cell
        x, y = at.real - column, at.imag - row
        a, b, c, d = (1 - y) * (1 - x), (1 - y) * x, y * (1 - x), y * x
        low, high = self.mean[row], self.mean[row + 1]
        mean = a * low[column] + b * low[column + 1] + c * high[column] + d * high[column + 1]
        under, over = self.deviator[row], self.deviator[row + 1]
        deviator = a * under[column] + b * under[column + 1] + c * over[column] + d * over[column + 1]
        return mean, deviator
