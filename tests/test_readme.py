"""What README says is so: every command in it runs and prints what is shown, and its tables are the program's own."""

import fcntl
import json
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
from collections.abc import Iterator, Mapping
from itertools import cycle
from pathlib import Path

import msgspec
import pytest
from blocks import pattern

from tutor import cli
from tutor.alteration import refusal
from tutor.alteration.amounts import AMOUNTS
from tutor.alteration.outline import lower_part, whole
from tutor.alteration.plan_faults import PlanFaults
from tutor.alteration.plan_file import read_plan
from tutor.classwork.answer_form import AnswerText, FormText
from tutor.classwork.homework import AskedText, HomeworkText
from tutor.pattern.measures import MEASURES
from tutor.pattern.svg_ids import PLAIN, is_known
from tutor.quiz.class_quiz import ClassQuizText

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
BETWEEN = "\x1e"
LEFT_OUT = "…"


def blocks(language: str) -> list[str]:
    """The contents of README's code blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)


def table(heading: str, after: str = "") -> list[list[str]]:
    """The rows of the first table with that head, cells stripped, head and rule left out; ``after`` some words."""
    start = README.index(after)
    rest = README[README.index(f"| {heading} |", start) :].split("\n\n")[0]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in rest.splitlines()[2:]]


def quoted(text: str) -> list[str]:
    """Everything in backquotes."""
    return re.findall(r"`([^`]+)`", text)


Step = tuple[str, list[str]]


def steps(block: str) -> list[Step]:
    """The commands of a block, each with the lines shown below it."""
    found: list[Step] = []
    for line in block.splitlines():
        if line.startswith("$ "):
            found.append((line[2:], []))
        else:
            found[-1][1].append(line)
    return found


def opens_the_screen(command: str) -> bool:
    return bool(re.fullmatch(r"sleeve-tutor( learn [^-|<>]*)?", command))


BLOCKS = [steps(block) for block in blocks("console")]
SCREENS = [command for block in BLOCKS for command, _ in block if opens_the_screen(command)]
INLINE = [code for code in quoted(re.sub(r"^```.*?^```$", "", README, flags=re.DOTALL | re.MULTILINE)) if " -" in code]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder like the top of the project, in which ``sleeve-tutor`` is this program."""
    for name in ("assets", "lessons"):
        (tmp_path / name).symlink_to(ROOT / name)
    program = tmp_path / "bin" / "sleeve-tutor"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m tutor "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(program.parent), prepend=os.pathsep)
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    return tmp_path


def as_expected(shown: list[str], printed: list[str]) -> bool:
    """Whether the lines are those shown, where a line of three dots stands for any lines at all."""
    if not shown:
        return not printed
    if shown[0] == LEFT_OUT:
        return any(as_expected(shown[1:], printed[k:]) for k in range(len(printed) + 1))
    return bool(printed) and shown[0] == printed[0] and as_expected(shown[1:], printed[1:])


def printed_by(block: list[Step], folder: Path, environment: Mapping[str, str] = os.environ) -> list[tuple[Step, str]]:
    """The commands of a block that need no terminal, each with what it prints.

    One shell runs the whole block, so that ``$?`` is what it would be for a reader.
    """
    lines = [step for step in block if not opens_the_screen(step[0])]
    script = "s=0\n" + "".join(f"(exit $s)\n{command}\ns=$?\nprintf '\\036'\n" for command, _ in lines)
    ran = subprocess.run(
        ["bash", "-c", script],
        cwd=folder,
        env=dict(environment),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=True,
    )
    outputs = ran.stdout.split(BETWEEN)[:-1]
    assert len(outputs) == len(lines)
    return list(zip(lines, outputs, strict=True))


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block[0][0][:40])
def test_commands_print_what_is_shown(block: list[Step], folder: Path) -> None:
    for (command, shown), output in printed_by(block, folder):
        assert as_expected(shown, output.splitlines()), f"{command} printed\n{output}"


