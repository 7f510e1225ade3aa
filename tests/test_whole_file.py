"""Files written whole or not at all."""

from __future__ import annotations

import resource
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tutor.faults import Fault
from tutor.whole_file import write_new, write_whole

WAY = "say so"


@contextmanager
def no_room() -> Iterator[None]:
    """No file may grow beyond a thousand bytes, which fails as a full disk does: not that of the tests' output either.

    So it holds for what is tried alone, and not for a whole test, after which its outcome is written.
    """
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        signal.signal(signal.SIGXFSZ, handler)


def test_a_new_file_is_written_and_one_that_is_there_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "sleeve.svg"
    write_new(path, "é\n", over=False, how_over=WAY)
    assert path.read_bytes() == "é\n".encode()
    with pytest.raises(Fault, match=rf"is there already.*or {WAY}"):
        write_new(path, "other", over=False, how_over=WAY)
    assert path.read_bytes() == "é\n".encode()


def test_what_is_written_over_keeps_its_permissions_and_its_link(tmp_path: Path) -> None:
    path, link = tmp_path / "sleeve.svg", tmp_path / "link.svg"
    path.write_text("old")
    path.chmod(0o640)
    link.symlink_to(path)
    write_new(link, "new", over=True, how_over=WAY)
    assert path.read_text() == "new"
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert sorted(tmp_path.iterdir()) == [link, path]


def test_where_there_is_no_room_nothing_is_left_behind_or_lost(tmp_path: Path) -> None:
    new, old = tmp_path / "new.svg", tmp_path / "old.svg"
    old.write_text("old")
    for path, over in ((new, False), (new, True), (old, True)):
        with no_room(), pytest.raises(Fault):
            write_new(path, 3000 * "x", over=over, how_over=WAY)
    with no_room(), pytest.raises(OSError, match="too large"):
        write_whole(old, 3000 * b"x")
    assert old.read_text() == "old"
    assert list(tmp_path.iterdir()) == [old]


@pytest.mark.parametrize("over", [False, True])
def test_a_folder_is_no_file(tmp_path: Path, over: bool) -> None:
    with pytest.raises(Fault, match=r"is there already|is a folder"):
        write_new(tmp_path, "x", over=over, how_over=WAY)
