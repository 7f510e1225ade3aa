"""The commands, as a person types them and as a script reads them."""

import errno
import io
import json
import math
import os
import re
import resource
import select
import signal
import subprocess
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from blocks import crossed, pattern, symmetric
from lessons_for_tests import own_lessons
from plan_text import write_plan

import tutor
from tutor import cli
from tutor.alteration.alter import alter
from tutor.alteration.plan import Landmark, Opening, Plan, Slash
from tutor.faults import Fault
from tutor.lesson.lesson import block_of
from tutor.lesson.reading import find_lesson
from tutor.pattern.measures import MEASURES, measure
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.resources import assets_folder
from tutor.settings import DATA_VARIABLE, remember_unit, remembered_unit, settings_file
from tutor.units import Unit

ROOT = Path(__file__).resolve().parent.parent

STRAIGHT = """\
<svg xmlns="http://www.w3.org/2000/svg" width="50cm" height="70cm" viewBox="0 0 500 700">
  <title>Straight lines</title>
  <path id="cap-back" d="M 80 190 L 250 50"/>
  <path id="cap-front" d="M 250 50 L 420 190"/>
  <path id="underarm-front" d="M 420 190 L 360 640"/>
  <path id="hem" d="M 360 640 H 140"/>
  <path id="underarm-back" d="M 140 640 L 80 190"/>
</svg>
"""
"""A sleeve of straight seams: bicep line 340, cap height 140, underarm seams 450 down and 60 in, all mm."""


