"""What README says in words and tables, held against the program where no command shows it."""

from __future__ import annotations

import io
import re
import signal
from pathlib import Path

import pytest
from class_for_tests import Classroom, filled
from test_readme import README, quoted, table

from tutor import cli
from tutor.classwork import drawn_pattern
from tutor.lesson.reading import every_lesson, find_lesson
from tutor.pattern import joining
from tutor.practice.page import NARROWEST
from tutor.practice.plain import run_plain
from tutor.quiz.class_quiz import read_class_quiz
from tutor.toml_reading import read_toml
from tutor.tui.actions import ACTIONS
from tutor.units import Unit, parse_length

PROSE = re.sub(r"^```.*?^```$", "", README, flags=re.DOTALL | re.MULTILINE)
"""README without its blocks of code."""


def paragraph(words: str) -> str:
    """The paragraph of README with these words in it, on one line."""
    (found,) = (each for each in PROSE.split("\n\n") if words in " ".join(each.split()))
    return " ".join(found.split())


def test_the_table_of_exit_status_is_what_the_program_returns() -> None:
    rows = {int(row[0]): row[1] for row in table("status | meaning")}
    assert list(rows) == [cli.DONE, cli.NOT_PASSED, cli.WRONG_USE, cli.STOPPED, cli.UNREAD]
    # Shells have 128 and the number of the signal (POSIX.1-2017, XCU 2.8.2).
    assert (cli.STOPPED, cli.UNREAD) == (128 + signal.SIGINT, 128 + signal.SIGPIPE)
    for status in (cli.DONE, cli.NOT_PASSED, cli.WRONG_USE):
        assert re.search(rf"^  {status}  \w", cli.STATUS, re.MULTILINE)


def test_what_a_class_quiz_leaves_out_is_as_the_table_says() -> None:
    meanings = {quoted(row[0])[0]: row[1] for row in table("key | meaning", "A quiz for a class is")}
    spec = read_class_quiz(read_toml(b'title = "x"\nlessons = [4]\n', "quiz.toml"), every_lesson()).spec
    left_out = {
        "count": spec.count,
        "seed": spec.seed,
        "pass-mark": spec.pass_mark,
    }
    for key, value in left_out.items():
        assert re.search(rf"\b{value:g} if left out", meanings[key]), key
    assert spec.minutes is None
    assert "no limit if left out" in meanings["minutes"]
    for key in ("pauses", "marks", "variants"):
        for value in re.findall(r'`"(\w+)"`', meanings[key]):
            text = f'title = "x"\nlessons = [4]\n{key} = "{value}"\n'
            assert read_class_quiz(read_toml(text.encode(), "quiz.toml"), every_lesson())


def test_the_files_that_marking_writes_are_those_of_the_table(room: Classroom) -> None:
    assert filled(room).mark()[0] == 0
    (room.out / "overrides.csv").write_text("learner,task,mark,reason\nTove,1,50,She told me how\n")
    assert room.mark()[0] == 0
    named = [quoted(row[0])[0] for row in table("file | what it holds")]
    assert len(named) == 5
    written = room.files()
    for name in named:
        assert any(path == name or path.startswith(name) for path in written), name
    columns = quoted(next(row[1] for row in table("file | what it holds") if "overrides" in row[0]))
    assert columns[:4] == ["learner", "task", "mark", "reason"]


@pytest.mark.parametrize(
    ("sample", "mm"),
    # By the inch of 25.4 mm.
    [("1 1/2", 38.1), ("1-1/2", 38.1), ('1.5"', 38.1), ("3.8 cm", 38.0), ("3,8 cm", 38.0), ("38mm", 38.0)],
)
def test_lengths_are_typed_as_said(sample: str, mm: float) -> None:
    assert sample in quoted(paragraph("Lengths are typed as you would write them"))
    assert parse_length(sample, Unit.INCH, "here") == pytest.approx(mm)


def test_every_key_that_is_named_does_something() -> None:
    """Single letters and named keys in backquotes, and those without, in what is told to learners of the screen."""
    prose = PROSE[PROSE.index("## For learners") : PROSE.index("## For teachers")]
    named = {code for code in quoted(prose) if len(code) == 1}
    assert {"?", "q", "G", "u", "A", "p", "t"} <= named
    written = {word for action in ACTIONS for word in action.key_words.split()}
    written |= {key for action in ACTIONS for key in action.keys}
    assert {"?" if key == "question_mark" else key for key in named} <= written | {"?"}
    for key in ("F2", "Esc", "Ctrl+P"):
        assert key in prose
        assert key in written, key


@pytest.mark.parametrize(
    "line",
    ["figure", "walk", "tour", "words armscye", "measure crown to back underarm", "clear", "task 1", "start over"],
)
def test_every_command_line_by_line_that_is_named_is_one(line: str) -> None:
    assert line in [" ".join(code.split()) for code in quoted(PROSE)]
    said = io.StringIO()
    run_plain(find_lesson("4"), io.StringIO(f"{line}\n"), said)
    assert "is no command" not in said.getvalue()
    assert "Not read" not in said.getvalue()


def test_lines_are_as_wide_as_columns_says_down_to_forty(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert f"down to {NARROWEST}" in paragraph("Lines are as wide as the terminal")
    widest = {}
    for columns in (30, 40, 60, 100):
        monkeypatch.setenv("COLUMNS", str(columns))
        monkeypatch.setattr("sys.stdin", io.StringIO("tape\nfigure\nquit\n"))
        cli.main(["learn", "4", "--plain"])
        widest[columns] = max(map(len, capsys.readouterr().out.splitlines()))
    assert widest[30] <= 40
    assert all(columns - 12 < widest[columns] <= columns for columns in (40, 60, 100))


@pytest.mark.parametrize(
    ("words", "most"),
    [("A drawing may lie anywhere", drawn_pattern.MEET), ("Seams may be drawn in any order", joining.MEET)],
)
def test_seams_may_miss_by_as_much_as_is_said(words: str, most: float) -> None:
    """What is done up to there, and beyond, is tried with the readers themselves."""
    found = re.search(r"miss each other by ([\d.]+) mm", paragraph(words))
    assert found is not None
    assert float(found[1]) == most


def test_nothing_of_the_readme_s_folders_is_missing() -> None:
    root = Path(cli.__file__).resolve().parent.parent
    for name in ("assets/evening-class", "assets/class-quiz.toml", "assets/LICENSE", "DEVELOPERS.md", "lessons/"):
        assert f"`{name}`" in README
        assert (root / name).exists()
