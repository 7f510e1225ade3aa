"""Tables of TOML as values of a kind: every fault of their keys with its place and what would be right."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

import msgspec

from tutor.faults import Fault

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