class Ran:
    """What a command returned and printed."""

    def __init__(self, status: int, out: str, err: str) -> None:
        self.status, self.out, self.err = status, out, err

    @property
    def json(self) -> Any:
        """Standard output as JSON; fails when there is anything else on it."""
        return json.loads(self.out, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))

    @property
    def fault(self) -> str:
        """The one line of a command that could not do as asked."""
        assert self.status == 2
        assert self.out == ""
        (line,) = self.err.splitlines()
        return line


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs the program with arguments, in a folder of its own with a block and a plan in it."""
    monkeypatch.chdir(tmp_path)
    Path("straight.svg").write_text(STRAIGHT, encoding="utf-8")
    Path("block.svg").write_text(write_svg(pattern()), encoding="utf-8")
    Path("crossed.toml").write_text(write_plan(crossed(30.0)), encoding="utf-8")

    def run(*arguments: object) -> Ran:
        capsys.readouterr()
        status = cli.main([str(argument) for argument in arguments])
        return Ran(status, *capsys.readouterr())

    return run


def separate(*arguments: str, **options: Any) -> subprocess.Popen[bytes]:
    """The program in a process of its own, with pipes to it."""
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **options.pop("env", {})}
    return subprocess.Popen([sys.executable, "-m", "tutor", *arguments], **{**pipes, **options}, env=environment)


def rows(text: str) -> dict[str, list[str]]:
    """The rows of printed tables: cells by the words they begin with."""
    cells = [[cell.strip() for cell in line.split("  ") if cell.strip()] for line in text.splitlines()]
    return {row[0]: row[1:] for row in cells if row}


# measure


def test_measures_of_straight_seams(run: Run) -> None:
    """By Pythagoras; 453.98 for a seam 450 long on a taper of 60 is in every table of slopes."""
    found = run("measure", "straight.svg", "--json").json
    assert found["title"] == "Straight lines"
    expected = {
        "bicep-girth": 340.0,
        "cap-height": 140.0,
        "cap-seam-back": math.hypot(170, 140),
        "cap-seam-front": math.hypot(170, 140),
        "cap-seam": 2 * math.hypot(170, 140),
        "hem-girth": 220.0,
        "underarm-seam-back": math.hypot(450, 60),
        "underarm-seam-front": math.hypot(450, 60),
        "underarm-mismatch": 0.0,
        "crown-shift": 0.0,
        "kink": 2 * math.degrees(math.atan2(140, 170)),
    }
    assert {name: found["measures"][name] for name in expected} == pytest.approx(expected, abs=1e-6)


def test_measures_are_those_of_the_file(run: Run) -> None:
    ran = run("measure", "block.svg", "--json")
    assert ran.status == 0
    assert ran.json["measures"] == measure(read_svg(Path("block.svg"), "block.svg"))
    assert set(ran.json["measures"]) <= set(MEASURES)


def test_measures_in_words(run: Run) -> None:
    ran = run("measure", "straight.svg", "--arm", "29 cm")
    assert ran.status == 0
    assert ran.out.splitlines()[0] == "Straight lines"
    table = rows(ran.out)
    assert table["bicep girth"] == ["34.00 cm"]
    assert table["underarm seam, back"] == ["45.40 cm"]
    assert table["wearing ease"] == ["5.00 cm"]


def test_the_arm_is_read_in_the_unit_asked_for(run: Run) -> None:
    found = run("measure", "straight.svg", "--arm", "12", "--units", "in", "--json").json
    assert found["arm-girth"] == pytest.approx(304.8)
    assert found["measures"]["wearing-ease"] == pytest.approx(340 - 304.8)


def test_a_pattern_comes_from_standard_input_too(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(STRAIGHT.encode())))
    assert run("measure", "-", "--json").json["measures"]["bicep-girth"] == pytest.approx(340)


def test_closed_standard_streams_are_lived_with(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    line = "sleeve-tutor: standard input: is closed; name a file, or send the pattern there"
    assert run("measure", "-").fault == line
    assert run("learn", "4", "--plain").fault.startswith("sleeve-tutor: there is nothing to read answers from; ")
    monkeypatch.setattr(sys, "stdout", None)
    assert cli.main(["measure", "straight.svg"]) == 0


# units


def test_units_are_remembered(run: Run) -> None:
    assert rows(run("measure", "straight.svg").out)["bicep girth"] == ["34.00 cm"]
    assert rows(run("measure", "straight.svg", "--units", "in").out)["bicep girth"] == ["13 3/8 in"]
    assert rows(run("measure", "straight.svg").out)["bicep girth"] == ["13 3/8 in"]
    assert run("measure", "straight.svg", "--json").json["measures"]["bicep-girth"] == pytest.approx(340)
    assert rows(run("measure", "straight.svg", "--units", "cm").out)["bicep girth"] == ["34.00 cm"]
    assert remembered_unit() is Unit.CM


def test_units_before_the_command_mean_the_same(run: Run) -> None:
    assert rows(run("--units", "in", "measure", "straight.svg").out)["cap height"] == ["5 1/2 in"]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"units = 3",
        b'units = "mile"',
        b"\xff\xfe",
        b"units",
        b'[units]\nin = "cm"',
        b"[" * 9_000,
        b"units = " + b"9" * 9_000,
    ],
)
def test_a_broken_settings_file_is_as_good_as_none(content: bytes) -> None:
    path = settings_file()
    assert path is not None
    path.parent.mkdir(parents=True)
    path.write_bytes(content)
    assert remembered_unit() is Unit.CM
    remember_unit(Unit.INCH)
    assert remembered_unit() is Unit.INCH


def test_where_nothing_can_be_written_nothing_is_remembered(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file stands where the folder should be, which stops the system's administrator as well."""
    Path("taken").write_text("", encoding="utf-8")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(Path("taken").absolute()))
    ran = run("measure", "straight.svg", "--units", "in")
    assert (ran.status, ran.err) == (0, "")
    assert rows(ran.out)["bicep girth"] == ["13 3/8 in"]
    assert rows(run("measure", "straight.svg").out)["bicep girth"] == ["34.00 cm"]


def test_a_settings_folder_in_place_of_the_file_stops_nothing(run: Run) -> None:
    path = settings_file()
    assert path is not None
    path.mkdir(parents=True)
    assert run("measure", "straight.svg", "--units", "in").status == 0


# alter


