"""Files written whole or not at all: on a full disk, or killed half way, what was there before is there still."""

from __future__ import annotations

import os
import secrets
import shutil
from contextlib import suppress
from pathlib import Path

from tutor.faults import Fault
from tutor.file_reading import file_fault

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


def make_whole(path: Path, content: bytes) -> None:
    """Makes a file that was not there, and never writes over one that somebody else makes meanwhile.

    It gets its name when it is whole, so that who is killed half way leaves none; where the system knows files without
    a name, nothing at all. Raises FileExistsError when there is one by that name; OSError leaves nothing behind.
    """
    if os.path.lexists(path):
        raise FileExistsError(str(path))
    try:
        _make_unnamed(path, content)
    except FileExistsError:
        raise
    except (AttributeError, OSError):
        # Another system, or a folder on another machine: what is wrong otherwise is wrong here too.
        _make_beside(path, content)


def _make_unnamed(path: Path, content: bytes) -> None:
    """By a file that has no name at first (Linux, open(2)). AttributeError or OSError where there are none."""
    with open(os.open(path.parent, os.O_WRONLY | os.O_TMPFILE, 0o666), "wb") as file:
        file.write(content)
        file.flush()
        handle = file.fileno()
        # Only with a folder's handle is the link followed to the file; as the path is whole, any will do.
        os.link(f"/proc/self/fd/{handle}", path, src_dir_fd=handle, follow_symlinks=True)


def _make_beside(path: Path, content: bytes) -> None:
    """By a file beside it, under a name that no other process has."""
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}{PART}")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        with open(os.open(part, flags, 0o666), "wb") as file:
            file.write(content)
        _name(part, path)
    finally:
        with suppress(OSError):
            part.unlink()


def _name(part: Path, path: Path) -> None:
    """Gives what is whole its name. Raises FileExistsError when that is taken."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except OSError:
        # A disk without links, such as a camera's card: the name is taken first, and then what bears it replaced.
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        os.replace(part, path)


def write_new(path: Path, text: str, *, over: bool, how_over: str) -> None:
    """Writes a file that was not there, or with ``over`` in the place of one that was; ``how_over`` says how to ask.

    Raises Fault when there is one by that name, or it can't be written; then nothing is left behind, or what was there.
    """
    try:
        _write(path, text.encode(), over=over)
    except FileExistsError:
        right = "give another name" if path.is_dir() else f"give another name, or {how_over}"
        raise Fault(str(path), "is there already", right) from None
    except FileNotFoundError:
        raise Fault(str(path), "is in a folder that is not there", "make the folder first, or name another") from None
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None


def _write(path: Path, content: bytes, *, over: bool) -> None:
    if not over:
        make_whole(path, content)
        return
    # Through a link its file is written, as people expect who have laid one.
    there = Path(os.path.realpath(path))
    if there.exists() and not there.is_file():
        # A device or a pipe takes what it is given, and can't be replaced; a folder refuses.
        with there.open("wb") as file:
            file.write(content)
    else:
        write_whole(there, content)
