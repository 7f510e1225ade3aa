"""A learner of the class, and the names that files get from a learner's."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from tutor.faults import Fault
from tutor.letters import LATIN
from tutor.units import Unit

LONGEST_NAME = 60
LONGEST_FILE = 40
RESERVED = re.compile(r"con|prn|aux|nul|com\d|lpt\d")
"""Names that one system gives to devices, whatever ending follows."""
HIDDEN = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0")
"""Letters and marks that nobody sees (Unicode Standard, Default_Ignorable_Code_Point, but for those of other kinds)."""


@dataclass(frozen=True, slots=True)
class Learner:
    """One of the class. ``file`` is what the learner's files are called, one a folder; ``deal`` the variant's code."""

    name: str
    unit: Unit
    file: str = ""
    deal: str = ""


def read_name(text: str, where: str) -> str:
    """A learner's name, single spaces between its words. Raises Fault for none, or one that can't be shown."""
    name = " ".join(unicodedata.normalize("NFC", text).split())
    if not name:
        raise Fault(where, "has no name", "write the learner's name")
    if not name.isprintable():
        raise Fault(where, "has a name with letters that can't be shown", "write the name in plain letters")
    if len(name) > LONGEST_NAME:
        raise Fault(where, f"has a name of {len(name)} letters", f"write at most {LONGEST_NAME}")
    return name


def key_of(name: str) -> str:
    """What two ways of writing one name have in common: capitals, spaces and the way accents are stored aside."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def file_names(names: Iterable[str]) -> list[str]:
    """A name for each learner's files, of small letters, figures and hyphens alone, no two alike on any system.

    Latin letters are spelled by those of ASCII, letters of other scripts stay as they are.
    """
    taken: set[str] = set()
    return [another_file(_stem(name, number), taken) for number, name in enumerate(names, 1)]


def another_file(stem: str, taken: set[str]) -> str:
    """The stem, with a number where other files are called so; ``taken`` has the keys of those, and gains its own."""
    given, again = stem, 2
    while file_key(given) in taken:
        given, again = f"{stem}-{again}", again + 1
    taken.add(file_key(given))
    return given


def file_key(file: str) -> str:
    """What two names of files share that some system takes for one: capitals, and how accents are stored, aside."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", file).casefold())


def is_file_name(file: str) -> bool:
    """Whether the files of a learner may be called so."""
    plain = all(letter == "-" or _is_letter(letter) or _is_mark(letter) for letter in file)
    return 0 < len(file) <= 2 * LONGEST_FILE and plain and file == file.lower() and not RESERVED.fullmatch(file)


def _stem(name: str, number: int) -> str:
    """What a learner's files are called where nobody else's are; by a number where the name has no letter."""
    written = ""
    for letter in unicodedata.normalize("NFKC", name):
        written += _in_file(letter, written)
    words = "-".join(filter(None, unicodedata.normalize("NFC", written.lower()).split("-")))
    stem = words[:LONGEST_FILE].strip("-")
    return f"learner-{number}" if not stem or RESERVED.fullmatch(stem) else stem


def _in_file(letter: str, before: str) -> str:
    """A letter of a name as it stands in the name of a file, after what stands there before it."""
    bare = (each for each in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(each))
    spelled = "".join(LATIN.get(each, each) for each in bare)
    if spelled and spelled.isascii():
        return spelled if spelled.isalnum() else "-"
    if _is_mark(letter):
        # Vowels of many scripts are marks; what is left of them on Latin letters are accents.
        return "" if before[-1:].isascii() else letter
    return letter if _is_letter(letter) else "-"


def _is_letter(letter: str) -> bool:
    category = unicodedata.category(letter)
    return category == "Nd" or (category[0] == "L" and letter not in HIDDEN)


def _is_mark(letter: str) -> bool:
    return unicodedata.category(letter) in ("Mn", "Mc") and letter not in HIDDEN