@pytest.mark.parametrize(("gain", "height"), [(20, 126.886), (30, 119.478), (40, 111.355), (50, 102.347)])
def test_crossed_slashes_from_files(gain: int, height: float, run: Run) -> None:
    """A plan and a pattern of one's own. H' = sqrt(H^2 + b^2 - (b + W/2)^2), b 170, H 140: plane geometry."""
    Path("sleeve.svg").write_text(write_svg(Pattern(symmetric(170, 140, 450))), encoding="utf-8")
    Path("plan.toml").write_text(
        f"""
        [[slash]]
        name = "up and down"
        from = "crown"
        to = {{ seam = "hem", share = 0.5 }}
        hinge = ["from", "to"]
        [[slash]]
        name = "across"
        from = {{ seam = "underarm-back", distance = 0, from = "underarm-back" }}
        to = "underarm-front"
        hinge = ["from", "to"]
        [[opening]]
        slash = "up and down"
        at = {{ crosses = "across", toward = "to" }}
        for = {{ measure = "bicep-girth", change = "{gain} mm" }}
        """,
        encoding="utf-8",
    )
    found = run("alter", "sleeve.svg", "plan.toml", "--json").json
    assert found["after"]["bicep-girth"] == pytest.approx(340 + gain, abs=1e-6)
    assert found["after"]["cap-height"] == pytest.approx(height, abs=5e-4)
    assert found["change"]["cap-height"] == pytest.approx(height - 140, abs=5e-4)
    assert found["as-cut"]["cap-seam"] == pytest.approx(found["before"]["cap-seam"], abs=1e-9)
    (opening,) = found["openings"]
    assert opening["slash"] == "up and down"
    assert opening["opened"] == pytest.approx(opening["asked"], abs=1e-9)
    assert opening["place"] == pytest.approx([0, 0], abs=1e-9)
    assert len(found["pieces"]) == 4
    assert found["residual"] <= 1e-9


def test_everything_an_alteration_gives_is_in_its_json(run: Run) -> None:
    Path("plan.toml").write_text(write_plan(crossed(30.0, 10.0)), encoding="utf-8")
    found = run("alter", "block.svg", "plan.toml", "--json", "--arm", "29 cm").json
    block = read_svg(Path("block.svg"), "block.svg")
    altered = alter(block, crossed(30.0, 10.0))
    assert found["after"]["wearing-ease"] == pytest.approx(altered.measures_after["bicep-girth"] - 290)
    assert {name: found["after"][name] for name in altered.measures_after} == altered.measures_after
    assert {name: found["before"][name] for name in altered.measures_before} == altered.measures_before
    assert found["as-cut"] == altered.as_cut
    assert found["change"] == {name: found["after"][name] - found["before"][name] for name in found["after"]}
    assert [opening["opened"] for opening in found["openings"]] == pytest.approx([30, 10], abs=1e-9)
    assert [piece["name"] for piece in found["pieces"]] == [piece.name for piece in altered.pieces]


def test_an_alteration_in_words(run: Run) -> None:
    ran = run("alter", "block.svg", "crossed.toml", "--arm", "29 cm")
    assert (ran.status, ran.err) == (0, "")
    altered = alter(read_svg(Path("block.svg"), ""), crossed(30.0))
    table = rows(ran.out)
    after = altered.measures_after["bicep-girth"]
    assert table["bicep girth"] == ["33.90 cm", f"{after / 10:.2f} cm", f"+{(after - 339) / 10:.2f} cm"]
    assert table["wearing ease"][0] == "4.90 cm"
    assert table["grain, where bicep crosses, toward to"] == ["+3.00 cm", "+3.00 cm"]
    assert "4 pieces: " in ran.out
    overlap, gap = altered.areas
    assert f"overlap {overlap / 100:.1f} cm², gap {gap / 100:.1f} cm²" in ran.out


def test_before_and_after_are_drawn(run: Run) -> None:
    ran = run("alter", "block.svg", "crossed.toml", "--draw", "--width", 70, "--height", 25)
    picture = [line for line in ran.out.splitlines() if any("\u2800" <= letter <= "\u28ff" for letter in line)]
    assert 20 <= len(picture) <= 35
    assert max(map(len, picture)) <= 70
    for words in ("before", "after", "slash", "gap", "overlap", "hinge"):
        assert f"  {words}\n" in ran.out


