"""Lessons of every kind taken on the full screen by keys alone, with the answers of the line-by-line learner.

What is typed line by line in ``test_lessons_solved``, worked out there from the tape and plane geometry, is done here
key by key: answers typed, options chosen, a marker walked along the edge, slashes placed, amounts typed.
"""

from __future__ import annotations

import re

import pytest
from test_lessons_solved import SOLVED, Learner
from tutor_driving import Driven, driven

from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask

LONG, FINE = 30.0, 1.0
"""mm that a long step and the finest go."""
AMOUNTS = {
    "cap up": ("cap-raise", 1),
    "cap down": ("cap-raise", -1),
    "pitch forward": ("pitch", 1),
    "widen back": ("armhole.back.widen", 1),
    "widen front": ("armhole.front.widen", 1),
    "lower back": ("armhole.back.lower", 1),
    "lower front": ("armhole.front.lower", 1),
}
NAMED = {"hem": "hem at the grain"}
"""What is typed to go to a place, where its word alone would lead to another."""
SLASH = re.compile(r"slash (?P<start>.+) to (?P<end>.+), hinge at (?P<hinge>.+)")
OPENING = re.compile(r"(?P<way>open|overlap) (?P<slash>\w+) at (?P<place>.+) (?P<mm>-?\d+) mm")
AMOUNT = re.compile(r"(?P<what>[a-z ]+) (?P<mm>-?\d+) mm")


class Hand:
    """A hand on the keys, in a lesson on the screen."""

    def __init__(self, tutor: Driven) -> None:
        self.tutor = tutor

    async def do(self, line: str) -> None:
        """Does by keys what a line says."""
        if line.startswith("answer "):
            await self.answer(line.removeprefix("answer "))
        elif line.startswith("sign "):
            await self.choose(line.removeprefix("sign "))
            await self.tutor.press("enter")
        elif line == "check":
            await self.tutor.press("c")
            assert "Passed" in self.tutor.page, self.tutor.page
        elif line == "next":
            await self.tutor.press("n enter")
        elif line == "lift":
            await self.tutor.press("l")
        elif match := SLASH.fullmatch(line):
            await self.slash(match["start"], match["end"], match["hinge"])
        elif match := OPENING.fullmatch(line):
            await self.open(match["slash"], match["place"], int(match["mm"]) * (1 if match["way"] == "open" else -1))
        elif match := AMOUNT.fullmatch(line):
            key, sign = AMOUNTS[match["what"]]
            of_it = [each.key for each in self.tutor.lesson.lines() if each.of is not None and each.of.key == key]
            await self.type_amount(of_it[0], sign * int(match["mm"]))
        else:
            raise AssertionError(line)

    async def answer(self, text: str) -> None:
        task = self.tutor.lesson.session.task
        if isinstance(task, NumberTask):
            await self.tutor.press("enter")
            await self.tutor.write(text)
            await self.tutor.press("enter")
        elif isinstance(task, ChoiceTask | DiagnoseTask):
            for name in text.split(", "):
                await self.choose(name)
                await self.tutor.press("enter")
            await self.tutor.press("c")
        elif isinstance(task, PlaceTask):
            await self.walk(text)
            await self.tutor.press("enter")
        assert "Passed" in self.tutor.page, self.tutor.page

    async def choose(self, name: str) -> None:
        """Goes to a line by the arrows: an option, or a line of the plan."""
        for _ in range(60):
            keys = self.tutor.lesson._keys()
            here = keys.index(self.tutor.lesson.chosen) if self.tutor.lesson.chosen in keys else 0
            if keys[here] == name:
                return
            await self.tutor.press("down" if keys.index(name) > here else "up")
        raise AssertionError(name)

    async def walk(self, text: str) -> None:
        """Walks the marker by long steps and fine ones to so far along a seam."""
        match = re.fullmatch(r"(?P<mm>\d+) mm (?P<end>from end )?along (?P<seam>.+)", text)
        assert match is not None
        track = self.tutor.lesson.seeking_now().track
        seam = track.edge.outline.names.index(match["seam"])
        start, end = track.edge.start(seam), track.edge.ends[seam]
        target = end - int(match["mm"]) if match["end"] else start + int(match["mm"])
        for _ in range(200):
            left = track.edge.way(self.tutor.lesson.seeking_now().marker.along, target)
            if abs(left) <= FINE:
                return
            long = abs(left) >= LONG
            await self.tutor.press(("pagedown" if long else "full_stop") if left > 0 else "pageup" if long else "comma")
        raise AssertionError(text)

    async def slash(self, start: str, end: str, hinge: str) -> None:
        await self.tutor.press("s")
        for place in (start, end):
            await self.tutor.press("g")
            await self.tutor.write(NAMED.get(place, place))
            await self.tutor.press("enter")
            await self.tutor.press("h" if place == hinge else "enter")

    async def open(self, slash: str, place: str, mm: int) -> None:
        await self.choose(slash)
        lines = self.tutor.lesson.lines()
        at = [each.key for each in lines if each.slash == slash and each.station is not None and place in each.words]
        await self.type_amount(at[0], mm)

    async def type_amount(self, key: str, mm: int) -> None:
        await self.choose(key)
        await self.tutor.press("enter")
        await self.tutor.write(f"{mm} mm")
        await self.tutor.press("enter")


@pytest.mark.parametrize("number", ["1", "3", "6", "7", "13", "15", "21", "28"])
async def test_a_lesson_is_passed_on_the_screen_by_keys_alone(number: str) -> None:
    lines = [line.strip() for line in SOLVED[number](Learner(number, None)).splitlines()]
    async with driven(number) as tutor:
        session, hand = tutor.lesson.session, Hand(tutor)
        for line in lines:
            if not session.passed:
                await hand.do(line)
        assert session.passed
        await tutor.press("n")
        assert re.search(rf"\b{number} {re.escape(session.lesson.title)} passed", tutor.text), tutor.text
        # After the first the path goes on to the second; from any other it would lead back to what was left out.
        onward = "2" if number == "1" else number
        assert re.search(rf"> *{onward} ", tutor.text)
        assert ("Enter opens it" in tutor.text) == (onward != number)
