"""A small lesson as text, and how to read one from text in the tests."""

from __future__ import annotations

from pathlib import Path

from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import read_lesson

SMALL = """\
title = "A small lesson"
number = 90
brief = ["Odd's arm is {arm} round."]
watch = ["cap-height", "elbow-girth"]

[arm]
of = "Odd"
girth = 30
wearing-ease = 5

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[plans.crossed]
slash = [
  { name = "grain", from = "crown", to = "grain-hem", hinge = ["from", "to"] },
  { name = "bicep", from = "underarm-back", to = "underarm-front", hinge = ["from", "to"] },
]
opening = [
  { slash = "grain", at = { crosses = "bicep", toward = "to" }, for = { measure = "bicep-girth", value = 35 } },
]

[[tasks]]
kind = "plan"
title = "Open it"
ask = "To {arm and ease}."
solution = "crossed"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
value = 35
tolerance = 0.3
weight = 2
must = true

[[tasks.goals]]
kind = "keep"
measure = "cap-seam"
tolerance = "3 mm"

[[tasks]]
kind = "number"
title = "Say it"
ask = "How high is the cap then?"
of = "cap-height"
after = "crossed"
tolerance = "1/4 in"
hints = ["one", "two", "three"]
"""


def written(folder: Path, text: str, name: str = "small.toml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def small_lesson(folder: Path, *changes: tuple[str, str]) -> Lesson:
    """The small lesson with texts in it replaced; each must be there."""
    text = SMALL
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_lesson(written(folder, text))
