"""Every state of the tutor at 80 x 24, as plain text, against screens that were looked at and kept.

Run as a script it writes them anew; they are then to be looked at again.
"""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import tempfile
from collections.abc import AsyncIterator, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest
from lessons_for_tests import FOLDS, SMALL, small_lesson, written
from screen_quizzes import quiz_states
from screen_sittings import TASK_SITTINGS, Sitting, shown
from tutor_driving import driven

from tutor.alteration.plan import Landmark, Opening, Plan, Slash
from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import Listed
from tutor.lesson.reading import read_lesson
from tutor.practice.session import Session
from tutor.record.record import Record, open_record
from tutor.units import Unit

SCREENS = Path(__file__).resolve().parent / "screens"
PARTED = "s enter n n n n n h"
"""Keys of a slash from crown to hem, hinged at the hem."""
CROSSED = f"{PARTED} left_square_bracket s N N N h n n n n n h up up up up up"
"""And one from underarm to underarm; hinges everywhere; the first is chosen."""
OPENED = f"{CROSSED} pageup pageup pageup pageup"
"""Opened by 2 cm, which is what the small lesson asks for."""
ACROSS = "s n n h n n n n n n enter"
"""Keys of a slash from the front underarm point, with a hinge, to the back one."""
EVERY_MEANS = ('solution = "crossed"\n', 'may-use = ["slashes", "set-back", "armhole"]\nsolution = "crossed"\n')
ARMHOLES_ALONE = ('solution = "crossed"\n', 'may-use = ["armhole"]\nsolution = "crossed"\n')
CAUTION = ("watch = [", 'cautions = ["Keep it loose over a port, and ask the clinician first."]\nwatch = [')