def test_a_picture_in_plain_letters(run: Run) -> None:
    ran = run("alter", "block.svg", "crossed.toml", "--draw", "--ascii", "--width", 70, "--height", 25)
    picture = ran.out[ran.out.index("overlap ") :].split("\n", 1)[1]
    assert picture.isascii()
    assert "  after\n" in picture


def test_a_terminal_without_braille_gets_plain_letters(run: Run) -> None:
    with separate("alter", "block.svg", "crossed.toml", "--draw", env={"PYTHONIOENCODING": "ascii"}) as process:
        out, err = process.communicate()
    assert (process.returncode, err) == (0, b"")
    assert out.isascii()
    assert b"  after\n" in out.replace(b"\r\n", b"\n")


def test_the_altered_pattern_is_written(run: Run) -> None:
    ran = run("alter", "block.svg", "crossed.toml", "--out", "new.svg", "--allowance", "1 cm")
    assert ran.status == 0
    block = read_svg(Path("block.svg"), "")
    written = read_svg(Path("new.svg"), "new.svg")
    assert measure(written) == pytest.approx(measure(alter(block, crossed(30.0)).after), abs=1e-9)
    assert 'id="cut-line"' in Path("new.svg").read_text(encoding="utf-8")


def test_nothing_is_written_over_unless_forced(run: Run) -> None:
    before = Path("block.svg").read_bytes()
    ran = run("alter", "block.svg", "crossed.toml", "--out", "block.svg")
    assert ran.fault == "sleeve-tutor: block.svg: is there already; give another name, or --force to write over it"
    assert Path("block.svg").read_bytes() == before
    assert run("alter", "block.svg", "crossed.toml", "--out", "block.svg", "--force").status == 0
    assert Path("block.svg").read_bytes() != before


REFUSED = {
    "locked": Plan((Slash("a", Landmark("crown"), Landmark("grain-hem"), True, True),), (Opening("a", 20.0),)),
    "loose": Plan((Slash("a", Landmark("crown"), Landmark("grain-hem")),)),
}
WRITTEN = {
    "stops inside the paper": 'from = "crown"\nto = { x = "1 cm", y = "-10 cm" }',
    "not on the outline": 'from = "crown"\nto = { x = "1 cm", y = "-60 cm" }',
    "crosses the seam twice": (
        'from = "underarm-back"\nto = { seam = "cap-back", share = 0.4, from = "crown" }\nhinge = ["from", "to"]'
    ),
}


@pytest.mark.parametrize("kind", [*REFUSED, *WRITTEN])
def test_what_paper_cannot_do_is_refused(kind: str, run: Run) -> None:
    text = write_plan(REFUSED[kind]) if kind in REFUSED else f'[[slash]]\nname = "a"\n{WRITTEN[kind]}\n'
    Path("plan.toml").write_text(text, encoding="utf-8")
    ran = run("alter", "block.svg", "plan.toml", "--out", "new.svg")
    assert (ran.status, ran.err) == (1, "")
    (line,) = ran.out.splitlines()
    assert line.startswith(f"refused: {kind}: ")
    assert not Path("new.svg").exists()
    ran = run("alter", "block.svg", "plan.toml", "--json")
    assert (ran.status, ran.err) == (1, "")
    refused = ran.json["refused"]
    assert set(refused) == {"kind", "what", "slash", "piece", "place"}
    assert (refused["kind"], refused["slash"]) == (kind, "a")
    assert refused["place"] is None or [type(number) for number in refused["place"]] == [float, float]


def test_a_refusal_speaks_in_the_unit_asked_for(run: Run) -> None:
    Path("plan.toml").write_text(write_plan(REFUSED["locked"]), encoding="utf-8")
    assert " 13/16 in" in run("alter", "block.svg", "plan.toml", "--units", "in").out
    assert " 2.0 cm" in run("alter", "block.svg", "plan.toml", "--units", "cm").out


