"""A mistake recognised, and how near an answer must lie to what the mistake leads to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

RIGHT = "right"
"""Stands for the right answer beside the names of mistakes."""
CLEAR = 0.5
"""mm by which the next candidate must lie farther away."""


@dataclass(frozen=True, slots=True)
class Named:
    """A mistake by its name, and what is said of it: what was done, and what to do next."""

    mistake: str
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True, order=True)
class Confusion:
    """Two answers of a task that can't be told apart: names of mistakes, or RIGHT."""

    first: str
    second: str


def clear_winner(ranked: Sequence[tuple[float, str]], near: float, clear: float) -> int | None:
    """The number of the nearest of (distance, mistake) when it is near, and every other mistake clearly farther."""
    if not ranked:
        return None
    best = min(range(len(ranked)), key=lambda k: ranked[k][0])
    distance, name = ranked[best]
    others = [other for other, each in ranked if each != name]
    return best if distance <= near and min(others, default=distance + clear) >= distance + clear else None


def confused(pairs: Iterable[tuple[str, str]]) -> tuple[Confusion, ...]:
    """Confusions, each once."""
    return tuple(sorted({Confusion(*sorted(pair)) for pair in pairs}))
