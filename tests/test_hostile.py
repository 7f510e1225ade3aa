"""Whatever is fed in: one clear line, exit status 2, and nothing that a terminal would obey."""

import contextlib
import io
import json
import os
import unicodedata
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from blocks import crossed, pattern
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_text import write_plan

from tutor import cli
from tutor.pattern.svg_write import write_svg

BLOCK = write_svg(pattern())
PLAN = write_plan(crossed(30.0))
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">{}</svg>'
LONGEST_LINE = 700

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs the program in a folder with a good block and a good plan in it."""
    monkeypatch.chdir(tmp_path)
    Path("block.svg").write_text(BLOCK, encoding="utf-8")
    Path("plan.toml").write_text(PLAN, encoding="utf-8")

    def run(*arguments: str) -> tuple[int, str, str]:
        capsys.readouterr()
        status = cli.main(list(arguments))
        return status, *capsys.readouterr()

    return run


def assert_one_line(ran: tuple[int, str, str], *named: str) -> None:
    """The result is exit status 2 and a single clear line that names the places it is about."""
    status, out, err = ran
    assert status == 2
    assert out == ""
    assert_clear(err)
    assert err.count("\n") == 1
    for name in named:
        assert name in err


def assert_clear(err: str) -> None:
    """Lines that begin with the program's name, hold nothing a terminal obeys, and blame no bug."""
    for line in err.removesuffix("\n").split("\n"):
        assert line.startswith("sleeve-tutor: ")
        assert line.isprintable()
        assert len(line) <= LONGEST_LINE
        assert not {unicodedata.category(letter) for letter in line} & {"Cc", "Cf", "Cs", "Zl", "Zp"}
    assert "Traceback" not in err
    assert "fault of the program" not in err


def slash(**values: str) -> str:
    """A plan of one slash, some of its values replaced by other TOML."""
    keys = {"name": '"a"', "from": '"crown"', "to": '"grain-hem"'} | {k.rstrip("_"): v for k, v in values.items()}
    return "[[slash]]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())


def opening(**values: str) -> str:
    keys = {"slash": '"a"', "at": '"from"', "amount": '"1 cm"'} | values
    return slash(hinge='"to"') + "[[opening]]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())


HOSTILE_PLANS: dict[str, tuple[str | bytes, str]] = {
    "not text": (b"\xff\xfe\x00", "not UTF-8"),
    "a null": (b"\0", "not TOML"),
    "an escape sequence": ("\x1b]0;owned\x07", "not TOML"),
    "an escape sequence in a name": (slash(name='"\\u001b[2J\\u009b31m"'), "slash 1, name"),
    "a right-to-left override in a name": (slash(name='"a\\u202etxt"'), "slash 1, name"),
    "an escape sequence as a key": ('"\\u001b[2J" = 1', "\\x1b[2J"),
    "an escape sequence as a slash": (opening(slash='"\\u001b[2J"'), "opening 1, slash"),
    "an escape sequence as a length": (opening(amount='"\\u001b[2J"'), "opening 1, amount"),
    "a line break in a name": (slash(name='"a\\nb"'), "slash 1, name"),
    "a line separator in a title": ('title = "a\\u2028b"', "title"),
    "a name of a megabyte": (slash(name=f'"{"x" * 900_000}"'), "slash 1, name"),
    "a path as a unit": ('units = "../../etc/passwd"', "units"),
    "not a number": (opening(amount="nan"), "opening 1, amount"),
    "infinity": (opening(amount="-inf"), "opening 1, amount"),
    "too large a number": (opening(amount="1e308"), "opening 1, amount"),
    "a number that overflows": (opening(amount="1e999"), "opening 1, amount"),
    "too large a whole number": (opening(amount="9" * 4000), "opening 1, amount"),
    "too large a whole number for a share": (opening(at="9" * 4000), "opening 1, at"),
    "too large a whole number for an aim": (
        slash() + '[[opening]]\nslash = "a"\nat = 0\nfor = { measure = "kink", value = ' + "9" * 4000 + " }",
        "opening 1, for, value",
    ),
    "a whole number of five thousand figures": (opening(amount="9" * 5000), "figures"),
    "a length of ten metres and more": (opening(amount='"1000.1 cm"'), "opening 1, amount"),
    "a length that divides by zero": (opening(amount='"1/0 in"'), "opening 1, amount"),
    "a sum": (opening(amount='"1+1 cm"'), "opening 1, amount"),
    "code": (opening(amount="\"__import__('os')\""), "opening 1, amount"),
    "a yes for a number": (opening(amount="true"), "opening 1, amount"),
    "a share beyond the end": (opening(at="1.0000001"), "opening 1, at"),
    "a share that is no number": (opening(at="nan"), "opening 1, at"),
    "a list for a slash": ("slash = [[1]]", "slash"),
    "text for slashes": ('slash = "a"', "slash"),
    "a slash on itself": (slash(from_='{ slash = "a", share = 0.5 }'), "slash 1, from"),
    "slashes of one name": (slash() + slash(), "slash 2, name"),
    "ten thousand slashes": (slash() * 10_000, "there are 10000"),
    "ten thousand openings": ("[[opening]]\n" * 10_000, "there are 10000"),
    "deep lists": ("a = " + "[" * 50_000, "nested"),
    "deep tables": ("a = " + "{ a = " * 50_000, "nested"),
    "a long dotted key": ("a" + ".a" * 100_000 + " = 1", "32 parts"),
    "a long table name": ("[a" + ".a" * 100_000 + "]", "32 parts"),
    "more than a megabyte": ("#" * 1_000_001, "1 MB"),
    "a pattern for a plan": (BLOCK, "not TOML"),
    "an unknown key": ("execute = 'rm -rf /'", '"execute"'),
}


