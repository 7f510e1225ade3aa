"""Figures told without a picture: their tables hold what the pattern's geometry says, at every width."""

import io
import math
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from lessons_for_tests import SMALL, written
from terminal import Terminal, environment
from test_plain import CROSSED, LIFTED, ROOT, SOLVED, flowing, talked

from tutor.lesson.reading import find_lesson, read_lesson
from tutor.letters import takes_every_letter
from tutor.practice.console import Console
from tutor.practice.page import Page
from tutor.practice.plain import run_plain
from tutor.practice.session import Session
from tutor.units import Unit

OPENED = f"next{CROSSED}open grain at bicep, hem side 3 cm\n"
FIGURES = "figure\nfigure cap\nfigure slashes\nfigure pieces\nfigure armholes\nwalk\nmeasures\ntour\nprogress\nhelp\n"


def rows(text: str, head: str) -> dict[str, list[float]]:
    """The rows of the table that begins with ``head``: the figures of each in cm, by its name."""
    lines = text.split(f"\n{head} ")[1].split("\n")[1:]
    found = {}
    for line in lines:
        if not line.strip():
            break
        if not re.search(r"\S\s{2,}\S", line):
            # The beginning of a name that is broken into lines.
            continue
        name, figures = re.split(r"\s{2,}", line, maxsplit=1)
        found[name] = [float(figure) for figure in re.findall(r"([+-]?\d+\.\d) cm", figures)]
    return found


def after(text: str, command: str) -> str:
    """What was said to a command."""
    return text.split(f"\n> {command}\n")[-1].split("\n> ")[0]


def test_the_places_of_the_flat_sleeve_are_those_of_its_measures() -> None:
    _, said = talked("4", "next\ntape\nfigure\nquit")
    places = rows(after(said, "figure"), "place")
    # By definition: the girth is from underarm point to underarm point, the height from the crown to the bicep line
    # (y = 0), the underarm seam straight from underarm point to hem corner on this block.
    (back, _), (front, _) = places["back underarm point"], places["front underarm point"]
    assert front - back == pytest.approx(33.0, abs=0.11)
    assert places["crown"] == [0.0, 14.2]
    assert places["front hem corner"][0] - places["back hem corner"][0] == pytest.approx(24.0, abs=0.11)
    hem = complex(*places["back hem corner"])
    assert abs(hem - complex(back, 0)) == pytest.approx(45.0, abs=0.11)
    elbow = places["front elbow point"][0] - places["back elbow point"][0]
    assert elbow == pytest.approx(28.5, abs=0.11)


def test_the_places_of_the_altered_sleeve_stand_beside_those_it_had() -> None:
    _, said = talked("4", f"{OPENED}figure\nquit")
    places = rows(after(said, "figure"), "place")
    (back, _, was_back, _), (front, _, was_front, _) = (places[f"{side} underarm point"] for side in ("back", "front"))
    assert front - back == pytest.approx(36.0, abs=0.11)
    assert was_front - was_back == pytest.approx(33.0, abs=0.11)
    # Both cap halves turn as stiff pieces: the straight line from underarm point to crown keeps its length.
    crown = complex(*places["crown"][:2])
    was = complex(*places["crown"][2:])
    assert abs(crown - back) == pytest.approx(abs(was - was_back), abs=0.15)


def test_a_slash_with_hinges_at_both_ends_opens_in_between_alone() -> None:
    _, said = talked("4", f"{OPENED}figure slashes\nquit")
    opened = rows(after(said, "figure slashes"), "place")
    assert opened["grain, at bicep, hem side"] == [3.0]
    assert "grain, at the crown  " in said
    assert opened["grain, at the crown"] == opened["grain, at the hem at the grain"] == []
    # The elbow lies about half way from hem to bicep line, where the wedge is open by about half.
    assert opened["grain, at the elbow line"][0] == pytest.approx(1.5, abs=0.1)


def test_pieces_turn_as_far_as_the_wedge_between_them_opens() -> None:
    _, said = talked("4", "next\nslash crown to hem, hinge at hem\nopen A at crown 3 cm\nfigure pieces\nquit")
    turns = [float(turn) for turn in re.findall(r"(\d+\.\d)° (?:anti)?clockwise", after(said, "figure pieces"))]
    # A wedge 59 cm long that is 3 cm wide at its end: an isosceles triangle.
    assert sum(turns) == pytest.approx(math.degrees(2 * math.asin(1.5 / 59)), abs=0.11)


def test_the_cap_is_told_from_the_underarm_points_to_the_crown() -> None:
    _, said = talked("4", "next\nfigure cap\nquit")
    places = rows(after(said, "figure cap"), "cap seam")
    for side in ("back", "front"):
        told = [places[f"{side}, {where}"] for where in ("at the underarm point", "half way", "at the crown")]
        assert [along for along, *_ in told] == pytest.approx([0, told[2][0] / 2, told[2][0]], abs=0.06)
        assert [up for *_, up in told][::2] == [0.0, 14.2]
    assert places["back, at the crown"][0] + places["front, at the crown"][0] == pytest.approx(46.0, abs=0.11)


