"""Plain tables as text that is alike on every machine."""

from __future__ import annotations

import json


def canonical(table: object) -> str:
    """A plain table as JSON with sorted keys and no blanks, in ASCII. Raises TypeError or ValueError for no such."""
    return json.dumps(table, sort_keys=True, separators=(",", ":"), ensure_ascii=True, allow_nan=False)
