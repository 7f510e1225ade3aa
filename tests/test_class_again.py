"""A class marked again: who changes is shown before anything is written."""

from __future__ import annotations

import json
import re

from class_for_tests import Classroom, filled
from test_readme import quoted, table


def test_marking_again_shows_who_changes_before_anything_is_written(room: Classroom) -> None:
    filled(room).mark()
    first = room.files()
    assert room.again()[1] == "no mark changes\n"
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    status, out, _ = room.mark()
    assert "3 of them by an earlier lesson or tolerance; --again shows whose marks would change" in out
    assert room.files() == first
    status, out, _ = room.again()
    assert status == 0
    assert [line.split()[:4] for line in out.splitlines()] == [
        ["learner", "task", "before", "now"],
        ["Tove", "1", "0", "100"],
        ["marks", "of", "1", "learner"],
        ["nothing", "is", "written;", "--again"],
    ]
    assert room.files() == first
    room.again("--write")
    assert room.marks("Tove")["mark"] == "100"
    assert room.again()[1] == "no mark changes\n"


def test_marking_again_keeps_no_mark_that_it_can_t_report(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    for name in ("marks.csv", "feedback/odd.txt"):
        path = room.out / name
        written = path.read_bytes()
        path.write_bytes(written + b"my own note\n")
        first = room.files()
        status, out, err = room.again("--write")
        assert (status, out) == (2, "")
        assert f"{path.name}: was changed since it was written; move it away, or give --force" in err
        assert room.files() == first
        path.write_bytes(written)
    (room.out / "marks.csv").write_text("my own")
    status, out, _ = room.again("--write", "--force")
    assert status == 0
    assert re.search(r"^Tove +1 +0 +100 ", out, re.MULTILINE)
    assert room.marks("Tove")["mark"] == "100"


def test_marking_again_in_json(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    first = room.files()
    found = json.loads(room.again("--json")[1])
    assert room.files() == first
    documented = {
        key: quoted(row[2])
        for row in table("command | key | what it holds")
        if row[0] == "mark --again"
        for key in quoted(row[1])
    }
    assert list(found) == list(documented)
    tove = next(each for each in found["changes"] if each["learner"] == "Tove")
    assert list(tove) == documented["changes"][:5]
    assert list(tove["now"]) == documented["changes"][5:]
    assert (tove["task"], tove["before"]["mark"], tove["now"]["mark"], tove["now"]["passed"]) == (1, 0.0, 1.0, True)
    assert (found["written"], found["faults"]) == (False, [])
    assert json.loads(room.again("--json", "--write")[1])["written"] is True
    assert json.loads(room.again("--json")[1])["changes"] == []


def test_marking_again_tells_what_is_wrong_with_the_teachers_marks(room: Classroom) -> None:
    filled(room).mark()
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nNobody,1,50,why\n")
    assert room.again()[0] == 0
    status, out, err = room.again("--write")
    assert (status, out) == (1, "no mark changes\nwritten\n")
    assert '"Nobody" is not in the class' in err
    (room.out / "overrides.csv").write_text("no table of marks\n")
    first = room.files()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "10 cm" }')
    assert room.again("--write")[0] == 2
    assert room.files() == first


def test_marking_again_counts_what_is_only_said_otherwise(room: Classroom) -> None:
    filled(room).mark()
    room.change("homework.toml", 'units = "cm"', 'units = "cm"\ntolerances = { cap-height = "5 mm" }')
    status, out, _ = room.again()
    assert status == 0
    found = json.loads(room.again("--json")[1])["changes"]
    assert [(each["learner"], each["before"]["mark"], each["now"]["mark"]) for each in found] == [("Tove", 0.0, 0.0)]
    assert found[0]["before"]["feedback"] != found[0]["now"]["feedback"]
    assert out.splitlines() == [
        "no mark changes",
        "1 answer with the same mark and mistake, and other feedback",
        "nothing is written; --again --write keeps the new marks",
    ]


def test_a_lesson_that_was_corrected_changes_marks_only_when_asked(room: Classroom) -> None:
    filled(room).mark()
    room.change("small.toml", "value = 35\ntolerance = 0.3", "value = 36\ntolerance = 0.1")
    out = room.again()[1]
    assert re.findall(r"^(\w+) +2 +100 +\d+", out, re.MULTILINE) == ["Anouk", "Tove"]
    assert room.marks("Anouk")["mark"] == "100"
    room.again("--write")
    assert int(room.marks("Anouk")["mark"]) < 100
