"""What commands print."""

from __future__ import annotations

import json
from collections.abc import Sequence


def print_json(value: object) -> None:
    """Prints a value as JSON, figures with all their digits."""
    print(json.dumps(value, indent=2, allow_nan=False))


def print_table(rows: Sequence[Sequence[str]]) -> None:
    """Prints rows of equally many cells, the first column to the left and all others to the right."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    for first, *others in rows:
        cells = [cell.rjust(width) for cell, width in zip(others, widths[1:], strict=True)]
        print("  ".join([first.ljust(widths[0]), *cells]).rstrip())
