"""Letters that fill one cell each."""

import unicodedata

_ASCII_SPELLING = str.maketrans({"\u2044": "/", "\u2212": "-", "\u2013": "-", "\u00d7": "x", "\u00b0": "deg"})


def spelled(label: str, *, ascii: bool) -> str:
    """A label in letters that fill one cell each; what can't be spelled so becomes a question mark."""
    if ascii:
        plain = unicodedata.normalize("NFKD", label).translate(_ASCII_SPELLING)
        bare = "".join(letter for letter in plain if not unicodedata.combining(letter))
        return bare.encode("ascii", "replace").decode("ascii")
    composed = unicodedata.normalize("NFC", label)
    return "".join(letter if _single(letter) else "?" for letter in composed)


def _single(letter: str) -> bool:
    """Whether a letter fills one cell (Unicode Standard Annex 11)."""
    wide = unicodedata.east_asian_width(letter) in "WF"
    return not wide and unicodedata.category(letter) not in ("Mn", "Me", "Cf")
