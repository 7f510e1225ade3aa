"""TOML 1.0 as people write it, read strictly: every fault a line with its place and what would be right."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from tutor.faults import Fault
from tutor.toml_faults import parted, plainly

LARGEST = 1_000_000
"""Bytes; what people write by hand takes a few thousand."""

LONGEST_KEY = 32
"""Parts of a dotted key. The standard reader takes time and memory by the square of them."""

S = TypeVar("S", bound=msgspec.Struct)

_KINDS = {
    "array": "a list",
    "bool": "true or false",
    "date": "a date",
    "datetime": "a date",
    "float": "a number",
    "int": "a whole number",
    "object": "a table",
    "str": "text in quotes",
    "time": "a time",
}
_EXPECTED = re.compile(r"Expected `(?P<wanted>[^`]*)`, got `(?P<given>[^`]*)`")
_MISSING = re.compile(r"Object missing required field `(?P<key>.*)`")
_PATH = re.compile(r" - at `\$\.?(?P<path>[^`]*)`$")
_PART = r"""\.[ \t]*(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_LONG_KEY = re.compile(rf"{_PART}(?:[ \t]*{_PART}){{{LONGEST_KEY - 1}}}")
_TOML_PLACE = re.compile(r" \(at (?P<place>line \d+, column \d+|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Document:
    """What a TOML file holds, the text it was read from, and what its faults call it."""

    tables: Mapping[str, Any]
    text: str
    where: str

    def headers(self, name: str, count: int) -> list[str]:
        """The places of the ``count`` tables ``[[name]]``: ``file: line 9, name 2``.

        Without the line where the headers can't be told from other text.
        """
        header = re.compile(rf"[ \t]*\[\[[ \t]*{re.escape(name)}[ \t]*\]\]")
        lines = [k for k, line in enumerate(self.text.split("\n"), 1) if header.match(line)]
        at = [f"line {line}, " for line in lines] if len(lines) == count else [""] * count
        return [f"{self.where}: {place}{name} {k}" for k, place in enumerate(at, 1)]


def read_bytes(path: Path, most: int = LARGEST) -> bytes:
    """The bytes of a file. Raises Fault when there is none, it can't be read, or has more than ``most``."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None
    if len(data) > most:
        raise Fault(str(path), f"is over {size_words(most)}", "a smaller file is enough")
    return data


def size_words(size: int) -> str:
    """A limit of so many bytes as it is told: "256 KB", "1 MB"."""
    return f"{size / 1024:.0f} KB" if size < 1_000_000 else f"{size / 1e6:g} MB"


def file_fault(where: str, error: OSError | ValueError) -> Fault:
    """What the system says about a file that can't be read or written, as a fault."""
    match error:
        case FileNotFoundError():
            return Fault(where, "there is no such file", "give the path of a file, or of a folder that is there")
        case IsADirectoryError():
            return Fault(where, "is a folder", "give a file")
        case PermissionError():
            return Fault(where, "may not be read or written by you", "choose another file, or change its permissions")
        case OSError():
            return Fault(where, error.strerror or "can't be read or written", "choose another file")
    return Fault(where, "is no name a file can have", "give the path of a file")


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


def convert(table: object, kind: type[S], where: str) -> S:
    """The table as a value of ``kind``. Raises Fault, at the key where it is wrong, when it is no such table."""
    try:
        return msgspec.convert(table, kind)
    except msgspec.ValidationError as error:
        raise _misfit(str(error), table, kind, where) from None


def read_table(table: Mapping[str, object], kind: type[S], where: str) -> tuple[S | None, list[Fault]]:
    """The table as a value of ``kind``, and every fault of its keys: unknown, missing, or of another kind.

    Unknown keys alone are passed over; with any other fault there is no value.
    """
    known = {field.encode_name: field for field in msgspec.structs.fields(kind)}
    unknown = [
        Fault(where, f'"{key[:40]}" is no key known here', f"the keys are {', '.join(known)}")
        for key in map(str, table)
        if key not in known
    ]
    wrong = []
    for name, field in known.items():
        if name in table:
            try:
                msgspec.convert(table[name], field.type)
            except msgspec.ValidationError as error:
                at = f"{where}{', ' if ': ' in where else ': '}{name}"
                wrong.append(_misfit(str(error), table[name], kind, at))
        elif field.required:
            wrong.append(Fault(where, f"{name} is missing", "write it"))
    given = {key: value for key, value in table.items() if key in known}
    return None if wrong else convert(given, kind, where), [*unknown, *wrong]


def _misfit(message: str, table: object, kind: type[S], where: str) -> Fault:
    path = _PATH.search(message)
    at = f"{where}{', ' if ': ' in where else ': '}{path['path']}" if path else where
    if match := _EXPECTED.search(message):
        return Fault(at, f"is {_words(match['given'])}", f"write {_words(match['wanted'])}")
    if match := _MISSING.search(message):
        return Fault(at, f"{match['key']} is missing", "write it")
    if path is None and isinstance(table, Mapping):
        keys = kind.__struct_encode_fields__
        unknown = next((str(key) for key in table if key not in keys), "")
        return Fault(where, f'"{unknown[:40]}" is no key known here', f"the keys are {', '.join(keys)}")
    return Fault(at, message[: path.start() if path else None], "")


def _words(kinds: str) -> str:
    """msgspec's name of a type, ``int | str``, in words; that a key can be left out is not among them."""
    words = [_KINDS.get(kind, kind) for kind in kinds.split(" | ") if kind != "null"]
    if "a number" in words and "a whole number" in words:
        words.remove("a whole number")
    return " or ".join(words)
