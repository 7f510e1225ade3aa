"""Lengths, areas and angles as people write and read them; inside, millimetres and radians."""

import math
import re
import unicodedata
from enum import Enum
from fractions import Fraction

from tutor.faults import Fault

LONGEST_TEXT = 40
"""How many characters a length may take; far more than any length on paper needs."""

GREATEST_LENGTH = 100_000
"""The greatest length in mm that is believed: 100 m."""

SIXTEENTHS = 16
"""The divisions of an inch on a tape."""


class Unit(Enum):
    """A unit of length, by its sign: ``Unit("in") is Unit.INCH``."""

    CM = "cm"
    INCH = "in"
    MM = "mm"

    @property
    def mm(self) -> Fraction:
        """How many millimetres it is, exactly; the inch by the yard and pound agreement of 1959."""
        return _MILLIMETRES[self]


_MILLIMETRES = {Unit.CM: Fraction(10), Unit.INCH: Fraction(254, 10), Unit.MM: Fraction(1)}

_UNIT_OF_WORD = {
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Unit.CM),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''"), Unit.INCH),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Unit.MM),
}

_AS_TYPED = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{HYPHEN}": "-",
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{EN DASH}": "-",
        "\N{FRACTION SLASH}": "/",
        "\N{DIVISION SLASH}": "/",
        "\N{DOUBLE PRIME}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    }
)

_VULGAR = {sign: Fraction(unicodedata.numeric(sign)).limit_denominator(10) for sign in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"}
_VULGAR_SIGN = f"[{''.join(_VULGAR)}]"

_LENGTH = re.compile(
    rf"""(?P<sign>[+-]?)\s*
    (?P<number>(?:[0-9.,/\s-]|{_VULGAR_SIGN})+?)\s*
    (?P<unit>[a-z]+\.?|["']+)?""",
    re.VERBOSE,
)
_DECIMAL = re.compile(r"[0-9]+[.,]?|[0-9]*[.,][0-9]+")
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)")
_VULGAR_FRACTION = re.compile(rf"(?:(?P<whole>[0-9]+)(?:\s*|-))?(?P<fraction>{_VULGAR_SIGN})")
_GROUPED = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}|[0-9]+(?:[.,][0-9]+){2,}")

_THOUSANDS = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?|[0-9]{1,3}(?:\.[0-9]{3})+(?:,[0-9]+)?")
"""Numbers whose thousands are set off, and perhaps decimals by the other sign."""


def parse_length(text: str, default: Unit, where: str = "length") -> float:
    """The length that the text means, in mm, correctly rounded; a number without a unit is in ``default``.

    Fractions and decimals, a decimal point or comma, either sign, and the usual signs of each unit are read.
    Raises Fault, with ``where`` as its place, for text that means no length, means two, or means one beyond
    100 m.
    """
    try:
        return _length(text.translate(_AS_TYPED).strip().casefold(), default)
    except _Unreadable as reason:
        raise Fault(where, f"{_quoted(text)} {reason.what}", reason.right) from None


class _Unreadable(Exception):
    """What is wrong with a text, to be said after the text itself, and what would be right."""

    def __init__(self, what: str, right: str = "write a length such as 1 1/2 in, 3.8 cm or 38 mm") -> None:
        self.what = what
        self.right = right
        super().__init__(what, right)


def _quoted(text: str) -> str:
    text = text.strip()
    return f'"{text}"' if len(text) <= LONGEST_TEXT else f'"{text[:LONGEST_TEXT]}…"'


def _length(text: str, default: Unit) -> float:
    if len(text) > LONGEST_TEXT:
        raise _Unreadable("is too long for a length")
    match = _LENGTH.fullmatch(text)
    if match is None:
        raise _Unreadable("is not a length")
    length = _number(match["number"]) * _unit(match["unit"], default).mm
    if length > GREATEST_LENGTH:
        raise _Unreadable("is beyond 100 m")
    return float(-length if match["sign"] == "-" else length)


