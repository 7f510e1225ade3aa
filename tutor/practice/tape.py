"""The tape: measures of a task before, now, and as wanted."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from tutor.lesson.goal import Aim
from tutor.marking.credit import tolerance_of
from tutor.marking.figures import bounds
from tutor.pattern.measures import Kind, kind_of, words_for
from tutor.units import Unit

MET = "met"
"""What is said of a measure within its tolerance."""


@dataclass(frozen=True, slots=True)
class TapeRow:
    """One measure, in its own unit. ``now`` is None while paper refuses the plan; ``wanted`` when nothing is asked.

    ``off`` is how far now lies outside what is wanted, signed, and ``met`` whether that is inside the tolerance; both
    are None when nothing is asked or there is no now.
    """

    measure: str
    words: str
    kind: Kind
    before: float
    now: float | None
    wanted: str | None = None
    off: float | None = None
    met: bool | None = None
    nearer: str | None = None
    """Of two bounds the nearer one alone, for few columns."""

    @property
    def change(self) -> float | None:
        return None if self.now is None else self.now - self.before


def tape_rows(
    aims: Sequence[Aim],
    others: Sequence[str],
    before: Mapping[str, float],
    now: Mapping[str, float] | None,
    unit: Unit,
) -> tuple[TapeRow, ...]:
    """Rows for the aims in their order, then for other measures; a measure comes once, with all that is asked of it."""
    found: dict[str, Aim | None] = {}
    for aim in aims:
        found[aim.measure] = _both(found.get(aim.measure), aim)
    for name in others:
        found.setdefault(name, None)
    return tuple(_row(name, aim, before, now, unit) for name, aim in found.items() if name in before)


def _both(one: Aim | None, other: Aim) -> Aim:
    """What meets both of two aims for a measure; the first of them where nothing can."""
    if one is None:
        return other
    low, high = max(one.low, other.low), min(one.high, other.high)
    return Aim(one.measure, low, high, min(one.tolerance, other.tolerance)) if low <= high else one


def _row(
    name: str, aim: Aim | None, before: Mapping[str, float], now: Mapping[str, float] | None, unit: Unit
) -> TapeRow:
    figure = None if now is None else now.get(name)
    row = (name, words_for(name), kind_of(name), before[name], figure)
    if aim is None:
        return TapeRow(*row)
    off = None if figure is None else aim.off(figure)
    met = None if off is None else abs(off) <= tolerance_of(aim, unit)
    nearer = _nearer(aim, before[name] if figure is None else figure)
    return TapeRow(*row, bounds(aim, unit), off, met, None if nearer is None else bounds(nearer, unit))


def _nearer(aim: Aim, figure: float) -> Aim | None:
    """The bound that the figure is nearer to, alone; None where there are not two."""
    if not math.isfinite(aim.high - aim.low) or aim.low == aim.high or aim.high == 0:
        return None
    above = abs(figure - aim.high) <= abs(figure - aim.low)
    return replace(aim, low=-math.inf) if above else replace(aim, high=math.inf)
