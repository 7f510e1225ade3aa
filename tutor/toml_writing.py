"""Plain tables written as TOML 1.0 that reads back as the same tables."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def toml_text(table: Mapping[str, Any], head: Sequence[str] = ()) -> str:
    """The table as TOML, after the lines of ``head`` as comments.

    Texts, whole numbers, numbers, truth values, lists and tables of them; lists of tables below other keys stand as
    tables of their own. Raises TypeError for anything else, None among it.
    """
    return "\n".join([*(f"# {line}" for line in head), *_table(table, ())]) + "\n"


def _table(table: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    later: list[tuple[str, Any]] = []
    for key, value in table.items():
        if isinstance(value, Mapping) or (path == () and _is_tables(value)):
            later.append((key, value))
        else:
            yield f"{_key(key)} = {_inline(value)}"
    for key, value in later:
        inner = (*path, key)
        name = ".".join(map(_key, inner))
        for each in value if _is_tables(value) else [value]:
            yield ""
            yield f"[[{name}]]" if _is_tables(value) else f"[{name}]"
            yield from _flat(each) if _is_tables(value) else _table(each, inner)


def _flat(table: Mapping[str, Any]) -> Iterator[str]:
    return (f"{_key(key)} = {_inline(value)}" for key, value in table.items())


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, Mapping) for each in value)


def _inline(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        return (
            "{ " + ", ".join(f"{_key(key)} = {_inline(each)}" for key, each in value.items()) + " }" if value else "{}"
        )
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_inline, value))}]"
    raise TypeError(f"{type(value).__name__} can't be written as TOML")


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else quoted(key)


def quoted(text: str) -> str:
    """A TOML basic string; JSON's escapes are TOML's, but for the one letter that JSON leaves as it is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
