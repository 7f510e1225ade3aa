"""A pattern as a scene: what is to be seen and where, in mm (y up), before any screen is chosen."""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tutor.picture.looks import Look, Role, Sign

FARTHEST_MM = 1e9
"""No coordinate of a scene lies farther out: beyond, differences in mm would no longer be exact to 1e-6."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """An upright rectangle from its lower left to its upper right corner, in mm."""

    low: complex
    high: complex

    @property
    def centre(self) -> complex:
        return (self.low + self.high) / 2

    @property
    def width_mm(self) -> float:
        return self.high.real - self.low.real

    @property
    def height_mm(self) -> float:
        return self.high.imag - self.low.imag

    def around(self, other: Self, spare: complex = 0j) -> Self:
        """The least bounds that hold these, with so much to spare on every side, and others."""
        low, high = self.low - spare, self.high + spare
        return type(self)(
            complex(min(low.real, other.low.real), min(low.imag, other.low.imag)),
            complex(max(high.real, other.high.real), max(high.imag, other.high.imag)),
        )


@dataclass(frozen=True, slots=True)
class Window:
    """The part of the plane to be shown; sizes in mm, finite and above zero (ValueError otherwise)."""

    centre: complex
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _near(self.centre, "a window's centre")
        for size in (self.width_mm, self.height_mm):
            if not 0 < size <= 10 * FARTHEST_MM:
                raise ValueError(f"a window's sizes are above zero and finite, not {size}")

    @classmethod
    def fit(cls, bounds: Bounds, margin: float) -> Self:
        """The window round the bounds with `margin` mm to spare on every side, never smaller than 1 mm."""
        return cls(
            bounds.centre,
            max(bounds.width_mm + 2 * margin, 1.0),
            max(bounds.height_mm + 2 * margin, 1.0),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A polyline, points of shape (n,) with n >= 1 in mm; ValueError unless all are finite."""

    points: NDArray[np.complex128]
    look: Look

    def __post_init__(self) -> None:
        if self.look.is_area:
            raise ValueError(f"{self.look.name} is the look of a patch, not of a stroke")
        object.__setattr__(self, "points", _polyline(self.points, 1, "a stroke"))


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """An area to hatch: what lies inside an odd number of its rings.

    Rings have shape (n,) with n >= 3, in mm, and close by themselves; ValueError unless all are finite.
    """

    rings: tuple[NDArray[np.complex128], ...]
    look: Look

    def __post_init__(self) -> None:
        if not self.look.is_area:
            raise ValueError(f"{self.look.name} is the look of a stroke, not of a patch")
        object.__setattr__(self, "rings", tuple(_polyline(ring, 3, "a ring") for ring in self.rings))


@dataclass(frozen=True, slots=True)
class Mark:
    """A place with a meaning, and perhaps a few words beside it; ValueError unless finite and printable."""

    at: complex
    sign: Sign
    label: str = ""

    def __post_init__(self) -> None:
        _near(self.at, "a mark")
        if not self.label.isprintable():
            raise ValueError(f"a label is one line of printable characters, not {self.label!r}")


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Everything to be seen at once."""

    strokes: tuple[Stroke, ...] = ()
    patches: tuple[Patch, ...] = ()
    marks: tuple[Mark, ...] = ()

    def bounds(self) -> Bounds:
        """The smallest upright rectangle round everything; an empty scene is a single point at the origin."""
        lines = [stroke.points for stroke in self.strokes]
        lines += [ring for patch in self.patches for ring in patch.rings]
        lines.append(np.array([mark.at for mark in self.marks], dtype=np.complex128))
        points = np.concatenate(lines)
        if not points.size:
            return Bounds(0j, 0j)
        low = complex(points.real.min(), points.imag.min())
        return Bounds(low, complex(points.real.max(), points.imag.max()))

    def roles(self) -> frozenset[Role]:
        """The looks and signs this scene makes use of."""
        drawn: set[Role] = {stroke.look for stroke in self.strokes}
        drawn |= {patch.look for patch in self.patches}
        drawn |= {mark.sign for mark in self.marks}
        return frozenset(drawn)


def _polyline(points: ArrayLike, fewest: int, what: str) -> NDArray[np.complex128]:
    """An unchangeable copy of the points, of shape (n,) with n >= fewest."""
    copy = np.array(points, dtype=np.complex128)
    if copy.ndim != 1 or copy.size < fewest:
        raise ValueError(f"{what} is a row of at least {fewest} points, not of shape {copy.shape}")
    if not np.abs(copy.view(np.float64)).max() <= FARTHEST_MM:
        raise _too_far(what)
    copy.setflags(write=False)
    return copy


def _near(place: complex, what: str) -> None:
    if not (abs(place.real) <= FARTHEST_MM and abs(place.imag) <= FARTHEST_MM):
        raise _too_far(what)


def _too_far(what: str) -> ValueError:
    return ValueError(f"{what} has to lie within {FARTHEST_MM:g} mm of the origin")
