"""Tenths of an inch read as sixteenths, or sixteenths as tenths."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from tutor.marking.case import NumberCase
from tutor.marking.mistake import Figured, Mistake
from tutor.units import SIXTEENTHS, Unit

INCH = 25.4
NEXT = "A tape in inches is divided into sixteenths, and a decimal counts tenths: 0.5 is 8/16."


def _figures(case: NumberCase, unit: Unit) -> Iterator[Figured]:
    """For an inch or more: of less, too many readings lie side by side."""
    if unit is not Unit.INCH or not case.is_length or abs(case.right) < INCH:
        return
    as_tenths, as_sixteenths = _read_as_tenths(case.right), _read_as_sixteenths(case.right)
    if as_tenths is not None:
        yield Figured(as_tenths, lambda show: f"{as_tenths / INCH:g} in is sixteenths written as a decimal.", NEXT)
    if as_sixteenths is not None:
        yield Figured(as_sixteenths, lambda show: f"{show(as_sixteenths)} is tenths read as sixteenths.", NEXT)


def _read_as_tenths(mm: float) -> float | None:
    """3 5/16 in written as 3.5, 3 11/16 as 3.11; None where there are no sixteenths."""
    whole, rest = divmod(round(abs(Fraction(mm)) / Unit.INCH.mm * SIXTEENTHS), SIXTEENTHS)
    return None if not rest else _signed(mm, float(f"{whole}.{rest}"))


def _read_as_sixteenths(mm: float) -> float | None:
    """3.5 in read as 3 5/16; None where there are no tenths."""
    whole, tenths = divmod(round(abs(Fraction(mm)) / Unit.INCH.mm * 10), 10)
    return None if not tenths else _signed(mm, float(whole + Fraction(tenths, SIXTEENTHS)))


def _signed(like: float, inches: float) -> float:
    return inches * INCH if like >= 0 else -inches * INCH


MISTAKE = Mistake(
    "tenths-for-sixteenths", _figures, typed=True, words="tenths of an inch read as sixteenths, or the reverse"
)
