"""Files of which nobody knows what they are: only plain ones are read, never a link, and never more than is of use."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tutor.faults import Fault
from tutor.file_reading import file_fault, size_words

LONGEST_NAME = 100
MOST_FILES = 40_000
DEEPEST = 3
"""Folders in folders that are looked into."""


def read_plain(path: Path, most: int, where: str) -> bytes:
    """The bytes of a plain file. Raises Fault for a link, a device, a pipe, a folder, or more than ``most`` bytes."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        if path.is_symlink():
            raise Fault(where, "is a link, and links are not followed", "give the file itself")
        handle = os.open(path, flags)
    except (OSError, ValueError) as error:
        raise file_fault(where, error) from None
    with open(handle, "rb") as file:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            raise Fault(where, "is no plain file", "give a file that holds an answer")
        if status.st_size > most:
            raise Fault(where, f"is over {size_words(most)}", "a smaller file is enough")
        data = file.read(most + 1)
    if len(data) > most:
        raise Fault(where, f"is over {size_words(most)}", "a smaller file is enough")
    return data


def file_beside(path: Path, name: str, endings: tuple[str, ...], where: str) -> Path:
    """The file called ``name`` in the same folder as ``path``.

    Raises Fault for what could lead out of that folder, or ends otherwise than in one of ``endings``.
    """
    plain = name.isprintable() and 0 < len(name) <= LONGEST_NAME and not name.startswith(".")
    if not plain or any(sign in name for sign in '/\\:*?"<>|'):
        shown = "".join(letter if letter.isprintable() else "?" for letter in name[:40])
        raise Fault(where, f'"{shown}" is no name of a file beside this one', "give the bare name, without a folder")
    if not name.casefold().endswith(endings):
        raise Fault(where, f'"{name[:40]}" is no file for this', f"give one that ends in {' or '.join(endings)}")
    return path.parent / name


@dataclass(frozen=True, slots=True)
class Found:
    """A plain file, and what it is called in messages: its way from the folder that was asked for."""

    path: Path
    name: str

    @property
    def place(self) -> str:
        """Where the file lies, whichever way it was given by."""
        return place_of(self.path)


def place_of(path: Path) -> str:
    """Where a file lies, whichever way it was given by; a link is itself, and not what it leads to."""
    return os.path.join(os.path.realpath(path.parent), path.name)


def plain_files(path: Path) -> Iterator[Found | Fault]:
    """The plain files that a path stands for, itself or those in a folder, in the order of their names.

    Hidden files are passed over; links and whatever else is no plain file are told as faults, each by itself.
    """
    if path.is_symlink() or not path.is_dir():
        yield Found(path, path.name)
        return
    waiting = [(path, "", 0)]
    count = 0
    while waiting:
        folder, before, depth = waiting.pop()
        inner: list[tuple[Path, str, int]] = []
        for entry in _entries(folder, before or folder.name):
            if isinstance(entry, Fault):
                yield entry
                continue
            name = f"{before}{entry.name}"
            count += 1
            if count > MOST_FILES:
                yield Fault(str(path), f"holds more than {MOST_FILES:,} files", "give a folder with answers alone")
                return
            if entry.is_symlink():
                yield Fault(name, "is a link, and links are not followed", "give the file itself")
            elif entry.is_dir(follow_symlinks=False):
                if depth < DEEPEST:
                    inner.append((Path(entry.path), f"{name}/", depth + 1))
                else:
                    yield Fault(name, "is a folder too deep inside others", "put answers into one folder")
            elif entry.is_file(follow_symlinks=False):
                yield Found(Path(entry.path), name)
            else:
                yield Fault(name, "is no plain file", "give a file that holds an answer")
        waiting += reversed(inner)


def _entries(folder: Path, name: str) -> Iterator[os.DirEntry[str] | Fault]:
    try:
        with os.scandir(folder) as entries:
            found = sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        yield file_fault(name, error)
        return
    for entry in found:
        if not entry.name.startswith("."):
            yield entry
