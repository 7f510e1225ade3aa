"""Whatever a class hands in: a clear line, in bounded time, nothing lost of the rest, nothing written elsewhere."""

from __future__ import annotations

import os
import socket
import time
import unicodedata
from pathlib import Path

import pytest
from class_for_tests import CAP_HEIGHT, Classroom, classroom
from hostile_class import HOSTILE, KINDS, Bad

LONGEST = 2.0
"""Seconds of processor time that a bad file may take, a good one beside it included."""
LONGEST_LINE = 620
HIDDEN = {"Cc", "Cf", "Cs", "Zl", "Zp"}
"""Categories of letters that a terminal obeys or nobody sees (Unicode Standard, chapter 4.5)."""


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class to which the homework is dealt, and of which Anouk has handed in something good."""
    (tmp_path / "class").mkdir()
    room = classroom(tmp_path / "class", capsys)
    room.enrol()
    room.hand_in("anouk.toml", room.form("Anouk", CAP_HEIGHT))
    return room


def marked(room: Classroom) -> list[str]:
    """Has it all marked and gives the lines of what could not be; what holds for every bad file is asserted."""
    before = everything_but_the_homework(room)
    start = time.process_time()
    status, out, err = room.mark()
    assert time.process_time() - start < LONGEST
    assert everything_but_the_homework(room) == before
    lines = err.splitlines()
    assert status == (1 if lines else 0)
    for line in lines:
        assert line.startswith("sleeve-tutor: ")
        assert len(line) <= LONGEST_LINE
        assert "fault of the program" not in line
    for text in (out + err).splitlines():
        assert not {unicodedata.category(letter) for letter in text} & HIDDEN
    assert room.marks("Anouk")["task 1"] == "100"
    assert room.marks("Mirjam")["mark"] == ""
    return lines


def everything_but_the_homework(room: Classroom) -> dict[Path, tuple[int, int]]:
    """All that lies in or beside the class's folder, but for what marking is to write: size and time of change."""
    found = {path: path.lstat() for path in room.folder.parent.rglob("*") if not path.is_relative_to(room.out)}
    return {path: (status.st_size, status.st_mtime_ns) for path, status in found.items()}


def hand_in(room: Classroom, bad: Bad) -> None:
    deals = {each["name"]: each["deal"] for each in room.register()["learners"]}
    for name, content in {bad.name: bad.content, **bad.beside}.items():
        room.hand_in(name, content.replace(b"{deal}", deals["Tove"].encode()))


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_gets_its_own_line(room: Classroom, name: str) -> None:
    bad = HOSTILE[name]
    hand_in(room, bad)
    lines = marked(room)
    assert len(lines) == 1
    assert bad.line in lines[0]
    assert bad.name in lines[0]
    assert room.marks("Tove")["mark"] == ""


def test_there_are_hostile_files_of_every_kind() -> None:
    assert len(HOSTILE) >= 60
    assert min(map(len, KINDS.values())) >= 7


def test_all_of_them_at_once_spoil_nothing(room: Classroom) -> None:
    for k, (name, bad) in enumerate(HOSTILE.items()):
        folder = f"{k}"
        hand_in(room, Bad(f"{folder}/{bad.name}", bad.content, "", {f"{folder}/{n}": c for n, c in bad.beside.items()}))
        assert name
    status, _, err = room.mark()
    assert status == 1
    assert len(err.splitlines()) >= len(HOSTILE)
    assert room.marks("Anouk")["task 1"] == "100"
    assert room.marks("Tove")["mark"] == ""


# What only a file system can hold.


def test_what_is_no_plain_file_gets_its_own_line(room: Classroom) -> None:
    os.mkfifo(room.answers / "tove.toml")
    (room.answers / "tove-2.svg").symlink_to("/dev/zero")
    (room.answers / "odd.toml").symlink_to(room.answers / "anouk.toml")
    (room.answers / "round").symlink_to(room.answers)
    (room.answers / "nowhere.csv").symlink_to("/nowhere")
    lines = marked(room)
    assert len(lines) == 5
    assert all("is a link" in line or "is no plain file" in line for line in lines)


def test_a_socket_is_no_answer(room: Classroom, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(room.answers)  # The path of a socket may have some hundred letters only.
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("tove.toml")
        (line,) = marked(room)
    assert "tove.toml: is no plain file" in line


@pytest.mark.parametrize("name", ["tove.toml", "tove.csv", "tove-2.svg", "tove-2.csv", "tove-2.toml"])
def test_a_gigabyte_of_zeros_is_left_unread(room: Classroom, name: str) -> None:
    with (room.answers / name).open("wb") as file:
        file.truncate(1 << 30)
    (line,) = marked(room)
    assert "is over" in line
    assert "a smaller file is enough" in line


def test_folders_in_folders_are_not_followed_for_ever(room: Classroom) -> None:
    deep = room.answers.joinpath(*["d"] * 60)
    deep.mkdir(parents=True)
    (deep / "tove.toml").write_text(room.form("Tove", CAP_HEIGHT))
    (line,) = marked(room)
    assert "is a folder too deep inside others" in line


def test_names_of_files_are_shown_and_never_obeyed(room: Classroom) -> None:
    for name in ("\x1b[2J.toml", "a\nb.toml", "\u202eevot.toml", "<b>.toml", "=1+1.toml"):
        room.hand_in(name, "learner = 7")
    lines = marked(room)
    assert len(lines) == 5
    with (room.out / "marks.csv").open(encoding="utf-8-sig") as file:
        assert not [line for line in file if line.startswith(("=", '"=', "+", "@"))]
    assert "<b>.toml" not in (room.out / "class.html").read_text(encoding="utf-8")


# What is wrong with one answer, and not with the rest.


def test_a_learner_in_two_rows_keeps_the_first(room: Classroom) -> None:
    room.hand_in("table.csv", "name,1\nTove,12.5\nTove,3\n")
    (line,) = marked(room)
    assert "table.csv: line 3: is another answer of Tove to task 1 than that of table.csv: line 2" in line
    assert room.marks("Tove")["task 1"] == "100"


def test_two_forms_of_one_learner_don_t_outdo_each_other(room: Classroom) -> None:
    room.hand_in("a.toml", room.form("Tove", CAP_HEIGHT))
    room.hand_in("b.toml", room.form("Tove", "3 cm").replace('"Tove"', '"TOVE "'))
    (line,) = marked(room)
    assert "b.toml: is another answer of Tove to task 1 than that of a.toml" in line
    assert room.marks("Tove")["task 1"] == "100"


def test_the_rest_of_a_form_is_marked(room: Classroom) -> None:
    room.hand_in("tove.toml", room.form("Tove", CAP_HEIGHT) + '[[answers]]\ntask = 2\nplan = "../p.toml"\n')
    (line,) = marked(room)
    assert "is no name of a file beside this one" in line
    assert room.marks("Tove")["task 1"] == "100"
    assert room.marks("Tove")["task 2"] == ""
    assert room.marks("Tove")["note"] == "task 2 could not be marked"
