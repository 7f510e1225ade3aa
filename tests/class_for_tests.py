"""A small class with a small homework, in a folder, and how it is dealt out and marked in the tests."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from lessons_for_tests import SMALL

from tutor import cli

HOMEWORK = """\
title = "Small homework"
due = 2026-11-20
units = "cm"

[[tasks]]
lesson = "small.toml"
task = 2

[[tasks]]
lesson = "small.toml"
task = 1
points = 3
"""
NAMES = ("Anouk", "Tove", "Odd", "Mirjam")
CAP_HEIGHT = "12.5 cm"
"""What the first task asks for, near enough."""
PLAN = """\
[[slash]]
name = "grain"
from = "crown"
to = "grain-hem"
hinge = ["from", "to"]

[[slash]]
name = "bicep"
from = "underarm-back"
to = "underarm-front"
hinge = ["from", "to"]

[[opening]]
slash = "grain"
at = { crosses = "bicep", toward = "to" }
amount = "2.05 cm"
"""
"""What does the second task."""


@dataclass(frozen=True)
class Classroom:
    """A folder with a homework, a class list and a folder for answers, and the program run in it."""

    folder: Path
    capsys: pytest.CaptureFixture[str]

    @property
    def out(self) -> Path:
        return self.folder / "out"

    @property
    def answers(self) -> Path:
        return self.folder / "answers"

    def run(self, *arguments: str | Path) -> tuple[int, str, str]:
        """The exit status, and what was printed on standard output and error."""
        self.capsys.readouterr()
        status = cli.main([str(argument) for argument in arguments])
        return status, *self.capsys.readouterr()

    def sheet(self, *more: str) -> tuple[int, str, str]:
        return self.run("sheet", self.folder / "homework.toml", self.folder / "class.csv", "--out", self.out, *more)

    def enrol(self) -> None:
        """Deals the homework to the class without making any sheets."""
        class_list = self.folder / "class.csv"
        status, _, err = self.run("mark", self.folder / "homework.toml", "--out", self.out, "--class", class_list)
        assert (status, err) == (0, "")

    def mark(self, *answers: str | Path, more: tuple[str, ...] = ()) -> tuple[int, str, str]:
        paths = answers or (self.answers,)
        return self.run("mark", self.folder / "homework.toml", *paths, "--out", self.out, *more)

    def again(self, *more: str) -> tuple[int, str, str]:
        return self.run("mark", self.folder / "homework.toml", "--out", self.out, "--again", *more)

    def change(self, name: str, old: str, new: str) -> None:
        """Replaces a text in a file; it must be there."""
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")

    def hand_in(self, name: str, content: str | bytes) -> Path:
        path = self.answers / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def form(self, learner: str, number: str = "", plan: str = "", /, **more: str) -> str:
        """A form as ``sheet`` makes it, filled in; ``more`` are other keys, "" leaves one out."""
        deals = {each["name"]: each["deal"] for each in self.register()["learners"]}
        keys = {"homework": '"Small homework"', "learner": f'"{learner}"', "variant": f'"{deals.get(learner, "X")}"'}
        head = "".join(f"{key.replace('_', '-')} = {value}\n" for key, value in (keys | more).items() if value)
        answers = f'[[answers]]\ntask = 1\nanswer = "{number}"\n' if number else ""
        answers += f'[[answers]]\ntask = 2\nplan = "{plan}"\n' if plan else ""
        return f"{head}\n{answers}"

    def register(self) -> Any:
        return json.loads((self.out / "register.json").read_text(encoding="utf-8"))

    def table(self, name: str) -> list[dict[str, str]]:
        """The rows of a table that was written, by their headings."""
        text = (self.out / name).read_text(encoding="utf-8-sig")
        return list(csv.DictReader(io.StringIO(text)))

    def marks(self, learner: str) -> dict[str, str]:
        """The row of a learner in the table of marks."""
        (row,) = (row for row in self.table("marks.csv") if row["learner"] == learner)
        return row

    def files(self) -> dict[str, bytes]:
        """Everything in the homework's folder, but for the lock."""
        return {
            path.relative_to(self.out).as_posix(): path.read_bytes()
            for path in sorted(self.out.rglob("*"))
            if path.is_file() and path.name != ".lock"
        }


def classroom(folder: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    """A class of four with the small homework; nothing is dealt out yet."""
    (folder / "small.toml").write_text(SMALL, encoding="utf-8")
    (folder / "homework.toml").write_text(HOMEWORK, encoding="utf-8")
    (folder / "class.csv").write_text("Name\n" + "\n".join(NAMES) + "\n", encoding="utf-8")
    (folder / "answers").mkdir()
    return Classroom(folder, capsys)


def filled(room: Classroom) -> Classroom:
    """Three of four have handed in: one all right, one half, one by a table."""
    room.hand_in("anouk.toml", room.form("Anouk", CAP_HEIGHT, "anouk-2.toml"))
    room.hand_in("anouk-2.toml", PLAN)
    room.hand_in("tove.toml", room.form("Tove", "3 cm", "tove-2.toml"))
    room.hand_in("tove-2.toml", PLAN)
    room.hand_in("table.csv", "learner;1;2\r\nOdd;12,5;\r\n")
    return room
