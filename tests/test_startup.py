"""What is loaded before there is anything to see: the list of lessons shows before the engine is there."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from lessons_for_tests import SMALL, own_lessons

from tutor import resources
from tutor.faults import Fault
from tutor.lesson import listing, reading
from tutor.lesson.listing import About, Listed, own_listing
from tutor.lesson.reading import find_lesson
from tutor.lesson.wording import worded
from tutor.units import Unit

ENGINE = ("numpy", "shapely", "plotext", "tutor.geometry", "tutor.alteration.alter", "tutor.tui.lesson_screen")
"""What takes long to load: three libraries, and the parts of the program that go with them."""

OPENED = """
import sys, threading
import tutor.tui
from tutor.tui.app import TutorApp

app = TutorApp()
display = app._display
loaded = []

def shown(screen, frame):
    display(screen, frame)
    rows = [strip.text for strip in screen._compositor.render_strips()]
    if not loaded and any("Tasks" in row for row in rows):
        loaded.extend(sys.modules)
        app.exit()

app._display = shown
app.run(headless=True, size=(80, 60))
print(*loaded)
for thread in threading.enumerate():
    if thread is not threading.main_thread():
        thread.join()
print(*sys.modules)
"""
"""Opens the tutor, and prints what was loaded when the whole list was on the screen, and what soon after."""

PATIENCE = 120
"""Seconds after which a program that does not end has failed."""


def loaded_by(program: str) -> list[set[str]]:
    """The modules that each line of what a program prints names; it runs by itself in a new process."""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=PATIENCE)
    return [set(line.split()) for line in done.stdout.splitlines()]


def test_the_list_of_lessons_shows_before_the_engine_is_loaded() -> None:
    at_first, soon_after = loaded_by(OPENED)
    assert at_first & {*ENGINE} == set()
    assert soon_after >= {*ENGINE}


@pytest.mark.parametrize("command", [["lessons"], ["--help"], ["learn", "--help"]])
def test_lists_and_help_take_no_engine(command: list[str]) -> None:
    program = f"import sys, io\nfrom tutor.cli import main\nmain({command})\nprint()\nprint(*sys.modules)"
    assert loaded_by(program)[-1] & {*ENGINE, "textual"} == set()


@pytest.mark.parametrize("listed", own_listing(), ids=lambda listed: listed.name)
def test_a_listed_lesson_says_what_the_whole_of_it_says(listed: Listed) -> None:
    assert isinstance(listed.source, str)
    lesson = reading.own_lesson(listed.name)
    assert (listed.name, listed.number, listed.title) == (lesson.name, lesson.number, lesson.title)
    assert (listed.part, listed.version, listed.task_count) == (lesson.part, lesson.version, lesson.task_count)
    for unit in Unit:
        brief = tuple(worded(text, lesson.arm, unit) for text in lesson.brief)
        assert listed.about(unit) == About(brief, tuple(task.title for task in lesson.tasks))


def test_a_lesson_is_the_same_one_wherever_it_is_found() -> None:
    for listed, lesson in zip(own_listing(), own_lessons(), strict=True):
        assert listed.lesson is lesson
        assert find_lesson(str(lesson.number)) is lesson


INLINE = "tasks = [{ kind = 'number', title = 'Say it', ask = 'How long?', of = 'cap-seam', tolerance = 0.3, " + (
    "hints = ['1', '2', '3'], watch = [] }]\n"
)
UNUSUAL = {
    "tasks in one line": INLINE + SMALL[: SMALL.index("[[tasks]]")],
    "a list whose lines begin with brackets": SMALL.replace(
        'watch = ["cap-height", "elbow-girth"]', 'watch = [\n"cap-height"\n,\n"elbow-girth"]'
    ).replace("brief = [", "brief = [\n"),
    "a text with a bracket on a line": SMALL.replace('"A small lesson"', '"""\\\n[A] small lesson"""'),
    "carriage returns": SMALL.replace("\n", "\r\n"),
    "a mark before the first letter": f"\ufeff{SMALL}",
}


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder in the place of that with the program's lessons."""
    folder = tmp_path / "lessons"
    folder.mkdir()
    for module in (listing, reading):
        monkeypatch.setattr(module, "lessons_folder", lambda: folder)
    own_listing.cache_clear()
    reading.own_lesson.cache_clear()
    yield folder
    own_listing.cache_clear()
    reading.own_lesson.cache_clear()


@pytest.mark.parametrize("text", UNUSUAL.values(), ids=UNUSUAL)
def test_a_lesson_written_in_an_unusual_way_is_listed_as_well(own: Path, text: str) -> None:
    (own / "small.toml").write_bytes(text.encode("utf-8"))
    (listed,) = own_listing()
    lesson = listed.lesson
    assert (listed.number, listed.title, listed.task_count) == (90, lesson.title, lesson.task_count)
    assert listed.about(Unit.CM).brief == ("Odd's arm is 30 cm round.",)
    assert listed.about(Unit.CM).tasks == tuple(task.title for task in lesson.tasks)


@pytest.mark.parametrize(
    ("before", "after"), [("number = 90", "number = 'x'"), ("title =", "titel ="), ("[arm]", "[arm")]
)
def test_a_file_that_is_no_lesson_is_a_fault(own: Path, before: str, after: str) -> None:
    (own / "small.toml").write_text(SMALL.replace(before, after), encoding="utf-8")
    with pytest.raises(Fault, match=r"small\.toml"):
        _ = own_listing()[0].about(Unit.CM)


def test_the_program_knows_its_own_lessons() -> None:
    assert {path.stem for path in resources.lessons_folder().glob("*.toml")} == {each.name for each in own_listing()}
