"""States of a lesson's screen that follow one another, for the kept screens; of all kinds of tasks but slashes."""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import dataclass
from pathlib import Path

from lessons_for_tests import AMOUNTS, CHOICES, JERSEY, PLACES, SMALL, small_lesson
from tutor_driving import Driven, driven


@dataclass(frozen=True)
class Sitting:
    """States that follow one another in a tutor open at the small lesson, or another: by name, the keys to each."""

    states: dict[str, str]
    changes: tuple[tuple[str, str], ...] = ()
    size: tuple[int, int] = (80, 24)
    ascii: bool = False
    brief_closed: bool = True
    text: str = SMALL

    async def screens(self, folder: Path) -> AsyncIterator[tuple[str, str]]:
        """Each state's name and screen."""
        lesson = small_lesson(folder, *self.changes, text=self.text)
        async with driven(lesson, self.size, ascii=self.ascii, brief_closed=self.brief_closed) as tutor:
            for name, keys in self.states.items():
                await tutor.press(keys)
                await tutor.app.workers.wait_for_complete()
                yield name, shown(tutor)


def shown(tutor: Driven) -> str:
    """The screen as text, without blanks at the ends of its lines."""
    return "\n".join(row.rstrip() for row in tutor.rows) + "\n"


TASK_SITTINGS = {
    "choosing": Sitting(
        {
            "choice-brief": "",
            "choice": "enter",
            "choice-nothing-chosen": "c",
            "choice-another-line": "enter down",
            "choice-chosen": "enter",
            "choice-wrong": "c",
            "choice-wrong-guided": "enter",
            "choice-hint": "h",
            "choice-help": "enter question_mark",
            "choice-right": "escape up enter c",
            "choice-right-guided": "enter",
            "choice-compared": "down down",
            "choice-by-the-best": "n enter down enter c",
            "choice-of-measures": "enter n enter down enter c",
            "choice-of-several": "enter n enter",
            "choice-of-several-in-part": "down enter c",
            "choice-of-several-guided": "enter",
            "choice-first-task": "N N N N",
        },
        text=CHOICES,
        brief_closed=False,
    ),
    "choices given up": Sitting(
        {
            "choice-solution": "w y",
            "choice-shown": "enter",
            "choice-shown-and-right": "down down enter c enter",
            "another-arm": "A",
            "another-arm-at-work": "enter",
            "begin-again-on-that-arm": "R",
            "begun-again": "w",
        },
        text=CHOICES,
    ),
    "showing places": Sitting(
        {
            "place-brief": "",
            "place": "enter",
            "place-walked": "right right right comma",
            "place-wrong": "enter",
            "place-wrong-guided": "enter",
            "place-hint": "h",
            "place-where-no-edge-goes": "enter up",
            "place-closer": "z",
            "place-help": "question_mark",
            "place-at-a-mark": "escape z z z tab tab tab tab tab",
            "place-on-the-way": "right right right up up",
            "place-nearly": "pagedown pagedown pagedown pagedown right c",
            "place-right": "enter right right c",
            "place-right-guided": "enter",
            "place-right-and-walked-on": "right",
        },
        text=PLACES,
        brief_closed=False,
    ),
    "places given up": Sitting(
        {"place-solution": "w y", "place-shown": "enter", "place-shown-and-answered": "c"},
        text=PLACES,
    ),
    "amounts": Sitting(
        {
            "amounts": "n enter",
            "amounts-turned": "plus plus plus",
            "amounts-added-to": "down plus plus pageup",
            "amounts-typed": "enter",
            "amounts-with-armholes": "escape v",
            "amounts-far-down": "v v down down down down down down down down down down plus",
            "amounts-no-room": "X enter 9 9 enter",
            "amounts-no-slashes": "u s",
            "amounts-above": "up up up plus",
            "amounts-marked": "c",
            "amounts-solution": "enter w y",
            "amounts-solution-next": "right right",
            "amounts-solution-last": "right right right right",
            "amounts-taken-over": "a",
        },
        text=AMOUNTS,
    ),
    "per cent": Sitting(
        {
            "per-cent": "n enter n enter",
            "per-cent-asked": "c",
            "per-cent-stepped": "up up up down",
            "per-cent-right": "backspace 1 5 . 4 enter",
        },
        text=JERSEY,
    ),
    "smaller things": Sitting(
        {
            "no-slash-chosen": "left_square_bracket",
            "no-slash-to-move": "m",
            "no-slash-to-pull-along": "p",
            "nothing-to-do-again": "r",
            "fresh-already": "X",
            "first-task": "N",
            "theme-changed": "d",
            "words-of-the-trade": "d d d G",
        }
    ),
}
