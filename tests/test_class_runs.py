"""Runs of marking: two at once, and one killed half way."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from class_for_tests import PLAN, Classroom

ROOT = Path(__file__).resolve().parent.parent


def mark_in_a_process(room: Classroom, *answers: Path) -> subprocess.Popen[bytes]:
    arguments = [sys.executable, "-m", "tutor", "mark", room.folder / "homework.toml", *answers, "--out", room.out]
    return subprocess.Popen(list(map(str, arguments)), cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)


def crowded(room: Classroom, count: int) -> Classroom:
    """A class of many, each with a form of their own."""
    names = [f"Learner {k}" for k in range(count)]
    (room.folder / "class.csv").write_text("\n".join(["name", *names]) + "\n")
    (room.out / "register.json").unlink()
    room.enrol()
    for k, name in enumerate(names):
        room.hand_in(f"{k:03}.toml", room.form(name, f"{8 + k % 9} cm", f"{k:03}-p.toml"))
        room.hand_in(f"{k:03}-p.toml", PLAN.replace("2.05", f"{1 + k % 3}.05"))
    return room


def test_two_runs_at_once_lose_nothing(room: Classroom) -> None:
    crowded(room, 16)
    forms = sorted(path for path in room.answers.glob("*.toml") if not path.name.endswith("-p.toml"))
    runs = [mark_in_a_process(room, *forms[k::3]) for k in range(3)]
    assert [(run.wait(120), run.stderr.read() if run.stderr else b"") for run in runs] == [(0, b"")] * 3
    for run in runs:
        assert run.stderr is not None
        run.stderr.close()
    at_once = room.files()
    assert len([row for row in room.table("marks.csv") if row["mark"]]) == 16
    room.mark()
    assert room.files() == at_once


def test_killed_half_way_and_run_again_it_ends_with_the_same_bytes(room: Classroom, tmp_path: Path) -> None:
    crowded(room, 16)
    for k in range(4):
        run = mark_in_a_process(room, room.answers)
        enough = 4 * k
        while len(list((room.out / "kept" / "marked").glob("*.json"))) < enough and run.poll() is None:
            time.sleep(0.002)
        run.kill()
        run.wait(60)
        assert run.stderr is not None
        run.stderr.close()
    room.mark()
    killed = room.files()
    for path in [*sorted((room.out / "kept").rglob("*.json")), room.out / "marks.csv"]:
        path.unlink()
    room.mark(more=("--force",))
    assert room.files() == killed
    assert not list(room.out.rglob("*.part"))
