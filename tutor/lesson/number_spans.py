"""Numbers of lessons told in spans, as a quiz takes them: "1-28, 101"."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby


def spans(numbers: Iterable[int]) -> str:
    """The numbers in their order and each once; three or more that follow on each other are a span."""
    parts: list[str] = []
    for _, run in groupby(enumerate(sorted(set(numbers))), lambda placed: placed[1] - placed[0]):
        members = [number for _, number in run]
        parts += [f"{members[0]}-{members[-1]}"] if len(members) > 2 else map(str, members)
    return ", ".join(parts)