@pytest.mark.parametrize("case", HOSTILE_PLANS)
def test_hostile_plans(case: str, run: Run) -> None:
    content, named = HOSTILE_PLANS[case]
    Path("bad.toml").write_bytes(content if isinstance(content, bytes) else content.encode())
    assert_one_line(run("alter", "block.svg", "bad.toml"), "bad.toml", named)
    assert_one_line(run("alter", "block.svg", "bad.toml", "--json"), "bad.toml", named)


HOSTILE_PATTERNS: dict[str, str | bytes] = {
    "nothing": "",
    "not text": b"\xff\xff\xff",
    "a null": b"\0" * 100,
    "an escape sequence": "\x1b[2J",
    "a plan for a pattern": PLAN,
    "another language": "<html></html>",
    "unfinished": BLOCK[:500],
    "nothing in it": SVG.format(""),
    "entities that grow": '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>' + SVG.format("&b;"),
    "an entity from a file": '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + SVG.format("&a;"),
    "deep groups": SVG.format("<g>" * 5_000 + "</g>" * 5_000),
    "a megabyte of nothing": SVG.format(" " * 9_000_000),
    "an escape sequence as an id": SVG.format('<path id="notch-&#x9b;31m" d="M0 0"/>'),
    "an id twice": BLOCK.replace('id="hem"', 'id="cap-back"'),
    "a seam missing": BLOCK.replace('id="hem"', 'id="him"'),
    "not a number": BLOCK.replace('id="hem" d="M', 'id="hem" d="Mnan,'),
    "infinity": BLOCK.replace('id="hem" d="M', 'id="hem" d="M1e999,'),
    "too large a number": BLOCK.replace('id="hem" d="M', 'id="hem" d="M1e300,'),
    "a command that is none": BLOCK.replace('id="hem" d="M', 'id="hem" d="X'),
    "a code for a path": BLOCK.replace('id="hem" d="M', 'id="hem" d="javascript:M'),
    "no size": SVG.format("").replace('width="100mm"', 'width="0"'),
    "a size that is none": SVG.format("").replace('width="100mm"', 'width="wide"'),
    "a negative box": BLOCK.replace('viewBox="', 'viewBox="0 0 -1 -1" x="'),
    "a transform that flattens": BLOCK.replace('<g id="sleeve"', '<g transform="scale(0)" id="sleeve"'),
    "a transform that is none": BLOCK.replace('<g id="sleeve"', '<g transform="spin(3)" id="sleeve"'),
    "compressed": b"\x1f\x8b\x08\x00",
}


