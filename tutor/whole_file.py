"""Files written whole or not at all: on a full disk, or killed half way, what was there before is there still."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from tutor.faults import Fault
from tutor.toml_reading import file_fault

PART = ".part"


def write_whole(path: Path, content: bytes, *, lasting: bool = False) -> None:
    """Puts a file in the place of what is there, with its permissions. OSError leaves what was there as it was.

    What is half written lies beside it under one name, so that the next try replaces it. ``lasting`` waits until it is
    on the disk, which is for what could not be made again. Raises ValueError for what is no name of a file.
    """
    part = path.with_name(f".{path.name}{PART}")
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    handle = os.open(part, flags, 0o666)
    try:
        with open(handle, "wb") as file:
            file.write(content)
            if lasting:
                file.flush()
                os.fsync(handle)
        with suppress(FileNotFoundError):
            shutil.copymode(path, part)
        os.replace(part, path)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise


def write_new(path: Path, text: str, *, over: bool, how_over: str) -> None:
    """Writes a file that was not there, or with ``over`` in the place of one that was; ``how_over`` says how to ask.

    Raises Fault when there is one by that name, or it can't be written; then nothing is left behind, or what was there.
    """
    try:
        _write(path, text.encode(), over=over)
    except FileExistsError:
        right = "give another name" if path.is_dir() else f"give another name, or {how_over}"
        raise Fault(str(path), "is there already", right) from None
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None


def _write(path: Path, content: bytes, *, over: bool) -> None:
    if not over and os.path.lexists(path):
        raise FileExistsError(str(path))
    # Through a link its file is written, as people expect who have laid one.
    there = Path(os.path.realpath(path))
    if there.exists() and not there.is_file():
        # A device or a pipe takes what it is given, and can't be replaced; a folder refuses.
        with there.open("wb") as file:
            file.write(content)
    else:
        write_whole(there, content)
