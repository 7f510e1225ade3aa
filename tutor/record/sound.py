"""Rows as they should be: of what somebody else has written into a record, only that is taken which makes sense."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Annotated, Any

import msgspec

Count = Annotated[int, msgspec.Meta(ge=0, le=1_000_000)]
Tasks = Annotated[int, msgspec.Meta(ge=0, le=1000)]
Share = Annotated[float, msgspec.Meta(ge=0, le=1)]
FIRST_YEAR, LAST_YEAR = 1900, 9000
"""A clock can have been wrong by any number of years, but dates near the ends of all dates can't be reckoned with."""


def sound(rows: Iterable[tuple[Any, ...]], kind: Any) -> list[Any]:
    """The rows that are of the kind, a type of tuples; all others are left out."""
    found = []
    for row in rows:
        with contextlib.suppress(msgspec.ValidationError):
            found.append(msgspec.convert(row, kind))
    return found


def time_of(text: str) -> datetime:
    """A time as it is kept; one without a zone is in UTC. Raises ValueError for what is none, or beyond belief."""
    time = datetime.fromisoformat(text)
    if not FIRST_YEAR <= time.year <= LAST_YEAR:
        raise ValueError(text)
    return time if time.tzinfo is not None else time.replace(tzinfo=UTC)
