"""TOML 1.0 as people write it, read strictly: what is none is a fault with its place and what would be right."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tutor.faults import Fault
from tutor.file_reading import LARGEST, is_no_text, read_bytes, size_words
from tutor.toml_faults import parted, plainly

LONGEST_KEY = 32
"""Parts of a dotted key. The standard reader takes time and memory by the square of them."""

_PART = r"""\.[ \t]*(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_LONG_KEY = re.compile(rf"{_PART}(?:[ \t]*{_PART}){{{LONGEST_KEY - 1}}}")
_TOML_PLACE = re.compile(r" \(at (?P<place>line \d+, column \d+|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Document:
    """What a TOML file holds, the text it was read from, and what its faults call it."""

    tables: Mapping[str, Any]
    text: str
    where: str


def read_toml(source: Path | bytes, where: str = "") -> Document:
    """The document in a file, or in bytes that faults call ``where``.

    Raises Fault for what can't be read, is over 1 MB, is not UTF-8, not TOML, or nested beyond all need.
    """
    if isinstance(source, Path):
        where, source = where or str(source), read_bytes(source)
    if len(source) > LARGEST:
        raise Fault(where, f"is over {size_words(LARGEST)}", "a smaller file is enough")
    try:
        # Spreadsheets and editors of one system put a mark before the first letter that TOML doesn't know.
        text = source.decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        if is_no_text(source):
            raise Fault(where, "is no text", "give a TOML file") from None
        line = source.count(b"\n", 0, error.start) + 1
        raise Fault(f"{where}: line {line}", "is not UTF-8 text", "save the file as UTF-8") from None
    return Document(parse_toml(text, where), text, where)


def parse_toml(text: str, where: str) -> dict[str, Any]:
    """The tables of TOML text. Raises Fault, with line and column where there is one, for what is none."""
    if match := _LONG_KEY.search(text):
        line = text.count("\n", 0, match.start()) + 1
        raise Fault(f"{where}: line {line}", f"has a key of over {LONGEST_KEY} parts", "three are enough")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        what = str(error)
        place = _TOML_PLACE.search(what)
        what = _TOML_PLACE.sub("", what)
        at = f"{where}: {place['place']}" if place else where
        raise Fault(at, *plainly(what, *parted(text, place["place"] if place else ""))) from None
    except ValueError:
        raise Fault(where, "has a number with thousands of figures", "write a shorter one") from None
    except RecursionError:
        raise Fault(where, "is nested too deeply", "three levels are enough") from None
