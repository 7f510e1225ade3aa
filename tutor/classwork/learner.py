"""A learner of the class, and the names that files get from a learner's."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from tutor.faults import Fault
from tutor.units import Unit

LONGEST_NAME = 60
LONGEST_FILE = 40
RESERVED = re.compile(r"con|prn|aux|nul|com\d|lpt\d")
"""Names that one system gives to devices, whatever ending follows."""
_NOT_PLAIN = re.compile(r"[^a-z0-9]+")


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
    """A name for each learner's files, of small letters, figures and hyphens alone, no two alike."""
    taken: set[str] = set()
    found = []
    for number, name in enumerate(names, 1):
        plain = unicodedata.normalize("NFKD", name).casefold().encode("ascii", "ignore").decode("ascii")
        stem = _NOT_PLAIN.sub("-", plain).strip("-")[:LONGEST_FILE].strip("-")
        if not stem or RESERVED.fullmatch(stem):
            stem = f"learner-{number}"
        given, again = stem, 2
        while given in taken:
            given, again = f"{stem}-{again}", again + 1
        taken.add(given)
        found.append(given)
    return found
