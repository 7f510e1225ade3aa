"""What commands print and write."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from tutor.faults import Fault


def print_json(value: object) -> None:
    """Prints a value as JSON, figures with all their digits."""
    print(json.dumps(value, indent=2, allow_nan=False))


def print_table(rows: Sequence[Sequence[str]]) -> None:
    """Prints rows of equally many cells, the first column to the left and all others to the right."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    for first, *others in rows:
        cells = [cell.rjust(width) for cell, width in zip(others, widths[1:], strict=True)]
        print("  ".join([first.ljust(widths[0]), *cells]).rstrip())


def write_new(path: Path, text: str, *, force: bool) -> None:
    """Writes a text file. Raises Fault when there is one by that name, unless forced, or it can't be written."""
    from tutor.toml_reading import file_fault

    try:
        with path.open("w" if force else "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        right = "give another name" if path.is_dir() else "give another name, or --force to write over it"
        raise Fault(str(path), "is there already", right) from None
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None
