"""How near a figure must lie to what a mistake leads to, to be told as that mistake.

What rounding takes from the figure is always allowed, and a little more for how it was read or worked out: the less
the more figures of mistakes there are, so that of answers at random hardly any comes near one by that little.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from tutor.pattern.measures import Kind, kind_of
from tutor.units import Unit

SHOWN = {Unit.CM: 0.5, Unit.MM: 0.5, Unit.INCH: 25.4 / 32}
"""mm that a length loses at the most where it is shown: half a millimetre, half a sixteenth of an inch."""
TYPED = {
    Unit.CM: (Fraction(1), Fraction(10, 8)),
    Unit.MM: (Fraction(1),),
    Unit.INCH: (Fraction(254, 80), Fraction(254, 160), Fraction(254, 100)),
}
"""Divisions, mm, that people round to when they type a length: the first that a figure is a multiple of is its own."""
SHOWN_OTHERWISE = 0.05
"""Half of the last place of degrees and per cent."""
MOST = 0.5
"""mm that is allowed at the most beside rounding."""
MOST_OTHERWISE = 0.05
"""Degrees or per cent that are: such figures lie close together, and a tenth more would take in answers at random."""
AT_RANDOM = 0.03
"""The share of answers at random that may come near a mistake by what is allowed beside rounding."""
SPREAD = 3.0
"""Answers at random are thought of as spread evenly, by ratio, over this many times less to more than the right one."""
SAME = 1e-6


def as_shown(measure: str, value: float, unit: Unit) -> float:
    """A figure as it is shown, and as people write it down before they work on with it; in its own unit."""
    division = 2 * _shown(measure, unit)
    return round(value / division) * division


def rounding(measure: str, figure: float, unit: Unit) -> float:
    """What a figure may have lost by rounding, in its own unit: half the division that it is a multiple of."""
    if kind_of(measure) is Kind.LENGTH:
        for division in map(float, TYPED[unit]):
            if abs(figure - round(figure / division) * division) < SAME:
                return division / 2
    return _shown(measure, unit)


def slack(values: Iterable[float], right: float, most: float) -> float:
    """How far from what mistakes lead to an answer may lie beside rounding: ``most``, or less where they are many.

    So much is allowed that ``AT_RANDOM`` of the answers at random lie within it of any of the ``values``.
    """
    near = [abs(value) for value in values if value * right > 0 and 1 / SPREAD <= value / right <= SPREAD]
    crowd = sum(2 / value for value in near) / math.log(SPREAD * SPREAD)
    return min(most, AT_RANDOM / crowd) if crowd else most


def _shown(measure: str, unit: Unit) -> float:
    return SHOWN[unit] if kind_of(measure) is Kind.LENGTH else SHOWN_OTHERWISE
