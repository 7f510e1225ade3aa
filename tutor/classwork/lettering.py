"""How wide words come out, near enough to break them into lines that fit in whatever sans-serif letters are at hand.

The widths are those of wide sans-serif letters, in thousandths of their size, taken together in a few classes; narrower
letters leave a little room.
"""

from __future__ import annotations

from functools import lru_cache

from tutor.practice.whole_figures import NO_BREAK, kept_together

_CLASSES = {"iIjl.,:;'|!": 340, f"ftr()[]-/ {NO_BREAK}": 410, "mwMW%@": 960, "—": 1000}
_WIDTHS = {letter: width for letters, width in _CLASSES.items() for letter in letters}
LETTER, CAPITAL, WIDE = 630, 730, 1000
BOLD = 1.12


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a text is, in mm, at the most, in letters of a size in mm."""
    return sum(map(_width, text)) * size / 1000 * (BOLD if bold else 1.0)


@lru_cache(maxsize=1024)
def _width(letter: str) -> int:
    if letter in _WIDTHS:
        return _WIDTHS[letter]
    if ord(letter) > 0x2E7F:
        return WIDE
    return CAPITAL if letter.isupper() else LETTER


def broken(text: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """The text in lines no wider than ``width`` mm; a word that is wider by itself is cut.

    No figure is parted from its fraction or its unit.
    """
    lines: list[str] = []
    line = ""
    for word in kept_together(" ".join(text.split())).split(" "):
        for part in _parts(word, width, size, bold):
            longer = f"{line} {part}" if line else part
            if line and width_of(longer, size, bold=bold) > width:
                lines.append(line)
                longer = part
            line = longer
    return [each.replace(NO_BREAK, " ") for each in (*lines, line) if each]


def _parts(word: str, width: float, size: float, bold: bool) -> list[str]:
    parts, part = [], ""
    for letter in word:
        if part and width_of(part + letter, size, bold=bold) > width:
            parts.append(part)
            part = ""
        part += letter
    return [*parts, part]
