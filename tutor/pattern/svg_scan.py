"""Numbers and lengths as SVG writes them (W3C, SVG 1.1, sections 4.2 and 8.3.9; units as in CSS Values level 3)."""

from __future__ import annotations

import math
import re

from tutor.faults import Fault

LARGEST = 1e12
"""Numbers beyond this, in whatever unit, are refused: no sum or product of a few of them can overflow."""
SMALLEST = 1e-30
"""Numbers nearer to nothing than this are nothing, so that dividing by one can't overflow either."""
LONGEST = 100
"""Characters of one number."""
MOST_NUMBERS = 200_000
"""Of one list."""
PX = 25.4 / 96
MM = {"": PX, "px": PX, "in": 25.4, "cm": 10.0, "mm": 1.0, "q": 0.25, "pt": 25.4 / 72, "pc": 25.4 / 6}
"""Millimetres to each absolute unit of CSS; 96 px are an inch."""

_NUMBER = re.compile(r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)([ \t\n\r\f]*,?[ \t\n\r\f]*)")
_SPACE = re.compile(r"[ \t\n\r\f]*")
_FLAG = re.compile(r"([01])([ \t\n\r\f]*,?[ \t\n\r\f]*)")
_WORD = re.compile(r"[A-Za-z]+")
_LENGTH = re.compile(r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)([A-Za-z]*|%)")


class Scanner:
    """Reads one attribute from left to right; ``where`` is what its faults are told about.

    Numbers may follow each other with a space, one comma, or nothing where nothing is needed.
    """

    __slots__ = ("_comma", "at", "text", "where")

    def __init__(self, text: str, where: str) -> None:
        self.text = text
        self.where = where
        self.at = 0
        self._comma = False
        self.space()

    def fault(self, what: str, right: str = "") -> Fault:
        """A fault at this place of the attribute."""
        rest = self.text[self.at : self.at + 12]
        place = f'"{rest}" at character {self.at + 1}' if rest else "the end"
        return Fault(self.where, f"{what}, not {place}", right)

    def space(self) -> None:
        """Passes over white space."""
        found = _SPACE.match(self.text, self.at)
        self.at = found.end() if found else self.at

    def ended(self) -> bool:
        """Whether nothing is left. Raises Fault after a comma that nothing follows."""
        if self.at < len(self.text):
            return False
        if self._comma:
            raise self.fault("a number was expected")
        return True

    def number(self) -> float:
        """The next number. Raises Fault if there is none, or it is beyond 1e12."""
        found = _NUMBER.match(self.text, self.at)
        if not found:
            raise self.fault("a number was expected")
        value = _value(found[1], self.where)
        self.at = found.end()
        self._comma = "," in found[2]
        return value

    def more(self) -> bool:
        """Whether a number, or a comma's promise of one, comes next."""
        return self._comma or bool(_NUMBER.match(self.text, self.at))

    def flag(self) -> bool:
        """The next flag, one digit 0 or 1. Raises Fault for anything else."""
        found = _FLAG.match(self.text, self.at)
        if not found:
            raise self.fault("a flag 0 or 1 was expected")
        self.at = found.end()
        self._comma = "," in found[2]
        return found[1] == "1"

    def letter(self, known: str) -> str:
        """The next letter, one of ``known``. Raises Fault for anything else."""
        letter = self.text[self.at : self.at + 1]
        if self._comma or not letter or letter not in known:
            raise self.fault(f"one of {' '.join(known)} or a number was expected")
        self.at += 1
        self.space()
        return letter

    def word(self) -> str:
        """The next run of letters, as it stands before a bracket. Raises Fault if there is none."""
        found = _WORD.match(self.text, self.at)
        if not found:
            raise self.fault("a word was expected")
        self.at = found.end()
        self.space()
        return found[0]

    def sign(self, sign: str) -> None:
        """Passes over one sign. Raises Fault if it isn't there."""
        if self._comma or not self.text.startswith(sign, self.at):
            raise self.fault(f'"{sign}" was expected')
        self.at += len(sign)
        self.space()

    def comma(self) -> None:
        """Passes over a comma, if there is one."""
        if self.text.startswith(",", self.at):
            self.at += 1
            self.space()


def read_numbers(text: str, where: str) -> list[float]:
    """All numbers of a list. Raises Fault for anything else in it, and for more than 200,000."""
    scan = Scanner(text, where)
    numbers = []
    while not scan.ended():
        numbers.append(scan.number())
        if len(numbers) > MOST_NUMBERS:
            raise Fault(where, f"has more than {MOST_NUMBERS:,} numbers", "a seam needs a few")
    return numbers


def _value(text: str, where: str) -> float:
    if len(text) > LONGEST:
        raise Fault(where, f'the number "{text[:20]}…" has {len(text)} characters', f"{LONGEST} are enough")
    value = float(text)
    if not math.isfinite(value) or abs(value) > LARGEST:
        raise Fault(where, f"the number {text} is too large", "patterns are smaller than 100 m")
    return value if abs(value) >= SMALLEST else 0.0


def _split(text: str, where: str, known: str) -> tuple[float, str]:
    found = _LENGTH.fullmatch(text.strip())
    if not found or found[2].lower() not in MM:
        raise Fault(where, f'"{text[:40]}" is not a length known here', known)
    return _value(found[1], where), found[2].lower()


def read_mm(text: str, where: str) -> float:
    """A length in mm. Raises Fault for a percentage, a unit that depends on a typeface, or no length."""
    value, unit = _split(text, where, "a number with mm, cm, in, px, pt, pc or Q")
    return value * MM[unit]


def read_px(text: str, where: str) -> float:
    """A length in user units, px. Raises Fault as ``read_mm``."""
    value, unit = _split(text, where, "a number, alone or with mm, cm, in, px, pt, pc or Q")
    return value if unit in ("", "px") else value * (MM[unit] / PX)