def test_three_dots_stand_for_any_lines() -> None:
    assert as_expected(["a", LEFT_OUT, "d"], ["a", "b", "c", "d"])
    assert as_expected(["a", LEFT_OUT], ["a"])
    assert not as_expected(["a", LEFT_OUT, "d"], ["a", "b"])
    assert not as_expected(["a"], ["a", "b"])
    assert not as_expected([], ["a"])


def on_terminal(command: str, folder: Path, environment: Mapping[str, str] = os.environ) -> tuple[int, bytes]:
    """The exit status and the output of a command on a terminal of 80 x 24 at which somebody presses Esc and q."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    process = subprocess.Popen(
        ["bash", "-c", command],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=folder,
        env={**environment, "TERM": "xterm-256color"},
        start_new_session=True,
    )
    os.close(theirs)
    output = b"".join(_leaving(ours, process))
    os.close(ours)
    return process.wait(60), output


def _leaving(terminal: int, process: subprocess.Popen[bytes]) -> Iterator[bytes]:
    """Everything the terminal shows until the process ends; whenever all is quiet a key is pressed."""
    keys = cycle([b"\x1b", b"q"])
    seen = False
    for _ in range(200):
        if not select.select([terminal], [], [], 0.4)[0]:
            if process.poll() is not None:
                return
            if seen:
                os.write(terminal, next(keys))
            continue
        try:
            chunk = os.read(terminal, 65536)
        except OSError:
            return
        if not chunk:
            return
        seen = True
        yield chunk
    process.kill()
    pytest.fail("the tutor was not left by Esc and q")


@pytest.mark.parametrize("command", ["sleeve-tutor", *SCREENS])
def test_the_tutor_opens_on_a_terminal_and_is_left_by_keys(command: str, folder: Path) -> None:
    status, output = on_terminal(command, folder)
    assert status == 0, output[-1500:]
    assert b"Room with the cap" in output
    assert b"Traceback" not in output


def test_only_the_two_commands_of_the_setting_up_are_not_run_here() -> None:
    assert [block.strip() for block in blocks("sh")] == [
        "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/sleeve-tutor",
        "python3 -m venv .venv && .venv/bin/pip install '.[test]' && .venv/bin/python -m pytest",
    ]
    assert len(SCREENS) == 1
    languages = set(re.findall(r"^```(\w+)$", README, re.MULTILINE))
    assert languages <= {"sh", "console", "toml", "text"}


@pytest.mark.parametrize("code", sorted(set(INLINE)))
def test_options_in_the_text_are_options_of_the_program(code: str, capsys: pytest.CaptureFixture[str]) -> None:
    texts = []
    for command in cli.COMMANDS:
        assert cli.main([command, "--help"]) == 0
        texts.append(capsys.readouterr().out)
    for option in re.findall(r"--[a-z-]+", code):
        assert any(option in text for text in texts)


def test_the_plan_shown_is_the_one_that_comes_along() -> None:
    for name in ("class-quiz.toml", "crossed-slashes.toml"):
        assert (ROOT / "assets" / name).read_text(encoding="utf-8") in blocks("toml")


def test_every_plan_that_comes_along_is_read() -> None:
    plans = [path for path in (ROOT / "assets").glob("*.toml") if "[[slash]]" in path.read_text(encoding="utf-8")]
    assert len(plans) == 2
    for path in plans:
        assert read_plan(path).plan.title


def test_the_measures_are_those_of_the_program() -> None:
    expected = [[f"`{m.name}`", m.kind.value.replace("mm2", "mm²"), m.meaning] for m in MEASURES.values()]
    assert table("measure | in | what it is") == expected


def test_the_amounts_are_those_of_the_program() -> None:
    assert table("amount | what it does") == [[f"`{amount.key}`", amount.meaning] for amount in AMOUNTS]


@pytest.mark.parametrize(
    ("after", "kinds"),
    [
        ("A quiz for a class is", (ClassQuizText,)),
        ("A homework is", (HomeworkText, AskedText)),
        ("A form is", (FormText, AnswerText)),
    ],
)
def test_the_keys_of_files_are_those_that_are_read(after: str, kinds: tuple[type[msgspec.Struct], ...]) -> None:
    read = {key for kind in kinds for key in kind.__struct_encode_fields__}
    rows = table("key | meaning", after)
    named = {key.strip("[]") for row in rows for key in quoted(row[0])}
    # What stands inside of a table is told in the row of that.
    inside = {key for row in rows if row[0].startswith("`[[") for key in quoted(row[1])}
    assert named <= read
    assert read <= named | inside


@pytest.mark.parametrize("within", ["", "[[slash]]", "[[opening]]"])
def test_the_keys_of_plans_are_those_that_are_read(within: str) -> None:
    """A key that is not known is told with those that are."""
    rows = {row[0].strip("`"): quoted(row[1]) for row in table("key | meaning", "### Plans")}
    named = set(rows[within]) if within else {"title", "units", "set-back", "slash", "opening"}
    if not within:
        assert named <= {key.strip("[]") for key in rows}
        named |= {amount.key.split(".")[0] for amount in AMOUNTS}
    with pytest.raises(PlanFaults, match="no key known here; the keys are") as found:
        read_plan(f"{within}\nstrange = 1\n".encode())
    (told,) = (fault.what + fault.right for fault in found.value.faults if "strange" in str(fault))
    assert set(told.split("the keys are ")[1].split(", ")) == named


def test_the_ids_are_those_of_the_program() -> None:
    ids = [name for row in table("id | what it is") for name in quoted(row[0])]
    assert set(ids) > PLAIN
    assert all(is_known(name) for name in ids)


def test_the_refusals_are_those_of_the_program() -> None:
    kinds = {value for name, value in vars(refusal).items() if name.isupper() and isinstance(value, str)}
    assert {row[0] for row in table("refused | because")} == kinds


def test_the_landmarks_are_those_of_the_program() -> None:
    sleeve = pattern().sleeve
    known = {name for outline in (whole(sleeve), lower_part(sleeve)) for name in outline.spots}
    known |= {mark.name for mark in sleeve.marks if not mark.name.startswith("notch-")}
    (row,) = [row for row in table("place | meaning") if row[1].startswith("a landmark")]
    named = set(quoted(row[1])) - {"set-back"}
    assert named == known


DRAFT = (
    *("--armhole-front", "21 cm", "--armhole-back", "22 cm", "--bicep-girth", "34 cm"),
    *("--cap-ease", "2 cm", "--sleeve-length", "58 cm", "--hem-girth", "24 cm"),
)


@pytest.mark.parametrize(
    ("command", "arguments"),
    [
        ("measure", ["measure", "assets/blouse-block.svg", "--arm", "29 cm"]),
        ("alter", ["alter", "assets/blouse-block.svg", "assets/cap-set-back.toml"]),
        ("alter", ["alter", "assets/blouse-block.svg", "refused.toml"]),
        ("draft", ["draft", *DRAFT]),
        ("lessons", ["lessons"]),
        ("progress", ["progress"]),
        ("lessons names", ["lessons", "names"]),
        ("lessons check", ["lessons", "check", "refused.toml"]),
    ],
)
def test_the_keys_of_json_are_those_printed(
    command: str,
    arguments: list[str],
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(folder)
    Path("refused.toml").write_text('[[slash]]\nname = "a"\nfrom = "crown"\nto = "hem-back"\n', encoding="utf-8")
    assert cli.main([*arguments, "--json"]) in (0, 1)
    printed = json.loads(capsys.readouterr().out)
    rows = [row for row in table("command | key | what it holds") if row[0] == command]
    keys = {key: row[2] for row in rows for key in quoted(row[1])}
    assert set(printed) <= set(keys)
    refused = "refused" in printed
    assert refused == (arguments[-1] == "refused.toml" and command == "alter")
    for key, value in printed.items():
        each = value[0] if isinstance(value, list) and value and isinstance(value[0], dict) else value
        if isinstance(each, dict) and quoted(keys[key])[:1] and key not in ("before", "after", "change"):
            assert list(each) == quoted(keys[key])
