"""Arc lengths at 30 digits by mpmath's quadrature, which shares nothing with ours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import mpmath

DIGITS = 30


def exact_length(controls: Sequence[complex]) -> Any:
    """The arc length of one cubic as an mpmath number: mpmath.quad of |B'(t)| over [0, 1].

    The interval is cut at the real parts of the roots of B', and more and more finely towards them, as mpmath's
    manual asks for integrands that are nearly singular.
    """
    with mpmath.workdps(DIGITS):
        c0, c1, c2, c3 = (mpmath.mpc(complex(point)) for point in controls)
        d0, d1, d2 = 3 * (c1 - c0), 3 * (c2 - c1), 3 * (c3 - c2)
        # mpmath stops at an absolute error, so it gets a curve of size 1.
        size = max(abs(d0), abs(d1), abs(d2))
        if size == 0:
            return mpmath.mpf(0)
        d0, d1, d2 = d0 / size, d1 / size, d2 / size

        def speed(t: Any) -> Any:
            return abs((1 - t) ** 2 * d0 + 2 * t * (1 - t) * d1 + t**2 * d2)

        stops = {mpmath.mpf(0), mpmath.mpf(1)}
        for root in _roots(d0 - 2 * d1 + d2, 2 * (d1 - d0), d0):
            finest = abs(mpmath.im(root))
            away = [mpmath.mpf(0)]
            width = mpmath.mpf(1)
            while width > finest and width > mpmath.mpf(10) ** -18:
                width /= 8
                away += [width, -width]
            stops |= {mpmath.re(root) + step for step in away}
        return size * mpmath.quadgl(speed, sorted(stop for stop in stops if 0 <= stop <= 1))


def _roots(a: Any, b: Any, c: Any) -> list[Any]:
    """The roots of a t^2 + b t + c that there are."""
    if a == 0:
        return [-c / b] if b != 0 else []
    with mpmath.workdps(4 * DIGITS):
        spread = mpmath.sqrt(b * b - 4 * a * c)
        return [(-b + spread) / (2 * a), (-b - spread) / (2 * a)]