@pytest.mark.parametrize("case", HOSTILE_PATTERNS)
def test_hostile_patterns(case: str, run: Run) -> None:
    content = HOSTILE_PATTERNS[case]
    assert content != BLOCK
    Path("bad.svg").write_bytes(content if isinstance(content, bytes) else content.encode())
    assert_one_line(run("measure", "bad.svg"), "bad.svg")
    assert_one_line(run("alter", "bad.svg", "plan.toml", "--json"), "bad.svg")


def test_an_escape_sequence_in_a_title_is_not_shown(run: Run) -> None:
    """XML 1.0 allows the single-byte control letters from 0x80, which some terminals obey."""
    titled = BLOCK.replace("<title></title>", "<title>a&#x9b;31m&#x202e;b</title>")
    assert titled != BLOCK
    Path("titled.svg").write_text(titled, encoding="utf-8")
    status, out, _ = run("measure", "titled.svg")
    assert status == 0
    assert all(line.isprintable() for line in out.splitlines())


HOSTILE_ARGUMENTS: dict[str, tuple[Sequence[str], str]] = {
    "an escape sequence": (["\x1b[2J"], "\\x1b[2J"),
    "an escape sequence as an option": (["measure", "block.svg", "--\x1b[2J"], "\\x1b[2J"),
    "an escape sequence as a file": (["measure", "\x1b[2J"], "\\x1b[2J"),
    "an escape sequence as a lesson": (["learn", "\x1b[2J", "--plain"], "\\x1b[2J"),
    "an escape sequence as a length": (["measure", "block.svg", "--arm", "\x1b[2J"], "--arm"),
    "a name that is no text": (["measure", "\udcff"], "\\xdcff"),
    "a null in a name": (["measure", "a\0b"], "\\x00"),
    "no name": (["measure", ""], "folder"),
    "no file there": (["measure", "../../no/such.svg"], "no such file"),
    "a folder": (["measure", "."], "is a folder"),
    "a folder as a plan": (["alter", "block.svg", "."], "is a folder"),
    "a file as a folder": (["measure", "block.svg/x"], "block.svg/x"),
    "a name too long": (["measure", "x" * 5_000], "sleeve-tutor"),
    "an endless file": (["measure", "/dev/zero"], "/dev/zero"),
    "an endless plan": (["alter", "block.svg", "/dev/zero"], "/dev/zero"),
    "not a number": (["measure", "block.svg", "--arm", "nan"], "--arm"),
    "infinity": (["measure", "block.svg", "--arm", "inf"], "--arm"),
    "too large a number": (["measure", "block.svg", "--arm", "1e308"], "--arm"),
    "a number of a megabyte": (["measure", "block.svg", "--arm", "9" * 100_000], "--arm"),
    "an arm below nothing": (["measure", "block.svg", "--arm=-30cm"], "--arm"),
    "a width of five thousand figures": (["alter", "block.svg", "plan.toml", "--width", "9" * 5_000], "--width"),
    "a picture too large": (["alter", "block.svg", "plan.toml", "--draw", "--width", "1000000000"], "--width"),
    "a picture below nothing": (["alter", "block.svg", "plan.toml", "--draw", "--height", "-5"], "--height"),
    "out into a missing folder": (["alter", "block.svg", "plan.toml", "--out", "no/such/x.svg"], "no/such/x.svg"),
    "out onto a folder": (["alter", "block.svg", "plan.toml", "--out", "."], "is there already"),
    "out onto a folder, forced": (["alter", "block.svg", "plan.toml", "--out", ".", "--force"], "is a folder"),
    "out to no name": (["alter", "block.svg", "plan.toml", "--out", "a\0b"], "\\x00"),
    "out below a file": (["alter", "block.svg", "plan.toml", "--out", "block.svg/x", "--force"], "block.svg/x"),
    "an allowance that is none": (
        ["alter", "block.svg", "plan.toml", "--out", "x", "--allowance", "nan"],
        "--allowance",
    ),
    "a lesson by a path upwards": (["learn", "../../../etc/passwd", "--plain"], "passwd"),
    "a lesson that is a pattern": (["learn", "block.svg", "--plain"], "block.svg"),
    "a draft of nothing": (["draft"], "--armhole-front"),
    "a draft of nonsense": (["draft", "--armhole-front", "-1 cm"], "--armhole-front"),
    "a check of an endless file": (["lessons", "check", "/dev/zero"], "/dev/zero"),
}