def test_every_fault_of_a_plan_is_printed(run: Run) -> None:
    text = 'units = "cm"\n[[slash]]\nname = 3\nfrom = "crown"\nto = "hem-back"\n[[opening]]\nslash = "a"\n'
    Path("plan.toml").write_text(text, encoding="utf-8")
    ran = run("alter", "block.svg", "plan.toml")
    assert ran.status == 2
    assert [line.split(": ")[:3] for line in ran.err.splitlines()] == [
        ["sleeve-tutor", "plan.toml", "line 3, slash 1, name"],
        ["sleeve-tutor", "plan.toml", "line 6, opening 1"],
    ]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--draw", "--json"), "--draw: can't be given with --json"),
        (("--ascii",), "--ascii: is for the picture, which isn't asked for; add --draw"),
        (("--width", "80"), "--width: is for the picture, which isn't asked for; add --draw"),
        (("--draw", "--width", "3"), "--width: 3 is no size for a picture; give 20 to 500"),
        (("--draw", "--height", "9999999"), "--height: 9999999 is no size for a picture; give 8 to 250"),
        (("--force",), "--force: is for the file, which isn't asked for; add --out FILE"),
        (("--allowance", "1 cm"), "--allowance: is for the file, which isn't asked for; add --out FILE"),
        (("--out", "x.svg", "--allowance=-1 cm"), "--allowance: -1 cm is no seam allowance; give 0 to 10 cm"),
    ],
)
def test_options_that_do_not_go_together(options: tuple[str, ...], words: str, run: Run) -> None:
    assert run("alter", "block.svg", "crossed.toml", *options).fault.startswith(f"sleeve-tutor: {words}")


# draft

MEASURES_GIVEN = (
    *("--armhole-front", "21 cm", "--armhole-back", "22 cm", "--bicep-girth", "34 cm"),
    *("--cap-ease", "2.5 cm", "--sleeve-length", "58 cm", "--hem-girth", "24 cm"),
)


def test_a_draft_is_what_was_asked_for(run: Run) -> None:
    found = run("draft", *MEASURES_GIVEN, "--json").json
    expected = {"armhole-front": 210, "armhole-back": 220, "bicep-girth": 340, "cap-ease": 25, "hem-girth": 240}
    assert {name: found["measures"][name] for name in expected} == pytest.approx(expected, abs=1e-6)
    assert measure(read_svg(found["svg"].encode(), "svg")) == pytest.approx(found["measures"], abs=1e-9)


def test_a_draft_goes_to_standard_output_or_to_a_file(run: Run) -> None:
    printed = run("draft", *MEASURES_GIVEN, "--title", "Block A")
    ran = run("draft", *MEASURES_GIVEN, "--title", "Block A", "--out", "a.svg")
    assert Path("a.svg").read_text(encoding="utf-8") == printed.out
    assert rows(ran.out)["bicep girth"] == ["34.00 cm"]
    assert read_svg(Path("a.svg"), "").title == "Block A"
    assert run("draft", *MEASURES_GIVEN, "--out", "a.svg").fault.endswith("or --force to write over it")


def test_bare_lengths_of_a_draft_are_in_the_unit_asked_for(run: Run) -> None:
    given = [value.removesuffix(" cm") for value in MEASURES_GIVEN]
    assert run("draft", *given, "--units", "cm").out == run("draft", *MEASURES_GIVEN).out


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (MEASURES_GIVEN[2:], "--armhole-front: is missing; give 6.0 to 60.0 cm"),
        ((*MEASURES_GIVEN, "--arm-girth", "30 cm"), "--bicep-girth: is given together with --arm-girth; give"),
        ((*MEASURES_GIVEN, "--cap-height", "9 m"), '--cap-height: "9 m" ends in no unit known here; use cm, mm or in'),
        ((*MEASURES_GIVEN, "--cap-height", "9000 cm"), "--cap-height: 9000.0 cm is not believable; it can be"),
        ((*MEASURES_GIVEN, "--above-elbow", "--elbow-level", "30 cm"), "--elbow-level: is given for a sleeve that"),
        ((*MEASURES_GIVEN, "--title", "\x1b[31m"), "--title: is no title; give one line of at most 200 letters"),
        ((*MEASURES_GIVEN, "--force"), "--force: is for the file, which isn't asked for; add --out FILE"),
        ((*MEASURES_GIVEN, "--cap-ease-front", "-2cm"), "--cap-ease-front: -2cm begins with a minus; write"),
    ],
)
def test_drafts_that_cannot_be(options: tuple[str, ...], words: str, run: Run) -> None:
    assert run("draft", *options).fault.startswith(f"sleeve-tutor: {words}")


