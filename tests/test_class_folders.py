"""The folders of a class: what is no answer is left alone, and nothing is written outside."""

from __future__ import annotations

import os
import time
from pathlib import Path

from class_for_tests import CAP_HEIGHT, Classroom, filled


def test_links_devices_and_pipes_are_left_alone(room: Classroom, tmp_path: Path) -> None:
    filled(room)
    secret = tmp_path / "secret.toml"
    secret.write_text(room.form("Mirjam", CAP_HEIGHT))
    (room.answers / "link.toml").symlink_to(secret)
    (room.answers / "out").symlink_to(tmp_path)
    os.mkfifo(room.answers / "pipe.toml")
    room.hand_in("mirjam.toml", room.form("Mirjam", "", "away.toml"))
    (room.answers / "away.toml").symlink_to(secret)
    start = time.monotonic()
    status, _, err = room.mark()
    assert time.monotonic() - start < 10
    assert status == 1
    assert sorted(err.splitlines()) == [
        "sleeve-tutor: away.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: link.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: mirjam.toml: away.toml: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: out: is a link, and links are not followed; give the file itself",
        "sleeve-tutor: pipe.toml: is no plain file; give a file that holds an answer",
    ]
    assert room.marks("Anouk")["mark"] == "100"
    status, _, err = room.mark(Path("/dev/zero"))
    assert (status, err) == (2, "sleeve-tutor: zero: is no answer known here; give TOML, CSV or SVG files\n")


def test_a_gigabyte_of_zeros_is_not_read(room: Classroom) -> None:
    for name in ("zeros.toml", "zeros.csv", "zeros.svg", "anouk-2.svg"):
        with (room.answers / name).open("wb") as file:
            file.truncate(1_000_000_000)
    start = time.monotonic()
    status, _, err = room.mark()
    assert time.monotonic() - start < 5
    assert status == 2
    assert err.count("B; a smaller file is enough\n") == 3
    assert "zeros.toml: is over 256 KB; a smaller" in err
    assert "zeros.svg: belongs to no learner of the class" in err


def test_other_files_are_told_and_hidden_ones_passed_over(room: Classroom) -> None:
    room.hand_in("photo.jpg", b"\xff\xd8\xff")
    room.hand_in(".DS_Store", b"\0\0\0\1")
    room.hand_in("anouk-sheet-3.svg", "<svg/>")
    room.hand_in("inner/tove.toml", room.form("Tove", CAP_HEIGHT))
    status, _, err = room.mark()
    assert status == 1
    assert err == "sleeve-tutor: photo.jpg: is no answer known here; give TOML, CSV or SVG files\n"
    assert room.marks("Tove")["task 1"] == "100"


def test_nothing_is_written_outside_the_folder(room: Classroom, tmp_path: Path) -> None:
    (room.folder / "class.csv").write_text('name\n"../../../escaped"\n"/etc/passwd"\n"..\\\\up"\n')
    (room.out / "register.json").unlink()
    before = {path for path in tmp_path.rglob("*") if not path.is_relative_to(room.out)}
    room.sheet("--force")
    room.hand_in("a.csv", 'name,1\n"../../../escaped",12.5\n/etc/passwd,12.5\n')
    before |= {room.answers / "a.csv"}
    room.mark()
    assert {path for path in tmp_path.rglob("*") if not path.is_relative_to(room.out)} == before


def test_a_folder_that_is_a_link_is_not_written_through(room: Classroom, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (room.out / "feedback").rmdir()
    (room.out / "feedback").symlink_to(elsewhere)
    status, _, err = filled(room).mark()
    assert status == 2
    assert "feedback: is a link; nothing is written through links: name the folder itself" in err
    assert list(elsewhere.iterdir()) == []
