"""Rigid moves of the plane: a turn, then a shift."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TypeVar

from tutor.geometry.cubic import Complexes

Place = TypeVar("Place", complex, Complexes)


@dataclass(frozen=True, slots=True)
class Move:
    """p -> turn * p + shift, where ``turn`` is a complex number of modulus 1 and ``shift`` is in mm."""

    turn: complex = 1 + 0j
    shift: complex = 0j

    @classmethod
    def about(cls, centre: complex, angle: float, shift: complex = 0j) -> Move:
        """A turn by ``angle`` radians, anticlockwise, about ``centre``, then a shift in mm."""
        turn = cmath.rect(1, angle)
        return cls(turn, centre - turn * centre + shift)

    def __call__(self, place: Place) -> Place:
        return place * self.turn + self.shift

    def __matmul__(self, first: Move) -> Move:
        """This move after ``first``."""
        return Move(self.turn * first.turn, self.turn * first.shift + self.shift)

    def inverse(self) -> Move:
        """The move that undoes this one."""
        back = self.turn.conjugate()
        return Move(back, -back * self.shift)

    @property
    def angle(self) -> float:
        """The turn in radians, anticlockwise, in (-pi, pi]."""
        return math.atan2(self.turn.imag, self.turn.real)
