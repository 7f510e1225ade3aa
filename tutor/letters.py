"""Which letters whoever reads the output can be expected to see, and how others are spelled."""

from __future__ import annotations

import codecs
import io
import os
import sys
import unicodedata
from collections.abc import Mapping
from typing import TextIO

PLAIN_LOCALES = ("C", "POSIX")
COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
"""What Python itself puts in LC_CTYPE where the locale is C or POSIX (PEP 538)."""
UTF = ("utf8", "utf16", "utf32")
SPELLED = "sleeve-tutor-spelled"
"""The name of what an output does about letters that its encoding lacks: they are spelled by those it has."""
# fmt: off
LATIN = {
    "Đ": "D", "đ": "d", "Ð": "D", "ð": "d", "Þ": "Th", "þ": "th", "Æ": "Ae", "æ": "ae",
    "Œ": "Oe", "œ": "oe", "Ø": "O", "ø": "o", "Ł": "L", "ł": "l", "Ħ": "H", "ħ": "h",
    "Ŋ": "Ng", "ŋ": "ng", "Ŧ": "T", "ŧ": "t", "ß": "ss", "ẞ": "SS", "ı": "i", "ĸ": "k",
    "Ə": "E", "ə": "e", "Ɛ": "E", "ɛ": "e", "Ɔ": "O", "ɔ": "o", "Ɓ": "B", "ɓ": "b",
    "Ɗ": "D", "ɗ": "d", "Ɖ": "D", "ɖ": "d", "Ƙ": "K", "ƙ": "k", "Ƴ": "Y", "ƴ": "y",
    "Ƒ": "F", "ƒ": "f",
}
# fmt: on
"""Latin letters that are no letter of ASCII with an accent, and how they are spelled where they can't be written."""
_ASCII = str.maketrans(
    {"°": " deg", "²": "2", "’": "'", "‘": "'", "“": '"', "”": '"', "–": "-", "—": "-", "…": "...", "×": "x", "−": "-"}
)


def in_ascii(text: str) -> str:
    """The text in the letters of ASCII: accents dropped, other letters as question marks."""
    plain = unicodedata.normalize("NFKD", text.translate(_ASCII)).replace("\N{FRACTION SLASH}", "/")
    spelled = "".join(LATIN.get(c, c) for c in plain if not unicodedata.combining(c))
    return spelled.encode("ascii", "replace").decode("ascii")


def spell_out(output: TextIO | None) -> None:
    """Has an output spell what its encoding lacks; one whose reader wants ASCII gets nothing else."""
    if isinstance(output, io.TextIOWrapper):
        encoding = output.encoding if takes_every_letter(output) or not _is_utf(output.encoding) else "ascii"
        output.reconfigure(encoding=encoding, errors=SPELLED)


def _spelled(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return in_ascii(error.object[error.start : error.end]), error.end


codecs.register_error(SPELLED, _spelled)


def takes_every_letter(output: TextIO | None, environment: Mapping[str, str] = os.environ) -> bool:
    """Whether an output takes all of Unicode: by its encoding and, as Python takes UTF-8 for granted, by the locale."""
    encoding = getattr(output, "encoding", None)
    if encoding is not None and not _is_utf(encoding):
        return False
    return output is not sys.stdout or not _is_plain(environment)


def _is_utf(encoding: str) -> bool:
    return encoding.casefold().replace("-", "") in UTF


def _is_plain(environment: Mapping[str, str]) -> bool:
    """Whether a person has chosen the locale of plain ASCII, and no encoding besides."""
    if environment.get("PYTHONIOENCODING") or environment.get("PYTHONUTF8") == "1":
        return False
    if environment.get("LC_ALL"):
        return environment["LC_ALL"] in PLAIN_LOCALES
    ctype, language = environment.get("LC_CTYPE", ""), environment.get("LANG", "")
    if ctype and ctype not in COERCED:
        return ctype in PLAIN_LOCALES
    return language in PLAIN_LOCALES
