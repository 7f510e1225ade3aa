"""Short texts that reports share."""

from __future__ import annotations

import importlib
from functools import cache

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
            slashes, openings = (len(table.get(key, ())) for key in ("slash", "opening"))
            parts = [_counted(slashes, "slash", "slashes"), _counted(openings, "opening", "openings")]
            if table.get("armhole"):
                parts.append("the armhole's answer")
            return f"a plan: {', '.join(filter(None, parts))} (from {source})"
        case GivenDrawing():
            return f"the altered pattern, drawn (from {source})"
        case GivenPoints(lines):
            count = sum(map(len, lines.values()))
            return f"the altered pattern, traced in {count} points (from {source})"
    return f"not readable ({source})"


def _counted(count: int, one: str, many: str) -> str:
    return "" if not count else f"{count} {one if count == 1 else many}"
