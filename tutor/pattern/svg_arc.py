"""Elliptical arcs as cubics (W3C, SVG 1.1, appendix F.6: the arc is given by its ends, radii and flags).

The ellipse is carried to the unit circle. There the chord alone gives the angle passed over, 2 asin(|chord| / 2), and
the direction in which the arc starts; the centre is never formed, so a large radius costs no digits.
"""

from __future__ import annotations

import cmath
import math

Row = tuple[complex, complex, complex, complex]


def arc_rows(
    start: complex,
    end: complex,
    radii: tuple[float, float],
    tilt: float,
    large: bool,
    sweep: bool,
    tolerance: float,
) -> list[Row]:
    """The cubics of an arc, nowhere farther than ``tolerance`` from it; ``tilt`` of the x radius is in degrees.

    Ends that are one point make no arc, a radius of nothing a straight line, and radii that are too small to reach
    grow until they do (F.6.2 and F.6.6).
    """
    if start == end:
        return []
    rx, ry = abs(radii[0]), abs(radii[1])
    if rx == 0 or ry == 0:
        step = (end - start) / 3
        return [(start, start + step, end - step, end)]
    turn = cmath.rect(1, math.radians(tilt))
    along = (end - start) * turn.conjugate()
    chord = complex(along.real / rx, along.imag / ry)
    half = abs(chord) / 2
    if half > 1:
        rx, ry, half = rx * half, ry * half, 1.0
    angle = 2 * math.asin(half)
    angle = 2 * math.pi - angle if large else angle
    angle = angle if sweep else -angle
    # chord = first (e^(i angle) - 1), and e^(i angle) - 1 is 2 i sin(angle / 2) e^(i angle / 2).
    first = chord / abs(chord) / (math.copysign(1, angle) * 1j * cmath.rect(1, angle / 2))

    def carried(place: complex) -> complex:
        return complex(place.real * rx, place.imag * ry) * turn

    count = max(math.ceil(abs(angle) / _widest(tolerance / max(rx, ry)) - 1e-9), 1)
    step_angle = angle / count
    handle = 4 / 3 * math.tan(step_angle / 4) * 1j
    rows: list[Row] = []
    here = start
    for k in range(1, count + 1):
        gone = k * step_angle
        risen = 2j * math.sin(gone / 2) * cmath.rect(1, gone / 2)
        there = end if k == count else start + carried(first * risen)
        leaving = carried(first * cmath.rect(1, gone - step_angle) * handle)
        arriving = carried(first * cmath.rect(1, gone) * handle)
        rows.append((here, here + leaving, there - arriving, there))
        here = there
    return rows


def _widest(relative: float) -> float:
    """The widest angle that one cubic may pass over on the unit circle, at most a quarter turn.

    The cubic with handles 4/3 tan(a / 4) strays by 2/27 sin(a / 4)^6 / cos(a / 4)^2 (closed form), and the cosine
    squared is above 0.85 up to a quarter turn. Less than 1e-17 of the radius is beyond what a double can tell.
    """
    return min(math.pi / 2, 4 * math.pow(0.85 * 13.5 * max(relative, 1e-17), 1 / 6))