def test_the_walk_tells_where_the_ease_sits() -> None:
    _, said = talked("4", "next\nwalk\nwalk front\nquit")
    assert "the cap has 1.0 cm left over at the shoulder. Most of it sits from front notch to shoulder." in flowing(
        said
    )
    front = rows(after(said, "walk front"), "front half")
    # Notches are drafted equally far up on cap and armhole, so that all the ease lies above them.
    assert front["underarm point to front notch"][2] == 0.0
    cap, armhole, ease = (sum(row[k] for row in front.values()) for k in range(3))
    assert armhole == pytest.approx(21.5, abs=0.11)
    assert cap - armhole == pytest.approx(ease, abs=0.16)


def test_the_armholes_are_told_before_and_after_they_answer() -> None:
    _, said = talked("7", "next\nwiden both 8 mm\nlower both 8 mm\nfigure armholes\nquit")
    told = flowing(after(said, "figure armholes"))
    assert "The back armhole is 23.7 cm along its seam, and was 22.5 cm" in told
    front = rows(after(said, "figure armholes"), "front armhole")
    assert front["underarm point"] == [0.0, 0.0, 0.0]
    assert front["shoulder tip"][0] == pytest.approx(21.5 + 1.2, abs=0.15)


def test_where_paper_refuses_is_told_in_words() -> None:
    _, said = talked("4", "next\nslash crown to hem, hinge at both ends\nopen A at bicep line 3 cm\nfigure\nquit")
    assert flowing(said).count("That is at the point 0.0 cm in front of the grain, 0.0 cm above the bicep line.") == 2


def test_a_figure_keeps_back_what_the_task_asks_for(tmp_path: Path) -> None:
    text = SMALL.replace('after = "crossed"\n', "", 1).replace('watch = ["cap-height", ', "watch = [")
    session = Session(read_lesson(written(tmp_path, text)), Unit.CM)
    session.go_to_task(2)
    height = f"{session.measures_before()['cap-height'] / 10:.1f}"
    output = io.StringIO()
    run_plain(session, io.StringIO("figure\nfigure cap\nwalk\nmeasures\ntape\n"), output)
    assert "This task asks for the cap height" in flowing(output.getvalue())
    assert height not in output.getvalue()


@pytest.mark.parametrize("line", ["figure", "figure sleeve", "figure cap", "walk", "walk back", "places"])
def test_no_place_is_told_by_its_name_while_one_is_asked_for(line: str) -> None:
    session = Session(find_lesson("1"), Unit.CM)
    for number in (1, 2, 3):
        session.go_to_task(number)
        output = io.StringIO()
        run_plain(session, io.StringIO(f"{line}\n"), output)
        told = after(output.getvalue(), line).split("Task 1, ")[0].casefold()
        assert "hem" in told or "figure tells the edge" in told
        assert not any(word in told for word in ("crown", "underarm point", "back notch", "corner"))


def test_once_a_place_was_shown_rightly_the_figure_names_them_all() -> None:
    _, said = talked("1", "show 0.1 cm along cap-front\nfigure\nquit")
    assert "Mark: 100 of 100" in said
    assert rows(after(said, "figure"), "place")["crown"][0] == 0.0


@pytest.mark.parametrize(("line", "told"), [("figure hat", "there are sleeve, cap"), ("walk hem", "write walk back")])
def test_a_figure_that_there_is_not_costs_nothing(line: str, told: str) -> None:
    assert told in flowing(talked("4", f"next\n{line}")[1])


def test_a_worked_solution_is_told_with_its_tape_and_can_be_taken_over() -> None:
    _, said = talked("4", "next\nlay\nsolution\nlay\ncheck\nundo\nplan\nquit")
    assert "no worked solution has been shown yet" in said
    solution = rows(after(said, "solution"), "measure")
    assert solution["bicep girth"][:2] == [33.0, 36.0]
    assert "Mark: 100 of 100" in said
    assert "Task 2, Open it: shown" in said
    assert "The paper is as it was." in after(said, "plan")


@pytest.mark.parametrize("lesson", SOLVED)
@pytest.mark.parametrize(("unit", "ascii"), [(Unit.CM, True), (Unit.INCH, False)])
def test_no_line_is_longer_than_a_narrow_pager(lesson: str, unit: Unit, ascii: bool) -> None:
    script = f"check\n{FIGURES}{SOLVED[lesson].removesuffix('next')}{FIGURES}places\nhint\nsolution\nunits mm\nquit"
    _, said = talked(lesson, script, unit=unit, width=40, ascii=ascii)
    assert [line for line in said.splitlines() if len(line) > 40] == []
    # Readable still: no word is broken, and every line of a table is a sentence of its own.
    assert "passed (pass mark" in flowing(said)


