"""Text files that are written whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

from tutor.faults import Fault
from tutor.toml_reading import file_fault


def replace_whole(path: Path, text: str) -> None:
    """Puts a text in the place of a file, or where there is none. OSError leaves what was there as it was."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-")
    try:
        with open(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        with suppress(FileNotFoundError):
            shutil.copymode(path, name)
        os.replace(name, path)
    except BaseException:
        os.unlink(name)
        raise


def write_new(path: Path, text: str, *, over: bool, how_over: str) -> None:
    """Writes a file that was not there, or with ``over`` in the place of one that was; ``how_over`` says how to ask.

    Raises Fault when there is one by that name, or it can't be written; then nothing is left behind, or what was there.
    """
    try:
        if over and path.is_file():
            replace_whole(path.resolve(), text)
        else:
            _create(path, text, over=over)
    except FileExistsError:
        right = "give another name" if path.is_dir() else f"give another name, or {how_over}"
        raise Fault(str(path), "is there already", right) from None
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None


def _create(path: Path, text: str, *, over: bool) -> None:
    with path.open("w" if over else "x", encoding="utf-8", newline="\n") as file:
        # Of a device nothing can be taken back.
        ours = path.is_file()
        try:
            file.write(text)
            file.flush()
        except BaseException:
            if ours:
                path.unlink()
            raise
