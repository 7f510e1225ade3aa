"""Files written whole or not at all, and none written over that somebody else has changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path

from tutor.faults import Fault
from tutor.file_reading import file_fault
from tutor.whole_file import write_whole as write_over


def make_folder(folder: Path, root: Path | None = None) -> None:
    """Makes a folder if it isn't there.

    Raises Fault when that can't be, or when it, ``root`` or any folder between the two is a link to somewhere else.
    """
    refuse_links(folder, folder if root is None else root)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise file_fault(str(folder), error) from None


def refuse_links(folder: Path, root: Path) -> None:
    """Raises Fault when a folder, ``root``, or any folder between the two is a link."""
    inner = folder.relative_to(root).parts
    for part in (root, *(root.joinpath(*inner[: k + 1]) for k in range(len(inner)))):
        if part.is_symlink():
            raise Fault(str(part), "is a link", "nothing is written through links: name the folder itself")


def write_whole(path: Path, content: bytes, *, lasting: bool = False) -> bool:
    """Writes a file whole or not at all; False when it was the same already. Raises Fault.

    ``lasting`` waits until it is on the disk, which costs as much as marking an answer.
    """
    if content_of(path) == content:
        return False
    try:
        write_over(path, content, lasting=lasting)
    except OSError as error:
        raise file_fault(str(path), error) from None
    return True


def content_of(path: Path) -> bytes | None:
    """What a plain file holds; None when there is none."""
    try:
        return path.read_bytes() if path.is_file() and not path.is_symlink() else None
    except OSError:
        return None


class Ledger:
    """What was written into a folder, by digests, so that a file which was changed since is known, and kept."""

    def __init__(self, folder: Path, file: Path) -> None:
        self.folder = folder
        self._file = file
        self._known = self._read()

    def check(self, files: Iterable[tuple[Path, bytes]], *, force: bool = False) -> None:
        """Notes what is going to be written. Raises Fault for a file that somebody else has changed, unless forced.

        It is noted before anything is written: killed half way, what was written is known all the same.
        """
        files = list(files)
        if not force:
            self.refuse_changed(files)
        planned = {}
        for path, content in files:
            name = path.relative_to(self.folder).as_posix()
            there = content_of(path)
            planned[name] = sorted({_digest(content), *([_digest(there)] if there is not None else [])})
        self._known |= planned
        write_whole(self._file, json.dumps(self._known, sort_keys=True, indent=0).encode())

    def refuse_changed(self, files: Iterable[tuple[Path, bytes | None]], whole: Path | None = None) -> None:
        """Raises Fault for a file that somebody else has changed, unless it holds what is going to be written.

        The content is None where nobody knows yet what is going to be written. ``whole`` is the folder that is best
        moved away as a whole where its files are of an older version.
        """
        for path, content in files:
            if not self.is_own(path) and content_of(path) != content:
                what, right = "was changed since it was written", "move it away, or give --force to write over it"
                if not self._knows(path):
                    what = "is there already, and not as it comes out now: an older version may have made it"
                    right = "move it away and do this again, or give --force to write over it"
                    path = whole or path
                raise Fault(str(path), what, right)

    def is_own(self, path: Path) -> bool:
        """Whether a file is as it was written, or not there."""
        there = content_of(path)
        return there is None or _digest(there) in self._known.get(path.relative_to(self.folder).as_posix(), [])

    def _knows(self, path: Path) -> bool:
        return path.relative_to(self.folder).as_posix() in self._known

    def settle(self, files: Iterable[tuple[Path, bytes]]) -> None:
        """Keeps what was written, and forgets what it replaced."""
        self._known |= {path.relative_to(self.folder).as_posix(): [_digest(content)] for path, content in files}
        write_whole(self._file, json.dumps(self._known, sort_keys=True, indent=0).encode())

    def _read(self) -> dict[str, list[str]]:
        try:
            table = json.loads(content_of(self._file) or b"{}")
            return {str(name): [str(each) for each in digests] for name, digests in table.items()}
        except (ValueError, AttributeError, TypeError, RecursionError):
            return {}


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:24]
