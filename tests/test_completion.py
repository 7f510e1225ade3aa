"""What has a shell complete commands, tried in the shell itself."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tutor.cli import main
from tutor.lesson.listing import own_listing

NUMBERS = [str(lesson.number) for lesson in own_listing()]
REPLY = """
source "$1"
shift
complete -p sleeve-tutor >&2
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
_shtab_sleeve_tutor
printf '%s\\n' "${COMPREPLY[@]}"
"""
"""Bash's own way of asking: the words so far, and which of them is to be completed."""


@pytest.fixture
def script(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["completion", "bash"]) == 0
    path = tmp_path / "sleeve-tutor.bash"
    path.write_text(capsys.readouterr().out)
    return path


def completed(script: Path, words: str) -> list[str]:
    """What bash offers for the last of the words."""
    asked = ["bash", "-c", REPLY, "bash", str(script), "sleeve-tutor", *words.split(" ")]
    ran = subprocess.run(asked, cwd=script.parent, capture_output=True, text=True, check=True)
    return ran.stdout.split()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("le", ["learn", "lessons"]),
        ("learn 2", [number for number in NUMBERS if number.startswith("2")]),
        ("learn --pl", ["--plain"]),
        ("sheet --paper ", ["a4", "letter"]),
        ("lessons ", ["check", "new", "names"]),
        ("--units ", ["cm", "in"]),
        ("measure my", ["my-block.svg"]),
        ("mark homework.toml --out ch", ["checked"]),
    ],
)
def test_bash_completes(script: Path, words: str, offered: list[str]) -> None:
    (script.parent / "my-block.svg").touch()
    (script.parent / "checked").mkdir()
    (script.parent / "checked.txt").touch()
    assert [word for word in completed(script, words) if word in offered or not word.startswith("-")] == offered


def test_lessons_of_ones_own_are_completed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path))
    assert main(["lessons", "new", "tight-cuff"]) == 0
    capsys.readouterr()
    assert main(["completion", "bash"]) == 0
    path = tmp_path / "own.bash"
    path.write_text(capsys.readouterr().out)
    assert completed(path, "learn 101") == ["101"]


@pytest.mark.parametrize("shell", ["zsh", "tcsh"])
def test_other_shells_get_scripts_with_every_command(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    printed = capsys.readouterr().out
    assert all(command in printed for command in ("learn", "quiz", "sheet", "mark", "progress"))