SITTINGS = {
    "beginning": Sitting(
        {
            "brief": "",
            "empty": "enter",
            "nothing-to-take-back": "u",
            "nothing-to-open": "plus",
            "nothing-to-pull-apart": "e",
            "nothing-marked": "c",
        },
        (CAUTION,),
        brief_closed=False,
    ),
    "walk round": Sitting(
        {
            "walk-paper": "f2",
            "walk-tape": "right",
            "walk-marker": "right",
            "walk-slash": "right",
            "walk-plan": "right",
            "walk-opening": "right",
            "walk-mark": "right",
            "walk-leaving-off": "right",
            "help-on-the-walk": "question_mark",
        }
    ),
    "placing": Sitting(
        {
            "placing-from": "s n",
            "placing-walked": "left left comma",
            "choosing-a-place": "g",
            "choosing-by-letters": "e l",
            "choosing-none": "x",
            "help-while-choosing": "question_mark",
            "placing-where-no-edge-goes": "escape escape g c r o w n enter up",
            "placing-to": "enter n n n",
            "placing-on-no-length": "N N N enter",
            "placing-refused": "n n",
            "placing-refused-and-set": "enter",
            "placing-closer": "escape z s n n n n",
            "help-while-placing": "question_mark",
        }
    ),
    "measuring": Sitting(
        {
            "tape-starts": "n enter m",
            "tape-held": "enter",
            "tape-laid": "n n",
            "help-while-measuring": "question_mark",
            "writing-the-pattern": "escape escape S",
        }
    ),
    "drawn": Sitting(
        {
            "drawn-and-loose": "s enter n n n n n enter",
            "drawn-and-hinged": "right_square_bracket",
            "moving-an-end": "M n",
            "moved": "enter",
            "placing-on-a-slash": "s l",
            "drawn-to-a-slash": "enter N enter",
            "drawn-and-shut": f"escape X {CROSSED}",
            "typing-an-amount": "enter",
            "typing-no-amount": "a enter",
            "help-while-typing": "question_mark",
            "taken-away": "escape escape x",
            "fresh-paper": "X",
        }
    ),
    "opened": Sitting(
        {
            "opened": OPENED,
            "opened-without-before": "o",
            "pieces-apart": "o e",
            "with-armholes": "e v",
            "armholes-alone": "v",
            "opened-cap-closer": "v z",
            "opened-back-underarm-closer": "z",
            "opened-front-underarm-closer": "z",
            "in-inches": "z i",
            "held-shut-elsewhere": "i down down a",
            "moved-to-the-next-place": "u up up p",
            "overlapped": "u pagedown pagedown pagedown pagedown pagedown pagedown",
            "help": "question_mark",
            "help-further-down": "pagedown",
            "help-at-its-end": "end",
            "marks-explained": "escape y",
            "all-measures": "escape t",
            "help-while-reading": "question_mark",
            "palette": "escape escape ctrl+p",
            "palette-searched": "h i n",
        }
    ),
    "refused": Sitting(
        {
            "refused-locked": f"{PARTED} left_square_bracket pageup",
            "refused-locked-closer": "z z",
            "refused-loose": "z z X s enter n n n n n enter s N enter n n n n n n enter up up p",
            "refused-cut-twice": f"X {PARTED} {PARTED}",
            "refused-crossing-itself": f"escape X {ACROSS} enter - 4 8 enter",
            "refused-and-marked": "c",
        }
    ),
    "refused without a cap": Sitting(
        {"refused-not-on-the-outline": f"{PARTED} pageup l", "back-on-the-outline": "u"}, (EVERY_MEANS,)
    ),
    "marked": Sitting(
        {
            "not-passed": f"{PARTED} pageup c",
            "not-passed-guided": "enter",
            "hint": "h",
            "second-hint": "h",
            "third-hint": "h",
            "passed": f"enter X {OPENED} c",
            "passed-guided": "enter",
            "passed-and-changed": "plus",
            "number": "n enter",
            "number-after-a-check": "c",
            "answering": "1 2",
            "answering-no-number": "a enter",
            "number-wrong": "backspace enter",
            "number-wrong-guided": "enter",
            "number-right": "enter 1 3 . 0 enter",
            "begin-again-asked": "enter R",
            "lessons-passed": "enter n",
            "lessons-in-inches": "i",
            "help-at-the-list": "question_mark",
        }
    ),
    "shown": Sitting(
        {
            "solution-asked": "w",
            "solution-shown": "y",
            "solution-second-step": "right",
            "solution-opened": "right",
            "solution-last-step": "right",
            "solution-taken-over": "a",
            "solution-right": "c",
            "number-shown": "n enter w y",
            "lessons-shown": "escape escape",
        }
    ),
    "walking the cap": Sitting(
        {
            "cap-not-walked": "f",
            "cap-walked": "right right",
            "cap-at-a-notch": "n",
            "cap-at-the-end": "n n n",
            "cap-of-the-back": "s n",
            "help-while-walking": "question_mark",
        }
    ),
    "cap and armhole": Sitting(
        {
            "every-means": "",
            "cap-lifted-off": "l",
            "armhole-widened": "down plus plus",
            "armhole-too-far": "enter 9 9 enter",
            "armhole-too-far-hidden": "v",
        },
        (EVERY_MEANS,),
    ),
    "armholes alone": Sitting(
        {"armholes-only": "", "armholes-only-changed": "plus plus down plus", "no-slashes-here": "s"}, (ARMHOLES_ALONE,)
    ),
    "ascii": Sitting(
        {"ascii-opened": OPENED, "ascii-help": "question_mark", "ascii-palette": "escape ctrl+p"}, ascii=True
    ),
    "folds": Sitting(
        {
            "folds": "",
            "folds-sign": "enter",
            "folds-cause": "down down down down down down down",
            "folds-named": "enter",
            "folds-look-alike": "u u down enter c",
            "folds-hint": "h",
            "folds-help": "enter question_mark",
            "folds-aslant": "enter n enter",
            "folds-closer": "n enter z",
        },
        text=FOLDS,
    ),
    "folds in ascii": Sitting({"ascii-folds": "1", "ascii-folds-marks": "y"}, text=FOLDS, ascii=True),
    "folds small": Sitting(
        {"folds-at-60-by-20": "", "folds-at-60-by-20-further-down": " ".join(["down"] * 9)},
        size=(60, 20),
        text=FOLDS,
    ),
    **TASK_SITTINGS,
    "small": Sitting({"at-60-by-20": OPENED}, size=(60, 20)),
    "too small": Sitting({"too-small": ""}, size=(59, 19)),
}


TITLES = ("A first lesson", "A lesson half done", "A lesson given up", "A lesson done")
LONG_TITLES = (
    "First",
    "Small armhole, full arm, no height to give",
    "Given up",
    "Longer than there is room for",
)


def _lessons(folder: Path, titles: Sequence[str]) -> tuple[Lesson, ...]:
    """Four lessons, which will stand in four ways."""
    found = []
    for number, title in enumerate(titles, 1):
        text = SMALL.replace("A small lesson", title).replace("number = 90", f"number = {number}")
        found.append(read_lesson(written(folder, text, f"{number}.toml")))
    return tuple(found)


CROSSED_PLAN = Plan(
    (
        Slash("A", Landmark("crown"), Landmark("grain-hem"), True, True),
        Slash("B", Landmark("underarm-back"), Landmark("underarm-front"), True, True),
    ),
    (Opening("A", 20.0, where="B", toward="end"),),
)