@pytest.mark.parametrize("case", HOSTILE_ARGUMENTS)
def test_hostile_arguments(case: str, run: Run) -> None:
    arguments, named = HOSTILE_ARGUMENTS[case]
    assert_one_line(run(*arguments), named)
    assert sorted(os.listdir()) == ["block.svg", "plan.toml"]


def test_a_lesson_with_many_faults_has_a_line_for_each(run: Run) -> None:
    status, out, err = run("learn", "plan.toml", "--plain")
    assert (status, out) == (2, "")
    assert_clear(err)
    assert all(line.startswith("sleeve-tutor: plan.toml") for line in err.splitlines())


def test_files_one_may_not_read_or_write(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Permission is refused by a stand-in: the system lets its administrator read everything."""

    def refuse(path: Path, mode: str = "r", *_: object, **__: object) -> object:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "open", refuse)
    words = "may not be read or written by you"
    assert_one_line(run("measure", "block.svg"), "block.svg", words)
    assert_one_line(run("lessons", "check", "plan.toml"), "plan.toml", words)
    monkeypatch.undo()


def test_a_file_one_may_not_write(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = os.open

    def refuse(path: str | Path, flags: int, *arguments: int, **options: int) -> int:
        if flags & (os.O_CREAT | unnamed) and ("new.svg" in str(path) or Path(path) == Path()):
            raise PermissionError(13, "Permission denied", str(path))
        return opened(path, flags, *arguments, **options)

    here = Path.cwd()
    # A file that gets its name when it is whole is opened in the folder that it is to lie in.
    unnamed = getattr(os, "O_TMPFILE", 0)
    monkeypatch.setattr(os, "open", refuse)
    ran = run("alter", str(here / "block.svg"), str(here / "plan.toml"), "--out", "new.svg")
    assert_one_line(ran, "new.svg", "may not be read or written by you")


LETTERS = st.sampled_from(
    ['"', "'", "=", "[", "]", "{", "}", ".", ",", "\n", "-", "e", "0", "9", "nan", "\x1b", "é", "\0"]
)


@st.composite
def damaged(draw: st.DrawFn, text: str) -> bytes:
    """The text with a few stretches of it cut out, doubled, or replaced by other letters."""
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        end = min(at + draw(st.integers(0, 12)), len(text))
        new = draw(st.just("") | st.just(text[at:end] * 2) | LETTERS | st.text(max_size=4))
        text = text[:at] + new + text[end:]
    return text.encode("utf-8", "replace")


def assert_answered(ran: tuple[int, str, str]) -> None:
    """Whatever was asked was done, refused, or turned down in clear lines."""
    status, out, err = ran
    if status == 2:
        assert out == ""
        assert_clear(err)
    else:
        assert status in (0, 1)
        assert err == ""
        found = json.loads(out, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))
        assert ("refused" in found) == (status == 1)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("damaged")
    (folder / "block.svg").write_text(BLOCK, encoding="utf-8")
    (folder / "plan.toml").write_text(PLAN, encoding="utf-8")
    return folder


@settings(max_examples=150)
@given(plan=damaged(PLAN))
def test_damaged_plans(plan: bytes, folder: Path) -> None:
    (folder / "bad.toml").write_bytes(plan)
    assert_answered(quietly("alter", str(folder / "block.svg"), str(folder / "bad.toml"), "--json"))


@settings(max_examples=150)
@given(block=damaged(BLOCK))
def test_damaged_patterns(block: bytes, folder: Path) -> None:
    (folder / "bad.svg").write_bytes(block)
    assert_answered(quietly("alter", str(folder / "bad.svg"), str(folder / "plan.toml"), "--json"))


def quietly(*arguments: str) -> tuple[int, str, str]:
    """Runs the program with its output kept, once for every example of one test."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = cli.main(list(arguments))
    return status, out.getvalue(), err.getvalue()
