"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import resource
import signal
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from threading import Barrier

import pytest

from tutor.faults import Fault
from tutor.whole_file import PART, write_new, write_whole

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


@pytest.fixture(params=["Linux", "no unnamed files", "no links"])
def system(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """What the system can do: as it is here, or less, as others and as memory cards do."""

    def no_link(*_: object, **__: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    if request.param != "Linux":
        monkeypatch.delattr(os, "O_TMPFILE")
    if request.param == "no links":
        monkeypatch.setattr(os, "link", no_link)
    return str(request.param)


@pytest.mark.usefixtures("system")
def test_of_several_that_make_a_file_at_once_one_does_and_keeps_it(tmp_path: Path) -> None:
    makers, rounds = 4, 25
    start = Barrier(makers, timeout=5)
    told: set[str] = set()

    def make(maker: int) -> list[int]:
        """The rounds in which this one made the file."""
        made = []
        for number in range(rounds):
            start.wait()
            try:
                write_new(tmp_path / f"{number}.svg", 100_000 * str(maker), over=False, how_over=WAY)
            except Fault as fault:
                told.add(fault.what)
            else:
                made.append(number)
        return made

    with ThreadPoolExecutor(makers) as pool:
        made = list(pool.map(make, range(makers)))
    assert told == {"is there already"}
    assert sorted(number for each in made for number in each) == list(range(rounds))
    for maker, numbers in enumerate(made):
        for number in numbers:
            assert (tmp_path / f"{number}.svg").read_text() == 100_000 * str(maker)
    assert len(list(tmp_path.iterdir())) == rounds


@pytest.mark.usefixtures("system")
def test_of_two_processes_that_make_a_file_at_once_one_does(tmp_path: Path) -> None:
    """Both wait for the end of one pipe, which they see in the same instant."""
    for number in range(20):
        path = tmp_path / f"{number}.svg"
        waits, starts = os.pipe()
        makers = []
        for maker in "ab":
            child = os.fork()
            if child == 0:
                os.close(starts)
                os.read(waits, 1)
                try:
                    write_new(path, 100_000 * maker, over=False, how_over=WAY)
                except Fault as fault:
                    os._exit(1 if fault.what == "is there already" else 2)
                os._exit(0)
            makers.append(child)
        os.close(starts)
        os.close(waits)
        ended = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in makers]
        assert sorted(ended) == [0, 1]
        assert path.read_text() == 100_000 * "ab"[ended.index(0)]
    assert len(list(tmp_path.iterdir())) == 20


def test_who_is_killed_while_a_file_is_made_leaves_none_by_its_name(tmp_path: Path, system: str) -> None:
    """The system kills a process that writes beyond its limit, if it does not say otherwise (setrlimit(2))."""
    path = tmp_path / "sleeve.svg"
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        write_new(path, 3000 * "x", over=False, how_over=WAY)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGXFSZ
    assert not path.exists()
    left = [each.name for each in tmp_path.iterdir()]
    assert all(name.startswith(".") and name.endswith(PART) for name in left)
    # Not every disk under Linux has files without a name, but one by a name of its own is all that is left.
    assert len(left) <= 1 if system == "Linux" else len(left) == 1
    write_new(path, "whole", over=False, how_over=WAY)
    assert path.read_text() == "whole"


@pytest.mark.usefixtures("system")
def test_a_new_file_may_be_read_as_any_other_may(tmp_path: Path) -> None:
    (tmp_path / "usual").write_text("")
    write_new(tmp_path / "new", "", over=False, how_over=WAY)
    assert (tmp_path / "new").stat().st_mode == (tmp_path / "usual").stat().st_mode


@pytest.mark.usefixtures("system")
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


@pytest.mark.usefixtures("system")
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