def test_the_demonstration_block_is_a_draft(run: Run) -> None:
    """assets/blouse-block.svg is what README's draft command makes."""
    given = (
        *("--armhole-front", "21.5 cm", "--armhole-back", "22.5 cm", "--bicep-girth", "33 cm"),
        *("--cap-ease", "2.5 cm", "--sleeve-length", "58 cm", "--hem-girth", "24 cm"),
    )
    drafted = run("draft", *given, "--json").json["measures"]
    assert measure(read_svg(assets_folder() / "blouse-block.svg", "")) == pytest.approx(drafted, abs=1e-6)


# lessons and learn


def test_lessons_are_listed(run: Run) -> None:
    ran = run("lessons")
    assert ran.status == 0
    for lesson in own_lessons():
        assert f"{lesson.number}  {lesson.title}" in ran.out
    found = run("lessons", "--json").json["lessons"]
    assert [(each["number"], each["title"]) for each in found] == [(x.number, x.title) for x in own_lessons()]
    assert found


def test_lessons_that_come_along_are_right(run: Run) -> None:
    ran = run("lessons", "check", ROOT / "lessons")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == f"{len(own_lessons())} of {len(own_lessons())} right\n"


def test_faults_of_lessons_are_all_reported(run: Run) -> None:
    Path("mine.toml").write_text('title = 3\nnumber = "one"\n', encoding="utf-8")
    ran = run("lessons", "check", "mine.toml")
    assert (ran.status, ran.err) == (1, "")
    *faults, count = ran.out.splitlines()
    assert len(faults) > 2
    assert all(line.startswith("mine.toml") for line in faults)
    assert count == "0 of 1 right"
    ran = run("lessons", "check", "mine.toml", "--json")
    assert ran.status == 1
    assert len(ran.json["faults"]) == len(faults)
    assert ran.json["checked"] == ["mine.toml"]


@pytest.mark.parametrize(
    ("paths", "words"),
    [
        (("nowhere.toml",), "nowhere.toml: there is no such file; give the path"),
        ((".",), ".: has no lesson file in it"),
    ],
)
def test_lessons_that_are_not_there(paths: tuple[str, ...], words: str, run: Run) -> None:
    Path("crossed.toml").unlink()
    assert run("lessons", "check", *paths).fault.startswith(f"sleeve-tutor: {words}")


def lesson_four_answer() -> float:
    """The cap height, mm, after crossed slashes widen lesson 4's block to what it asks: two circles that meet."""
    lesson = find_lesson("4")
    sleeve = block_of(lesson).sleeve
    back = abs(sleeve.crown - sleeve.underarm_point_back)
    front = abs(sleeve.crown - sleeve.underarm_point_front)
    girth = lesson.arm.girth + lesson.arm.wearing_ease
    along = (girth**2 + back**2 - front**2) / (2 * girth)
    return math.sqrt(back**2 - along**2)


def test_a_lesson_is_taken_through_a_pipe(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    answer = f"answer {lesson_four_answer() / 10:.1f} cm"
    slashes = ["slash crown to hem, hinge at both ends, as a", "slash back underarm to front underarm, as b"]
    hinges = ["hinge b at both ends", "open a at b, hem side 3.02 cm", "check", "next"]

    def learn(*lines: str, data: str = "one") -> Ran:
        monkeypatch.setenv("SLEEVE_TUTOR_DATA", data)
        monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(lines)))
        return run("learn", "4", "--plain", "--units", "cm")

    walked = "answer cap-seam, underarm-seam-back, hem-girth"
    ran = learn(answer, "next", *slashes, *hinges, walked, "quit")
    assert "Lesson 4 passed." in ran.out
    assert ran.status == 0
    assert "You go on" not in ran.out
    ran = learn("answer 3 cm", "quit", data="another")
    assert "Lesson 4 not passed." in ran.out
    assert ran.status == 1


