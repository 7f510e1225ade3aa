"""Every state of the tutor at 80 x 24, as plain text, against screens that were looked at and kept.

Run as a script it writes them anew; they are then to be looked at again.
"""

import asyncio
import tempfile
from pathlib import Path

import pytest
from lessons_for_tests import small_lesson
from tutor_driving import driven

SCREENS = Path(__file__).resolve().parent / "screens"
PARTED = "s enter n n n n n h"
"""Keys of a slash from crown to hem, hinged at the hem."""
CROSSED = f"{PARTED} left_square_bracket s N N N h n n n n n h up up up up up"
"""And one from underarm to underarm; hinges everywhere; the first is chosen."""

STATES = {
    "brief": "",
    "empty": "enter",
    "placing-from": "enter s n",
    "placing-to": "enter s enter n n n",
    "placing-refused": "enter s enter n n",
    "choosing-a-place": "enter s g",
    "drawn-and-loose": "enter s enter n n n n n enter",
    "drawn-and-shut": f"enter {CROSSED}",
    "typing-an-amount": f"enter {CROSSED} enter",
    "opened": f"enter {CROSSED} pageup pageup pageup pageup",
    "opened-without-before": f"enter {CROSSED} pageup pageup pageup pageup o",
    "opened-cap-closer": f"enter {CROSSED} pageup pageup pageup pageup z",
    "pieces-apart": f"enter {CROSSED} pageup pageup pageup pageup e",
    "with-armholes": f"enter {CROSSED} pageup pageup pageup pageup v",
    "in-inches": f"enter {CROSSED} pageup pageup pageup pageup i",
    "refused": f"enter {PARTED} left_square_bracket pageup",
    "passed": f"enter {CROSSED} pageup pageup pageup pageup c",
    "not-passed": f"enter {PARTED} pageup c",
    "hint": "enter h",
    "solution-asked": "enter w",
    "solution-shown": "enter w y right right",
    "cap-walked": "enter f n right right",
    "number": "enter n enter",
    "answering": "enter n enter enter 1 2",
    "number-wrong": "enter n enter enter 1 2 enter",
    "help": "enter question_mark",
    "help-while-placing": "enter s question_mark",
    "marks-explained": f"enter {CROSSED} pageup y",
    "all-measures": "enter t",
    "tour": "enter f2",
    "lessons": "enter escape",
}


async def screen(folder: Path, keys: str) -> str:
    """The screen after some keys, as text without blanks at the ends of its lines."""
    async with driven(small_lesson(folder), brief_closed=False) as tutor:
        await tutor.press(keys)
        return "\n".join(row.rstrip() for row in tutor.rows) + "\n"


@pytest.mark.parametrize("name", STATES)
async def test_a_screen_is_as_it_was_when_it_was_looked_at(name: str, tmp_path: Path) -> None:
    kept = (SCREENS / f"{name}.txt").read_text(encoding="utf-8")
    assert await screen(tmp_path, STATES[name]) == kept


def test_no_screen_is_kept_that_is_not_looked_for() -> None:
    assert {path.stem for path in SCREENS.iterdir()} == set(STATES)


def main() -> None:
    """Writes every screen."""
    SCREENS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for name, keys in STATES.items():
            text = asyncio.run(screen(Path(folder), keys))
            (SCREENS / f"{name}.txt").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