def _done(record: Record, lessons: tuple[Lesson, ...]) -> None:
    """The lessons worked at, so that each stands in its own way."""
    sessions = [Session(lesson, Unit.CM) for lesson in lessons]
    for session in sessions[1:]:
        session.adopt(CROSSED_PLAN)
        if session is not sessions[2]:
            session.check()
    for number in (1, 2):
        sessions[2].go_to_task(number)
        sessions[2].solution()
    sessions[3].go_to_task(2)
    sessions[3].answer("13 cm")
    for session in sessions[1:]:
        record.save(session, {})


@contextmanager
def _inside(folder: Path) -> Iterator[None]:
    """The folder as the working one, so that paths on the screen are short and the same everywhere."""
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


ELSEWHERE = """
import sys
from pathlib import Path
from tutor.lesson.reading import read_lesson
from tutor.record.record import open_record
with open_record(Path(sys.argv[2])) as record:
    record.resume(read_lesson(Path(sys.argv[1])))
    print("open", flush=True)
    sys.stdin.read()
"""


@contextmanager
def _open_elsewhere(lesson: Lesson, folder: Path) -> Iterator[None]:
    """Another process that has the lesson open."""
    words = [sys.executable, "-c", ELSEWHERE, f"{lesson.name}.toml", str(folder)]
    env = os.environ | {"PYTHONPATH": str(SCREENS.parent.parent)}
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=env) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "open\n"
        yield
        other.communicate()


async def _with_a_record(folder: Path) -> AsyncIterator[tuple[str, str]]:
    """The states that a record brings about."""
    with _inside(folder):
        lesson, lessons = small_lesson(Path()), _lessons(Path(), TITLES)
        with open_record(Path("standings")) as record:
            record.keep_setting("toured", True)
            _done(record, lessons)
            async with driven(record=record, known=[Listed.of(each) for each in lessons]) as tutor:
                yield "lessons-standing", shown(tutor)
        with open_record(Path("narrow")) as record:
            record.keep_setting("toured", True)
            lessons = _lessons(Path(), LONG_TITLES)
            _done(record, lessons)
            async with driven(size=(60, 20), record=record, known=[Listed.of(each) for each in lessons]) as tutor:
                yield "lessons-at-60-by-20", shown(tutor)
        with open_record(Path("first")) as record:
            async with driven(lesson, record=record, brief_closed=False) as tutor:
                yield "first-start", shown(tutor)
                await tutor.press("escape enter n enter n")
                yield "lessons-begun", shown(tutor)
                await tutor.press("enter")
                yield "come-back-to", shown(tutor)
        Path("broken").mkdir()
        Path("broken/record.db").write_text("no record at all", encoding="utf-8")
        with open_record(Path("broken")) as record:
            record.keep_setting("toured", True)
            async with driven(record=record, known=[Listed.of(lesson)]) as tutor:
                yield "record-set-aside", shown(tutor)
        Path("file").write_text("", encoding="utf-8")
        with open_record(Path("file/folder")) as record:
            record.keep_setting("toured", True)
            async with driven(lesson, record=record, brief_closed=False) as tutor:
                yield "nothing-can-be-kept", shown(tutor)
        with _open_elsewhere(lesson, Path("two")), open_record(Path("two")) as record:
            record.keep_setting("toured", True)
            async with driven(lesson, record=record, brief_closed=False) as tutor:
                yield "two-tutors", shown(tutor)


async def _all_of(name: str, folder: Path) -> dict[str, str]:
    others = {"record": _with_a_record, "quizzes": quiz_states}
    states = others[name](folder) if name in others else SITTINGS[name].screens(folder)
    return {name: screen async for name, screen in states}


@pytest.mark.parametrize("name", [*SITTINGS, "record", "quizzes"])
async def test_the_screens_are_as_they_were_when_they_were_looked_at(name: str, tmp_path: Path) -> None:
    found = await _all_of(name, tmp_path)
    kept = {state: (SCREENS / f"{state}.txt").read_text(encoding="utf-8") for state in found}
    assert found == kept


def main() -> None:
    """Writes every screen, and takes those away that no state has."""
    SCREENS.mkdir(exist_ok=True)
    written: set[str] = set()
    for name in sys.argv[1:] or [*SITTINGS, "record", "quizzes"]:
        with tempfile.TemporaryDirectory() as folder:
            for state, text in asyncio.run(_all_of(name, Path(folder))).items():
                (SCREENS / f"{state}.txt").write_text(text, encoding="utf-8")
                written.add(state)
    if not sys.argv[1:]:
        for path in SCREENS.iterdir():
            if path.stem not in written:
                path.unlink()


if __name__ == "__main__":
    main()