def test_what_is_done_through_a_pipe_is_kept_line_by_line(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", "kept")

    def learn(*lines: str) -> Ran:
        monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(lines)))
        return run("learn", "4", "--plain", "--units", "cm")

    def progress() -> tuple[int, int, int]:
        (found,) = [each for each in run("progress", "--json").json["lessons"] if each["number"] == 4]
        return found["tasks-passed"], found["tasks"], found["tries"]

    learn(f"answer {lesson_four_answer() / 10:.1f} cm", "next", "slash crown to hem, hinge at both ends, as a")
    assert progress() == (1, 3, 1)
    ran = learn("slash back underarm to front underarm, hinge at both ends, as b", "open a at b, hem side 3.02 cm")
    words = " ".join(ran.out.split())
    assert "You go on where you left off, at task 2 of 3. Task 1 is passed. Built so far: Slash a: from the" in words
    ran = learn("check", "next", "answer cap-seam, underarm-seam-back, hem-girth")
    assert (ran.status, progress()) == (0, (3, 3, 3))
    ran = learn("start over", "answer 3 cm")
    assert (ran.status, progress()) == (1, (3, 3, 4))
    assert "The lesson begins anew." in ran.out
    ran = learn("task 2", "plan")
    assert "The paper is as it was." in ran.out
    assert "Task 1 is not passed." in ran.out


def test_a_folder_that_keeps_nothing_is_told_once(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("file").touch()
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", "file/below")
    monkeypatch.setattr(sys, "stdin", io.StringIO("hint\nanswer 3 cm\nhint\n"))
    ran = run("learn", "4", "--plain")
    assert (ran.status, ran.err) == (1, "")
    assert ran.out.count("Note: Nothing can be kept in") == 1
    assert "Mark: " in ran.out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "the tutor needs a terminal for input and output; sleeve-tutor learn LESSON --plain talks line by line"),
        (("learn",), "the tutor needs a terminal for input and output; sleeve-tutor learn LESSON --plain"),
        (("learn", "4"), "the tutor needs a terminal for input and output; sleeve-tutor learn LESSON --plain"),
        (("learn", "400", "--plain"), 'lesson: "400" is no lesson; there are '),
        (("learn", "nowhere.toml", "--plain"), "nowhere.toml: there is no such file; give the path of a file"),
    ],
)
def test_lessons_that_cannot_be_opened(arguments: tuple[str, ...], words: str, run: Run) -> None:
    assert run(*arguments).fault.startswith(f"sleeve-tutor: {words}")


# the program as a whole


def test_the_help_names_every_variable_that_counts(run: Run) -> None:
    shown = run("--help").out
    sources = [path.read_text(encoding="utf-8") for path in (ROOT / "tutor").rglob("*.py")]
    read = {name for source in sources for name in re.findall(r'environ(?:ment)?(?:\.get\(|\[)"([A-Z_]+)"', source)}
    assert {"NO_COLOR", "COLUMNS", "LC_ALL"} < read
    # Of what else is read the first two are Python's own, and the others say what a terminal or a locale is like.
    others = {"PYTHONIOENCODING", "PYTHONUTF8", "LC_CTYPE", "TERM"}
    for name in {*read, DATA_VARIABLE} - others:
        assert name in shown