def _unit(word: str | None, default: Unit) -> Unit:
    if word is None:
        return default
    if word not in _UNIT_OF_WORD:
        raise _Unreadable("ends in no unit known here", "use cm, mm or in")
    return _UNIT_OF_WORD[word]


def _number(figures: str) -> Fraction:
    if _GROUPED.fullmatch(figures):
        raise _two_readings(figures)
    if _DECIMAL.fullmatch(figures):
        return Fraction(figures.replace(",", ".").rstrip("."))
    if match := _FRACTION.fullmatch(figures):
        if int(match["under"]) == 0:
            raise _Unreadable("divides by zero")
        return _mixed(match["whole"], Fraction(int(match["over"]), int(match["under"])))
    if match := _VULGAR_FRACTION.fullmatch(figures):
        return _mixed(match["whole"], _VULGAR[match["fraction"]])
    raise _Unreadable("is not a length")


def _mixed(whole: str | None, fraction: Fraction) -> Fraction:
    if whole is None:
        return fraction
    if fraction >= 1:
        raise _Unreadable("has a fraction that is not below one")
    return int(whole) + fraction


def _two_readings(figures: str) -> _Unreadable:
    """The fault of a number whose last comma or point may set off decimals or thousands."""
    if not _THOUSANDS.fullmatch(figures):
        raise _Unreadable("can't be read as one number", "write one comma or point, before the decimals")
    *groups, last = re.split("[.,]", figures)
    before = "".join(groups)
    return _Unreadable("can mean two numbers", f"write {before}.{last} or {before}{last}")


def format_length(mm: float, unit: Unit, signed: bool = False, decimals: int = 1) -> str:
    """A length in mm as people read it: ``38.1 cm``, ``13 3/8 in``, ``381.0 mm``.

    ``decimals`` is for centimetres; inches go by sixteenths and millimetres by tenths. ``signed`` puts a plus
    before what is above zero. Raises ValueError for what is not finite.
    """
    if unit is Unit.INCH:
        return format_inches(mm, signed)
    places = decimals if unit is Unit.CM else 1
    return f"{_decimal(mm / float(unit.mm), places, signed)} {unit.value}"


def format_inches(mm: float, signed: bool = False) -> str:
    """A length in mm as inches to the nearest sixteenth, in lowest terms: ``13 3/8 in``, ``-1/16 in``.

    Raises ValueError for what is not finite.
    """
    sixteenths = round(Fraction(_finite(mm)) / Unit.INCH.mm * SIXTEENTHS)
    whole, rest = divmod(abs(sixteenths), SIXTEENTHS)
    figures = [str(whole)] if whole or not rest else []
    if rest:
        figures.append(str(Fraction(rest, SIXTEENTHS)))
    return f"{_sign(sixteenths, signed)}{' '.join(figures)} in"


def format_area(square_mm: float, unit: Unit, signed: bool = False) -> str:
    """An area in square mm as people read it: ``12.3 cm²``, or ``1.91 sq in`` where lengths are in inches.

    Raises ValueError for what is not finite.
    """
    if unit is Unit.INCH:
        return f"{_decimal(square_mm / float(Unit.INCH.mm**2), 2, signed)} sq in"
    return f"{_decimal(square_mm / 100, 1, signed)} cm²"


def format_angle(radians: float, signed: bool = False) -> str:
    """An angle in radians as degrees to one decimal: ``19.2°``. Raises ValueError for what is not finite."""
    return f"{_decimal(math.degrees(radians), 1, signed)}°"


def _decimal(value: float, places: int, signed: bool) -> str:
    """The value to so many places; what rounds to zero has no sign."""
    text = f"{abs(_finite(value)):.{places}f}"
    rounded = math.copysign(float(text), value)
    return _sign(rounded, signed) + text


def _sign(value: float, signed: bool) -> str:
    if value < 0:
        return "-"
    return "+" if signed and value > 0 else ""


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"{value} can't be shown as a measure")
    return value
