"""A learner's own pattern written to a file, and laid on pages to be printed."""

from __future__ import annotations

import io
import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
from svgpathtools import parse_path
from tutor_driving import driven

from tutor.cli import main
from tutor.faults import Fault
from tutor.lesson.lesson import block_of
from tutor.lesson.reading import find_lesson
from tutor.pattern.measures import measure
from tutor.pattern.svg_read import read_svg
from tutor.practice.pattern_out import own_pattern, write_own_pattern
from tutor.practice.plain import run_plain
from tutor.practice.session import Session
from tutor.units import Unit

SVG = "{http://www.w3.org/2000/svg}"
POINTS = 72 / 25.4
"""Points of a PDF to the mm (ISO 32000-1)."""


def at(task: int, *lines: str, number: str = "13") -> Session:
    """A lesson worked on line by line, left at a task."""
    session = Session(find_lesson(number), Unit.CM)
    run_plain(session, io.StringIO("\n".join([f"task {task}", *lines, "quit", ""])), io.StringIO())
    return session


def test_what_is_written_reads_back_as_what_was_made(tmp_path: Path) -> None:
    session = at(3, "cap up 1 cm")
    path = write_own_pattern(session, str(tmp_path / "mine.svg"))
    found, now = measure(read_svg(path.read_bytes(), "mine")), session.measures_now()
    assert now is not None
    for name in ("bicep-girth", "cap-height", "cap-seam", "armhole", "cap-ease", "sleeve-length"):
        assert found[name] == pytest.approx(now[name], abs=0.01), name
    assert found["cap-height"] == pytest.approx(session.measures_before()["cap-height"] + 10, abs=0.01)


def test_at_a_question_it_is_what_was_built_before(tmp_path: Path) -> None:
    session = at(3, "cap up 1.2 cm", "check", "task 4")
    before = session.measures_before()["cap-height"]
    assert measure(own_pattern(session))["cap-height"] == pytest.approx(before + 12, abs=1e-6)


def test_where_nothing_was_built_it_is_the_block() -> None:
    session = at(1)
    assert own_pattern(session) is session.pattern
    assert measure(own_pattern(at(3)))["cap-height"] == measure(block_of(session.lesson))["cap-height"]


def test_nothing_is_written_over_unasked(tmp_path: Path) -> None:
    session = at(3, "cap up 1 cm")
    path = tmp_path / "mine.svg"
    path.write_text("something else")
    with pytest.raises(Fault, match="is there already"):
        write_own_pattern(session, str(path))
    assert path.read_text() == "something else"
    assert write_own_pattern(session, f"over {path}") == path
    assert "<svg" in path.read_text()


def test_the_ending_is_put_on(tmp_path: Path) -> None:
    assert write_own_pattern(at(3), str(tmp_path / "mine")).name == "mine.svg"
    assert write_own_pattern(at(3), str(tmp_path / "mine.2")).name == "mine.2.svg"