@pytest.mark.parametrize("command", ["", *cli.COMMANDS])
def test_help_is_there_at_once(command: str) -> None:
    """Help shows the use, and loads no library that takes its time."""
    arguments = [command, "--help"] if command else ["--help"]
    program = (
        "import sys\nfrom tutor.cli import main\n"
        "status = main(sys.argv[1:])\nprint(*sys.modules, file=sys.stderr)\nsys.exit(status)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program, *arguments], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert ran.stdout.startswith(f"usage: sleeve-tutor{' ' * bool(command)}{command}")
    if command:
        assert f"example:\n  sleeve-tutor {command}" in ran.stdout
    loaded = {name.partition(".")[0] for name in ran.stderr.split()}
    assert "tutor" in loaded
    assert not loaded & {"textual", "rich", "numpy", "shapely", "plotext", "msgspec", "platformdirs"}


def test_the_version_is_told(run: Run) -> None:
    assert run("--version").out == f"sleeve-tutor {tutor.__version__}\n"


@pytest.mark.parametrize("command", ["measure", "draft"])
def test_a_pattern_is_drawn(command: str, run: Run) -> None:
    arguments = ("measure", "block.svg") if command == "measure" else ("draft", *MEASURES_GIVEN)
    ran = run(*arguments, "--draw", "--width", "70", "--height", "20", "--ascii")
    table, picture, legend = (part for part in ran.out.split("\n\n") if part.count("\n") > 3)
    assert "cap height" in table
    assert len(picture.splitlines()) <= 20
    assert max(map(len, picture.splitlines())) <= 70
    assert picture.count("^") == 1
    assert {line.split("  ")[-1].strip() for line in legend.splitlines()} >= {"seam", "armhole", "crown", "notch"}
    assert (picture + legend).isascii()
    assert "<svg" not in ran.out
    assert run(*arguments, "--height", "20").fault.endswith("isn't asked for; add --draw")


def test_a_sleeve_smaller_than_the_arm_is_told(run: Run) -> None:
    """The block of straight seams is 34 cm at its bicep line."""
    assert (
        "The sleeve is smaller than the arm, by 1.00 cm at the bicep line."
        in run("measure", "straight.svg", "--arm", "35 cm").out
    )
    assert "smaller than the arm" not in run("measure", "straight.svg", "--arm", "34 cm").out


def test_a_folder_named_for_what_is_kept_holds_the_unit_too(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", "anna")
    remember_unit(Unit.INCH)
    assert settings_file() == Path("anna/settings.toml").absolute()
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", "bert")
    assert remembered_unit() is Unit.CM


def test_a_fault_of_the_program_is_owned_up_to(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> object:
        raise ZeroDivisionError("a\nb")

    monkeypatch.setattr("tutor.pattern.measures.measure", broken)
    line = run("measure", "straight.svg").fault
    assert line.startswith("sleeve-tutor: this is a fault of the program, at tutor/commands/measure.py, line ")
    assert line.endswith(": ZeroDivisionError: a b")


def test_several_faults_are_a_line_each(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    class Faults(Fault):
        faults = (Fault("a", "b"), Fault("c", "d\x1b"))

    def broken(*_: object) -> object:
        raise Faults("a", "b")

    monkeypatch.setattr("tutor.commands.pattern_source.read_pattern", broken)
    ran = run("measure", "straight.svg")
    assert (ran.status, ran.err) == (2, "sleeve-tutor: a: b\nsleeve-tutor: c: d\\x1b\n")


def test_whoever_stops_reading_is_left_alone(run: Run) -> None:
    with separate("alter", "block.svg", "crossed.toml", "--draw") as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
    # As a shell reports a program that SIGPIPE has ended (POSIX.1-2017, Shell Command Language, 2.8.2).
    assert process.returncode == 128 + signal.SIGPIPE


def test_a_full_disk_is_said(run: Run) -> None:
    """A process that may write no byte to any file meets what it would meet on a full disk."""

    def write_nothing() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))

    with open("out", "wb") as out, separate("lessons", stdout=out, preexec_fn=write_nothing) as process:
        _, err = process.communicate()
    assert process.returncode == 2
    assert err == f"sleeve-tutor: output: {os.strerror(errno.EFBIG)}\n".encode()


def test_control_c_stops_it(run: Run) -> None:
    # Where the tests run in the background, a shell has interrupts ignored, and what they start would ignore them too.
    heeds = partial(signal.signal, signal.SIGINT, signal.SIG_DFL)
    with separate("learn", "4", "--plain", preexec_fn=heeds) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert select.select([process.stdout], [], [], 60)[0]
        # Python drops an interrupt that falls into a moment when it can't be raised; people press the keys again. Input
        # stays open meanwhile: its end would end the lesson in another way.
        for _ in range(6):
            process.send_signal(signal.SIGINT)
            try:
                process.wait(timeout=10)
                break
            except subprocess.TimeoutExpired:
                continue
        _, err = process.communicate(timeout=10)
    assert process.returncode == 130
    assert err == b"sleeve-tutor: stopped\n"