def test_letters_that_are_written_out_make_no_line_longer_and_figures_stay_whole() -> None:
    output = io.StringIO()
    page = Page(40, ascii=True)
    Console(io.StringIO(), output, page).say(page.wrapped("sharpest kink in the cap: before 0.0°, now 1.0°", "", "  "))
    assert output.getvalue() == "sharpest kink in the cap: before\n  0.0 deg, now 1.0 deg\n"


@pytest.mark.parametrize(
    "locale",
    [{"LANG": "C"}, {"LC_ALL": "C"}, {"LC_ALL": "POSIX", "LANG": "en_GB.UTF-8"}, {"LANG": "C", "LC_CTYPE": "C"}],
)
def test_a_lesson_is_passed_in_a_plain_locale(locale: dict[str, str], tmp_path: Path) -> None:
    env = {name: value for name, value in os.environ.items() if name not in ("LANG", "LC_ALL", "LC_CTYPE", "COLUMNS")}
    found = subprocess.run(
        [sys.executable, "-m", "tutor", "learn", "6", "--plain"],
        cwd=ROOT,
        input=f"figure\n{LIFTED}\nfigure\nfigure pieces\ncheck\nnext\nanswer 2,2 cm\nnext\n".encode(),
        env=env | locale | {"SLEEVE_TUTOR_DATA": str(tmp_path)},
        capture_output=True,
        check=False,
    )
    assert (found.returncode, found.stderr) == (0, b"")
    assert found.stdout.isascii()
    assert b"deg clockwise" in found.stdout or b"deg anticlockwise" in found.stdout
    assert found.stdout.endswith(b"Lesson 6 passed.\n")


@pytest.mark.parametrize(
    ("environment", "all_letters"),
    [
        ({}, True),
        ({"LANG": "en_GB.UTF-8"}, True),
        ({"LANG": "C"}, False),
        ({"LANG": "C.UTF-8"}, True),
        ({"LANG": "C", "LC_ALL": "C.UTF-8"}, True),
        ({"LANG": "en_GB.UTF-8", "LC_ALL": "POSIX"}, False),
        ({"LANG": "en_GB.UTF-8", "LC_CTYPE": "C"}, False),
        # Python itself puts this in LC_CTYPE where LANG is C.
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, False),
        ({"LANG": "C", "PYTHONUTF8": "1"}, True),
        ({"LANG": "C", "PYTHONIOENCODING": "utf-8"}, True),
    ],
)
def test_the_locale_says_which_letters_are_taken(
    environment: dict[str, str], all_letters: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    output = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    monkeypatch.setattr(sys, "stdout", output)
    assert takes_every_letter(output, environment) is all_letters
    assert not takes_every_letter(io.TextIOWrapper(io.BytesIO(), encoding="latin-1"), environment)


def test_a_lesson_is_passed_and_read_in_a_pager_of_40_columns(tmp_path: Path) -> None:
    script = tmp_path / "script"
    script.write_text(f"{SOLVED['6']}\n", encoding="utf-8")
    said = tmp_path / "said"
    run = f'"{sys.executable}" -m tutor learn 6 --plain <"{script}" | tee "{said}" | more'
    terminal = Terminal(["sh", "-c", run], 40, 20, environment(tmp_path), tmp_path)
    try:
        terminal.wait_for("Anouk likes the cap")
        for _ in range(60):
            if "Lesson 6 passed." in terminal.screen():
                break
            terminal.write(" ")
            terminal.rest(0.2)
        terminal.wait_for("Lesson 6 passed.")
    finally:
        terminal.close()
    lines = said.read_text(encoding="utf-8").splitlines()
    assert "Lesson 6 passed." in lines
    # The tutor found the width by itself, though its output went into a pipe: nothing had to be broken by the pager.
    assert max(map(len, lines)) <= 40


def test_the_unit_typed_is_kept_for_next_time(tmp_path: Path) -> None:
    env = os.environ | {"SLEEVE_TUTOR_DATA": str(tmp_path)}
    for script, told in (("units in\nquit\n", "13 in"), ("tape\nquit\n", "13 in")):
        words = [sys.executable, "-m", "tutor", "learn", "4", "--plain"]
        found = subprocess.run(words, cwd=ROOT, input=script, env=env, capture_output=True, text=True, check=False)
        assert told in found.stdout


def test_progress_tells_every_lesson(tmp_path: Path) -> None:
    env = os.environ | {"SLEEVE_TUTOR_DATA": str(tmp_path)}
    words = [sys.executable, "-m", "tutor", "learn", "4", "--plain"]
    script = "answer 12.3 cm\nprogress\nquit\n"
    found = subprocess.run(words, cwd=ROOT, input=script, env=env, capture_output=True, text=True, check=False)
    assert "Task 1, Predict the cap height: passed, best mark 100 of 100 in 1 try." in found.stdout
    assert re.search(r"4  Room with the cap seam kept +begun +1/3 +33 +1\n", found.stdout)
    assert re.search(r"5  Trading ease for height +not begun", found.stdout)
