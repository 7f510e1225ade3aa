"""Short texts that reports share."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from functools import cache
from typing import Any

from tutor.alteration.amounts import AMOUNTS, MEANS
from tutor.classwork.given import Given, GivenDrawing, GivenPlan, GivenPoints, GivenText
from tutor.marking import mistakes


@cache
def mistake_words(name: str) -> str:
    """What a usual mistake is, in a sentence: what its module says of it."""
    plain = name.replace("-", " ").capitalize() + "."
    try:
        module = importlib.import_module(f"{mistakes.__name__}.{name.replace('-', '_')}")
    except ImportError:
        return plain
    return (module.__doc__ or plain).strip().split("\n")[0]


def given_words(given: Given | None, source: str) -> str:
    """An answer as it was given, in a line."""
    match given:
        case GivenText(text):
            return " ".join(text.split())
        case GivenPlan(table):
            return f"a plan: {', '.join(_parts_of(table)) or 'nothing in it'} (from {source})"
        case GivenDrawing():
            return f"the altered pattern, drawn (from {source})"
        case GivenPoints(lines):
            count = sum(map(len, lines.values()))
            return f"the altered pattern, traced in {count} points (from {source})"
    return f"not readable ({source})"


def _parts_of(table: Mapping[str, Any]) -> list[str]:
    """What a plan's table has: slashes and openings counted, and the other means in words."""
    slashes, openings = (len(table.get(key, ())) for key in ("slash", "opening"))
    parts = [_counted(slashes, "slash", "slashes"), _counted(openings, "opening", "openings")]
    if table.get("set-back"):
        parts.append(MEANS["set-back"])
    parts += [MEANS[each.means] for each in AMOUNTS if _given(table, each.path)]
    return list(dict.fromkeys(filter(None, parts)))


def _given(table: Mapping[str, Any], path: tuple[str, ...]) -> bool:
    """Whether a plan's table has an amount, or what it is solved for, at this place or right above it."""
    for key in path:
        inside = table.get(key)
        if isinstance(inside, Mapping) and "for" in inside:
            return True
        if not isinstance(inside, Mapping):
            return inside not in (None, 0, "", "0")
        table = inside
    return bool(table)


def _counted(count: int, one: str, many: str) -> str:
    return "" if not count else f"{count} {one if count == 1 else many}"
