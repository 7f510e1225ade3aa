"""Files read whole up to a limit, and what the system says of one that can't be, as a fault."""

from __future__ import annotations

import codecs
from pathlib import Path

from tutor.faults import Fault

LARGEST = 1_000_000
"""Bytes; what people write by hand takes a few thousand."""

LOOKED_INTO = 4096
"""Bytes; all that people take for a text by mistake has a zero byte among them."""
OTHER_FILES = (b"PK\3\4", b"%PDF-", b"\x89PNG", b"\xff\xd8\xff")
"""What the files of spreadsheets, printed pages and pictures begin with."""


def read_bytes(path: Path, most: int = LARGEST) -> bytes:
    """The bytes of a file. Raises Fault when there is none, it can't be read, or has more than ``most``."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None
    if len(data) > most:
        raise Fault(str(path), f"is over {size_words(most)}", "a smaller file is enough")
    return data


def is_no_text(content: bytes) -> bool:
    """Whether content that is no UTF-8 is no text of any kind, but a picture, a spreadsheet's own file or the like."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return False
    return b"\0" in content[:LOOKED_INTO] or content.startswith(OTHER_FILES)


def size_words(size: int) -> str:
    """A limit of so many bytes as it is told: "256 KB", "1 MB"."""
    return f"{size / 1024:.0f} KB" if size < 1_000_000 else f"{size / 1e6:g} MB"


def file_fault(where: str, error: OSError | ValueError) -> Fault:
    """What the system says about a file that can't be read or written, as a fault."""
    match error:
        case FileNotFoundError():
            return Fault(where, "there is no such file", "give the path of a file, or of a folder that is there")
        case IsADirectoryError():
            return Fault(where, "is a folder", "give a file")
        case PermissionError():
            return Fault(where, "may not be read or written by you", "choose another file, or change its permissions")
        case OSError():
            return Fault(where, error.strerror or "can't be read or written", "choose another file")
    return Fault(where, "is no name a file can have", "give the path of a file")
