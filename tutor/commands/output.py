"""What commands print."""

from __future__ import annotations

import csv
import io
import json
import sys
from collections.abc import Iterable, Sequence

from tutor.letters import in_ascii, takes_every_letter


def print_json(value: object) -> None:
    """Prints a value as JSON, figures with all their digits."""
    print(json.dumps(value, indent=2, allow_nan=False))


def print_data(text: str) -> None:
    """Prints what other programs read, in UTF-8 whatever letters people get."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8", "replace"))
    else:
        print(text, end="")


def print_csv(rows: Iterable[Sequence[object]]) -> None:
    """Prints a table for a spreadsheet."""
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows(rows)
    print_data(text.getvalue())


def print_table(rows: Sequence[Sequence[str]]) -> None:
    """Prints rows of equally many cells, the first column to the left and all others to the right."""
    if not takes_every_letter(sys.stdout):
        rows = [[in_ascii(cell) for cell in row] for row in rows]
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    for first, *others in rows:
        cells = [cell.rjust(width) for cell, width in zip(others, widths[1:], strict=True)]
        print("  ".join([first.ljust(widths[0]), *cells]).rstrip())