@pytest.mark.parametrize("name", ["", " ", "over", "no/such/x.svg", "a\0b", "x" * 5000])
def test_a_name_that_can_not_be_is_told(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    if name == "over":
        # A file may be called that.
        assert write_own_pattern(at(1), name).name == "over.svg"
        return
    with pytest.raises(Fault):
        write_own_pattern(at(1), name)
    assert not list(tmp_path.iterdir())


def test_what_paper_refuses_is_not_written(tmp_path: Path) -> None:
    session = at(
        2,
        "slash crown to hem, hinge at both ends, as a",
        "slash back underarm to front underarm, hinge at both ends, as b",
        "open a at b, hem side 60 cm",
        number="4",
    )
    with pytest.raises(Fault, match="can't follow"):
        write_own_pattern(session, str(tmp_path / "x.svg"))
    assert not (tmp_path / "x.svg").exists()


def test_no_link_is_written_through(tmp_path: Path) -> None:
    (tmp_path / "link.svg").symlink_to(tmp_path / "elsewhere.svg")
    with pytest.raises(Fault, match="is there already"):
        write_own_pattern(at(1), str(tmp_path / "link.svg"))
    assert not (tmp_path / "elsewhere.svg").exists()


async def test_on_the_screen_it_is_written_by_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    async with driven("4") as tutor:
        await tutor.press("S enter")
        assert "04-cap-seam-kept.svg is written, to scale" in tutor.lesson.say.words
        await tutor.press("S enter")
        assert "is there already" in tutor.text
        await tutor.write("over 04-cap-seam-kept")
        await tutor.press("enter")
        assert "is written" in tutor.lesson.say.words
    assert [path.name for path in tmp_path.iterdir()] == ["04-cap-seam-kept.svg"]


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    return write_own_pattern(at(3, "cap up 1 cm"), str(tmp_path / "mine.svg"))


def strokes(page: Path) -> list[tuple[str, float]]:
    """The paths of a page: how wide they are drawn, and how long they are, by another library."""
    found = ElementTree.parse(page).getroot().iter(f"{SVG}path")
    return [(path.get("stroke-width", ""), parse_path(path.get("d", "")).length()) for path in found]


@pytest.mark.parametrize(("scale", "size", "side"), [("full", 1.0, 50), ("half", 0.5, 50), ("quarter", 0.25, 20)])
def test_pages_are_to_scale(mine: Path, tmp_path: Path, scale: str, size: float, side: int) -> None:
    """All seams of the sleeve are one stroke; the square is four sides long."""
    out = tmp_path / "pages"
    assert main(["sheet", str(mine), "--out", str(out), "--scale", scale]) == 0
    pages = sorted(out.iterdir())
    sleeve = read_svg(mine.read_bytes(), "mine").sleeve
    around = size * sum(seam.length() for seam in sleeve.curves())
    lengths = np.array([long for page in pages for _, long in strokes(page)])
    assert np.abs(lengths - around).min() < 0.1
    assert np.abs(lengths - 4 * side).min() < 0.01
    assert f"{side} mm each way" in "".join(page.read_text() for page in pages)


def test_the_pdf_has_a_page_for_each(mine: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "pages"
    assert main(["sheet", str(mine), "--out", str(out), "--pdf", "--paper", "letter"]) == 0
    pages = list(out.glob("*.svg"))
    pdf = pypdfium2.PdfDocument(out / "mine.pdf")
    assert len(pdf) == len(pages)
    assert {round(size / POINTS, 1) for size in pdf[0].get_size()} == {215.9, 279.4}
    assert re.search(rf"^{len(pages)} pages in ", capsys.readouterr().out, re.MULTILINE)


def test_pages_are_not_written_over_unasked(mine: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "pages"
    assert main(["sheet", str(mine), "--out", str(out)]) == 0
    was = {page: page.read_bytes() for page in out.iterdir()}
    assert main(["sheet", str(mine), "--out", str(out)]) == 0
    assert main(["sheet", str(mine), "--out", str(out), "--allowance", "1.5 cm"]) == 2
    assert "is there already" in capsys.readouterr().err
    assert {page: page.read_bytes() for page in out.iterdir()} == was
    assert main(["sheet", str(mine), "--out", str(out), "--allowance", "1.5 cm", "--force"]) == 0
    assert {page: page.read_bytes() for page in out.iterdir()} != was


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["sheet", "homework.toml", "--out", "x"], "CLASS"),
        (["sheet", "mine.svg", "class.csv", "--out", "x"], "CLASS"),
        (["sheet", "homework.toml", "class.csv", "--out", "x", "--allowance", "1 cm"], "--allowance"),
        (["sheet", "none.svg", "--out", "x"], "none.svg"),
        (["sheet", "mine.svg", "--out", "x", "--allowance", "-1 cm"], "--allowance"),
        (["sheet", "mine.svg", "--out", "mine.svg"], "mine.svg"),
    ],
)
def test_wrong_use_is_told_in_one_line(
    arguments: list[str],
    named: str,
    mine: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(arguments) == 2
    err = capsys.readouterr().err
    assert named in err
    assert err.count("\n") == 1
    assert not (tmp_path / "x").exists()


@pytest.mark.parametrize("name", ["~\0", "a\0b", "~nobody-of-that-name/x", "~\0/x.svg"])
def test_a_name_that_no_file_can_have_is_told(name: str) -> None:
    with pytest.raises(Fault, match=r"is no name a file can have|is in a home that nobody knows of"):
        write_own_pattern(at(1), name)


def test_a_folder_that_is_not_there_is_told_as_that(tmp_path: Path) -> None:
    with pytest.raises(Fault, match="is in a folder that is not there; make the folder first, or name another"):
        write_own_pattern(at(3), str(tmp_path / "gone" / "mine.svg"))
    assert not list(tmp_path.iterdir())
