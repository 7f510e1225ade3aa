"""On which line of a TOML file a key stands, near enough to lead a person to it.

The standard reader keeps no lines. Keys inside an inline table or an array over several lines are given the line of
the key they belong to.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TypeAlias

Step: TypeAlias = str | int
Path: TypeAlias = tuple[Step, ...]

_HEADER = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_.\"' -]+?)\s*\]\]?\s*(?:#.*)?")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+(?:\s*\.\s*[A-Za-z0-9_-]+)*)\s*=")


def key_lines(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every key and table header that stands at the start of a line."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    quoted = False
    for number, line in enumerate(text.splitlines(), 1):
        if line.count('"""') % 2:
            opens, quoted = not quoted, not quoted
            if not opens:
                continue
        elif quoted:
            continue
        if match := _HEADER.fullmatch(line):
            table = _header(match[2], match[1] == "[[", counts)
            lines.setdefault(table, number)
        elif match := _KEY.match(line):
            lines.setdefault((*table, *(part.strip() for part in match[1].split("."))), number)
    return lines


def _header(name: str, is_array: bool, counts: dict[Path, int]) -> Path:
    """The path of a table header; each array of tables on the way stands at its last number."""
    path: Path = ()
    parts = [part.strip().strip("\"'") for part in name.split(".")]
    for k, part in enumerate(parts):
        path = (*path, part)
        if is_array and k == len(parts) - 1:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path


def line_of(path: Path, lines: dict[Path, int]) -> int | None:
    """The line of a key, or of the nearest key above it."""
    for size in range(len(path), 0, -1):
        if path[:size] in lines:
            return lines[path[:size]]
    return None


def path_words(path: Sequence[Step]) -> str:
    """A path as people read it, items counted from 1: ``tasks 2, goals 1, tolerance``."""
    words: list[str] = []
    for step in path:
        if isinstance(step, int) and words:
            words[-1] += f" {step + 1}"
        else:
            words.append(str(step))
    return ", ".join(words)
