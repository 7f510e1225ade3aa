"""TOML values made into structs, strictly: every unknown key, missing key and wrong value is a fault with its place."""

from __future__ import annotations

import datetime
import difflib
import functools
import operator
import types
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias, TypeVar, Union, get_args, get_origin

import msgspec

from tutor.faults import Fault
from tutor.lesson.amount import Amount, read_amount
from tutor.toml_lines import Path, line_of, path_words
from tutor.units import Unit

Value = TypeVar("Value", bound=msgspec.Struct)

LONGEST_NAME = 40
NEAR = 0.75
"""How like a word is to what may be meant by it, 0 to 1, before that is asked."""
_KINDS = {
    str: "a text",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
    Amount: "a length",
    datetime.date: "a date such as 2026-11-20",
}


class Wrong:
    """Stands for a value that could not be read; its fault is noted."""


WRONG = Wrong()

LEFT_OUT = object()
"""Stands for a value that could not be read where there may be none."""

Hook: TypeAlias = "Callable[[Reader, object, Path], object]"


@dataclass(slots=True)
class Reader:
    """Reads values of one file, in whose ``unit`` bare lengths are, and gathers the faults it meets.

    ``hooks`` read the kinds of values that are no structs; they note their own faults and answer WRONG.
    """

    file: str
    unit: Unit
    lines: dict[Path, int] = field(default_factory=dict)
    hooks: Mapping[type, Hook] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def read(self, kind: type[Value], value: object) -> Value | None:
        """The struct, or None when there were faults."""
        before = len(self.faults)
        found = self._struct(kind, value, ())
        return found if isinstance(found, kind) and len(self.faults) == before else None

    def where(self, path: Path, at: Path = ()) -> str:
        """A path of keys as a place: the file, the line, the keys. ``at`` is what has the line, if something else."""
        line = line_of(at or path, self.lines)
        inside = ", ".join(filter(None, [f"line {line}" if line else "", path_words(path)]))
        return f"{self.file}: {inside}" if inside else self.file

    def fault(self, path: Path, what: str, right: str = "") -> None:
        """Notes a fault at a path of keys."""
        self.faults.append(Fault(self.where(path), what, right))

    def is_read(self, path: Path) -> bool:
        """Whether the value at a path is the one that was written, and not one in its place."""
        return True

    def known_measure(self, name: str, path: Path) -> bool:
        """Whether there is such a measure; if not, that is noted."""
        from tutor.pattern.measures import MEASURES

        if name in MEASURES:
            return True
        near = difflib.get_close_matches(name, MEASURES, 3, 0.4)
        right = f"there is {' or '.join(near)}" if near else f"there are {', '.join(MEASURES)}"
        self.fault(path, f'"{name[:LONGEST_NAME]}" is no measure', right)
        return False

    def value(self, kind: Any, value: object, path: Path) -> object:
        """A value of a kind, or WRONG when its faults are noted."""
        if kind in self.hooks:
            return self.hooks[kind](self, value, path)
        origin = get_origin(kind)
        if origin in (Union, types.UnionType):
            return self._one_of(get_args(kind), value, path)
        if origin is tuple:
            return self._items(get_args(kind), value, path)
        if origin is dict:
            return self._table(get_args(kind)[1], value, path)
        if origin is Literal:
            return self._choice(get_args(kind), value, path)
        if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
            return self._struct(kind, value, path)
        return self._leaf(kind, value, path)

    def _struct(self, kind: type[msgspec.Struct], value: object, path: Path) -> object:
        if not isinstance(value, Mapping):
            return self._wrong(path, f"is {_described(value)}, not a table")
        tag = kind.__struct_config__.tag_field
        fields = {f.encode_name: f for f in msgspec.structs.fields(kind)}
        for key in value:
            if key not in fields and key != tag:
                self.fault((*path, str(key)[:LONGEST_NAME]), "is no key here", _suggestion(key, fields))
        given: dict[str, object] = {}
        for name, known in fields.items():
            found: object = LEFT_OUT
            if name in value:
                found = self.value(known.type, value[name], (*path, name))
            elif known.required:
                found = self._wrong((*path, name), "is missing", f"write {_wanted(known.type)}")
            if found is WRONG:
                found = self.stand_in(known.type, (*path, name), needed=known.required)
            if found is not LEFT_OUT:
                given[known.name] = found
        return WRONG if any(item is WRONG for item in given.values()) else kind(**given)

    def _one_of(self, kinds: Sequence[Any], value: object, path: Path) -> object:
        kinds = [kind for kind in kinds if kind is not type(None)]
        if len(kinds) == 1:
            return self.value(kinds[0], value, path)
        if not all(isinstance(kind, type) and issubclass(kind, msgspec.Struct) for kind in kinds):
            return self._leaf(functools.reduce(operator.or_, kinds), value, path)
        if not isinstance(value, Mapping):
            return self._wrong(path, f"is {_described(value)}, not a table")
        by_tag = {kind.__struct_config__.tag: kind for kind in kinds}
        tag = str(kinds[0].__struct_config__.tag_field)
        if tag not in value:
            return self._wrong((*path, tag), "is missing", f"write one of {', '.join(by_tag)}")
        if not isinstance(value[tag], str) or value[tag] not in by_tag:
            return self._wrong((*path, tag), f"{_quoted(value[tag])} is not known", f"write one of {', '.join(by_tag)}")
        return self._struct(by_tag[value[tag]], value, path)

    def _items(self, kinds: Sequence[Any], value: object, path: Path) -> object:
        if not isinstance(value, list):
            return self._wrong(path, f"is {_described(value)}, not a list")
        if kinds[-1] is Ellipsis:
            kinds = [kinds[0]] * len(value)
        if len(value) != len(kinds):
            return self._wrong(path, f"has {len(value)} items", f"write {len(kinds)}")
        pairs = enumerate(zip(kinds, value, strict=True))
        found = [self._item(kind, item, (*path, k)) for k, (kind, item) in pairs]
        return WRONG if any(item is WRONG for item in found) else tuple(found)

    def _table(self, kind: Any, value: object, path: Path) -> object:
        if not isinstance(value, Mapping):
            return self._wrong(path, f"is {_described(value)}, not a table")
        found = {str(key): self._item(kind, item, (*path, str(key))) for key, item in value.items()}
        return WRONG if any(item is WRONG for item in found.values()) else found

    def stand_in(self, kind: Any, path: Path, *, needed: bool = True) -> object:
        """What takes the place of a value that could not be read: nothing, and what holds it can't be read either."""
        return WRONG

    def _item(self, kind: Any, value: object, path: Path) -> object:
        found = self.value(kind, value, path)
        return self.stand_in(kind, path) if found is WRONG else found

    def _choice(self, choices: Sequence[object], value: object, path: Path) -> object:
        if isinstance(value, str) and value in choices:
            return value
        right = f"write one of {', '.join(map(str, choices))}"
        what = f"{_quoted(value)} is not known" if isinstance(value, str) else f"is {_described(value)}"
        return self._wrong(path, what, right)

    def _leaf(self, kind: Any, value: object, path: Path) -> object:
        if kind is Amount:
            try:
                return read_amount(value, self.where(path), self.unit)
            except Fault as fault:
                self.faults.append(fault)
                return WRONG
        if isinstance(value, str) and not value.replace("\n", "").isprintable():
            return self._wrong(path, "has letters that can't be shown", "write plain text")
        try:
            return msgspec.convert(value, kind, strict=True)
        except msgspec.ValidationError:
            return self._wrong(path, f"is {_described(value)}", f"write {_wanted(kind)}")

    def _wrong(self, path: Path, what: str, right: str = "") -> Wrong:
        self.fault(path, what, right)
        return WRONG


def _suggestion(key: str, fields: Mapping[str, object]) -> str:
    near = difflib.get_close_matches(key, fields, 1, NEAR)
    return f"did you mean {near[0]}?" if near else f"there are {', '.join(fields)}"


def _wanted(kind: Any) -> str:
    """What a value of this kind is called when it is asked for."""
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        return " or ".join(_wanted(part) for part in get_args(kind) if part is not type(None))
    if origin is tuple:
        kinds = get_args(kind)
        return "a list" if kinds[-1] is Ellipsis else f"a list of {len(kinds)}"
    if origin is Literal:
        return f"one of {', '.join(get_args(kind))}"
    return getattr(kind, "wanted", _KINDS.get(kind, "a table"))


def _quoted(value: object) -> str:
    return f'"{str(value)[:LONGEST_NAME]}"'


def _described(value: object) -> str:
    """A value as a person would call it who has just written it."""
    if isinstance(value, str):
        return "a text"
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int | float):
        return "a number"
    if isinstance(value, list):
        return "a list"
    return "a table" if isinstance(value, Mapping) else "a date or time"
