"""Affine maps, and the transform attribute (W3C, SVG 1.1, section 7.6)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeVar

from tutor.faults import Fault
from tutor.geometry.cubic import Complexes
from tutor.pattern.svg_scan import Scanner

Place = TypeVar("Place", complex, Complexes)
LARGEST = 1e15
MOST = 100
"""Functions in one transform list."""


@dataclass(frozen=True, slots=True)
class Affine:
    """x, y -> a x + c y + e, b x + d y + f, on points written as x + 1j y with y down, as on an SVG page."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, place: Place) -> Place:
        x, y = place.real, place.imag
        return (self.a * x + self.c * y + self.e) + 1j * (self.b * x + self.d * y + self.f)

    def __matmul__(self, first: Affine) -> Affine:
        """This map after ``first``."""
        return Affine(
            self.a * first.a + self.c * first.b,
            self.b * first.a + self.d * first.b,
            self.a * first.c + self.c * first.d,
            self.b * first.c + self.d * first.d,
            self.a * first.e + self.c * first.f + self.e,
            self.b * first.e + self.d * first.f + self.f,
        )

    @classmethod
    def shift(cls, x: float, y: float) -> Affine:
        """The map that moves everything by x and y."""
        return cls(e=x, f=y)

    @property
    def stretch(self) -> float:
        """The most that any length grows by: the larger singular value."""
        turned = math.hypot(self.a + self.d, self.b - self.c)
        mirrored = math.hypot(self.a - self.d, self.b + self.c)
        return (turned + mirrored) / 2

    def usable(self) -> bool:
        """Whether its numbers are finite and below 1e15."""
        return all(abs(number) < LARGEST for number in (self.a, self.b, self.c, self.d, self.e, self.f))


def read_transform(text: str, where: str) -> Affine:
    """The map of a transform list: the last function is done first, as for nested groups.

    Raises Fault for a function that SVG does not have, or the wrong count of numbers.
    """
    scan = Scanner(text, where)
    whole = Affine()
    count = 0
    if text.strip() == "none":
        return whole
    while not scan.ended():
        name = scan.word()
        scan.sign("(")
        numbers: list[float] = []
        while scan.more() and len(numbers) <= 6:
            numbers.append(scan.number())
        scan.sign(")")
        scan.comma()
        count += 1
        if count > MOST:
            raise Fault(where, f"has a transform of more than {MOST} functions", "a few are enough")
        whole = whole @ _function(name, numbers, where)
    return whole


def _function(name: str, numbers: list[float], where: str) -> Affine:
    match name, numbers:
        case "matrix", [a, b, c, d, e, f]:
            return Affine(a, b, c, d, e, f)
        case "translate", [x]:
            return Affine.shift(x, 0.0)
        case "translate", [x, y]:
            return Affine.shift(x, y)
        case "scale", [x]:
            return Affine(a=x, d=x)
        case "scale", [x, y]:
            return Affine(a=x, d=y)
        case "rotate", [angle]:
            return _rotation(angle)
        case "rotate", [angle, x, y]:
            return Affine.shift(x, y) @ _rotation(angle) @ Affine.shift(-x, -y)
        case "skewX", [angle]:
            return Affine(c=math.tan(math.radians(angle)))
        case "skewY", [angle]:
            return Affine(b=math.tan(math.radians(angle)))
    raise Fault(
        where,
        f"the transform {name[:20]} with {len(numbers)} numbers is none of SVG's",
        "matrix takes 6, translate and scale 1 or 2, rotate 1 or 3, skewX and skewY 1",
    )


def _rotation(degrees: float) -> Affine:
    angle = math.radians(degrees)
    cos, sin = math.cos(angle), math.sin(angle)
    return Affine(cos, sin, -sin, cos)
