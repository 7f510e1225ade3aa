"""How the cloth of a worn sleeve is pulled and where it has room: a strain at every place, from what is off.

A strain is a symmetric tensor, kept as its mean m and its deviator d, a complex: along the unit vector t it is
m + Re(d conj(t^2)). Below zero the cloth is short along t and pulls; above zero it has room to spare. A strain of e
along t alone has m = e / 2 and d = e t^2 / 2, and strains add.

Each thing that is off spreads over the place where it acts. How wide it spreads is this program's own choice; how
much it comes to is the amount over the length that it is short of or spare in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tutor.fit.misfit import Misfit
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.curve import Curve
from tutor.pattern.sleeve import Sleeve, level_of

GIRTH_SPREAD = 0.3
"""The room at a level is felt up and down by this share of the cap height."""
SLANT_SPREAD = 0.16
"""A cap that is short pulls within this share of the half width beside the line from crown to underarm point."""
CROWN_LEVEL, CROWN_SPREAD = 0.66, 0.2
"""A cap that is too high folds at this share of its height, and so far up and down."""
SEAM_DEPTH = 25.0
"""mm; eased-in cloth is felt so far from the cap seam."""
FELT = 3.0
"""Of this many depths from the seam hardly a ten-thousandth is felt."""
CROWN_BLEND = 16.0
"""mm; so far about the crown the ease of one half goes over into that of the other."""
SEAM_STEP = 4.0
"""mm between the places of the cap seam at which its direction is taken."""


@dataclass(frozen=True, slots=True, eq=False)
class Strain:
    """The strain at n places: ``mean`` real and ``deviator`` complex, shape (n,) each."""

    mean: Floats
    deviator: Complexes

    @classmethod
    def along(cls, amount: Floats, direction: Complexes) -> Strain:
        """``amount`` along unit vectors and none across them."""
        return cls(amount / 2, amount * direction * direction / 2)

    def __add__(self, other: Strain) -> Strain:
        return Strain(self.mean + other.mean, self.deviator + other.deviator)

    def times(self, shares: Floats) -> Strain:
        """So much of it at each place."""
        return Strain(self.mean * shares, self.deviator * shares)

    @property
    def shortest(self) -> Floats:
        """The least strain over all directions, below zero where the cloth pulls."""
        return np.asarray(self.mean - np.abs(self.deviator), dtype=np.float64)

    @property
    def roomiest(self) -> Floats:
        """The greatest strain over all directions, above zero where the cloth has room."""
        return np.asarray(self.mean + np.abs(self.deviator), dtype=np.float64)

    @property
    def fold(self) -> Complexes:
        """Unit vectors along which folds run: along the greatest pull, which is across the greatest room."""
        return np.asarray(1j * np.exp(0.5j * np.angle(self.deviator)), dtype=np.complex128)


@dataclass(frozen=True, slots=True, eq=False)
class Worn:
    """A framed sleeve as it is worn, and what is off in it.

    The arm hangs, or is ``bent``: what is off at the elbow shows only then.
    """

    sleeve: Sleeve
    misfit: Misfit
    bent: bool = False

    def strain(self, points: Complexes) -> Strain:
        """The strain at points of the sleeve, mm, shape (n,)."""
        strain = self._girths(points) + self._height(points) + self._pitch(points)
        if not (self.misfit.ease_back or self.misfit.ease_front):
            return strain
        # Far below the cap nothing of its ease is felt.
        near = points.imag > -FELT * SEAM_DEPTH
        ease = self._ease(points[near])
        mean, deviator = strain.mean.copy(), strain.deviator.copy()
        mean[near] += ease.mean
        deviator[near] += ease.deviator
        return Strain(mean, deviator)

    @property
    def height(self) -> float:
        """The cap height, mm."""
        return self.sleeve.crown.imag

    def _girths(self, points: Complexes) -> Strain:
        girth = abs(self.sleeve.underarm_point_front - self.sleeve.underarm_point_back)
        amount = self.misfit.girth / girth * _bump(points.imag / (GIRTH_SPREAD * self.height))
        elbow = level_of(self.sleeve, "elbow") if self.bent else None
        if elbow is not None:
            amount = amount + self.misfit.elbow / girth * _bump((points.imag - elbow) / (GIRTH_SPREAD * self.height))
        return Strain.along(amount, np.ones_like(points))

    def _height(self, points: Complexes) -> Strain:
        """A cap that is short pulls slanting from the crown to both underarm points; one too high sags under it."""
        off, height = self.misfit.cap_height, self.height
        if off >= 0:
            away = (points.imag / height - CROWN_LEVEL) / CROWN_SPREAD
            return Strain.along(off / height * _bump(away), np.full_like(points, 1j))
        total = Strain.along(np.zeros(len(points)), np.ones_like(points))
        for end in (self.sleeve.underarm_point_back, self.sleeve.underarm_point_front):
            slant = end - self.sleeve.crown
            way = (points - self.sleeve.crown) / slant
            beside = way.imag * abs(slant) / (SLANT_SPREAD * abs(end.real))
            ends = np.clip(4 * way.real, 0, 1) * np.clip(4 * (1 - way.real), 0, 1)
            # What the height lacks, the slant lacks by height / slant of it.
            amount = off * height / abs(slant) ** 2 * _bump(beside) * ends
            total = total + Strain.along(amount, np.full_like(points, slant / abs(slant)))
        return total

    def _ease(self, points: Complexes) -> Strain:
        """Each half of the cap seam in its own half of the cloth; about the crown the one goes over into the other."""
        ahead = (points.real - self.sleeve.crown.real) / CROWN_BLEND
        back, front = self.sleeve.cap_back, self.sleeve.cap_front.reversed()
        total = Strain.along(np.zeros(len(points)), np.ones_like(points))
        for curve, off, side in ((back, self.misfit.ease_back, -1), (front, self.misfit.ease_front, 1)):
            if off:
                total = total + _Seam.of(curve).strain(off, points).times(np.clip(0.5 + side * ahead, 0, 1))
        return total

    def _pitch(self, points: Complexes) -> Strain:
        """An arm ahead of its sleeve turns it about the crown: short along the back, room along the front."""
        turn = self.misfit.pitch / self.height
        rays = points - self.sleeve.crown
        size = np.maximum(np.abs(rays), 1e-9)
        half = abs(self.sleeve.underarm_point_front - self.sleeve.underarm_point_back) / 2
        away = (size / self.height - 0.8) / 0.6
        return Strain.along(turn * rays.real / half * _bump(away) / 2, rays / size)


@dataclass(frozen=True, slots=True, eq=False)
class _Seam:
    """Half a cap seam as places from the underarm point up, with the unit vectors along it, and its length, mm."""

    places: Complexes
    tangents: Complexes
    length: float

    @classmethod
    def of(cls, curve: Curve) -> _Seam:
        """The seam of a curve that runs up to the crown."""
        ring = curve.flatten(0.2)
        pieces = np.abs(np.diff(ring))
        length = float(pieces.sum())
        so_far = np.concatenate([[0], np.cumsum(pieces)])
        along = np.interp(np.arange(0, length, SEAM_STEP), so_far, range(len(ring)))
        low = np.minimum(along.astype(int), len(ring) - 2)
        steps = ring[low + 1] - ring[low]
        return cls(ring[low] + (along - low) * steps, steps / pieces[low], length)

    def strain(self, off: float, points: Complexes) -> Strain:
        """The strain at points by ``off`` mm of ease too much.

        Ease is worked into the upper cap: none of it at the underarm point, twice its mean at the crown.
        """
        apart = np.abs(points[:, None] - self.places[None, :])
        nearest = apart.argmin(axis=1)
        share = nearest / max(len(self.places) - 1, 1)
        near = _bump(apart[np.arange(len(points)), nearest] / SEAM_DEPTH)
        return Strain.along(2 * off / self.length * share * near, self.tangents[nearest])


def _bump(x: Floats) -> Floats:
    """1 at 0, falling smoothly to either side."""
    return np.asarray(np.exp(-x * x), dtype=np.float64)
