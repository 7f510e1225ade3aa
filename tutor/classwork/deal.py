"""Variants dealt to learners: what each was dealt is kept as it was drawn, so that it stays the same for good."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tutor.classwork.homework import Homework
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.variants import Variant, with_values
from tutor.practice.variants import variant_of

LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Of codes: none that is easily taken for another."""
CODE_LENGTH = 6
TOO_MUCH = 1e5


@dataclass(frozen=True, slots=True)
class Drawn:
    """A variant of one lesson as it was drawn: number, draw, generator, and values in mm; no values as written."""

    values: Mapping[str, float]
    seed: int = 0
    draw: int = 0
    generator: int = 0

    def variant(self, lesson: Lesson) -> Variant | None:
        """The lesson in this variant; None when it is the lesson as written.

        Raises Fault when the lesson has been changed so that the values no longer fit it.
        """
        if not self.values:
            return None
        try:
            return Variant(with_values(lesson, self.values), self.seed, self.draw, self.values, self.generator)
        except (KeyError, IndexError, ValueError, TypeError):
            what = "was changed: variants that were handed out no longer fit it"
            raise Fault(lesson.name, what, "keep its plans and block as they were, or deal anew") from None


@dataclass(frozen=True, slots=True)
class Deal:
    """What a learner is dealt: a variant of each lesson of the homework, by the lesson's name."""

    number: int
    lessons: Mapping[str, Drawn]

    @property
    def code(self) -> str:
        """Six letters and figures that stand on the sheet, and for these values alone."""
        table = {name: [drawn.generator, dict(drawn.values)] for name, drawn in self.lessons.items()}
        text = json.dumps(table, sort_keys=True, separators=(",", ":"))
        number = int.from_bytes(hashlib.sha256(text.encode()).digest(), "big")
        letters = []
        for _ in range(CODE_LENGTH):
            number, letter = divmod(number, len(LETTERS))
            letters.append(LETTERS[letter])
        return "".join(letters)

    def stored(self) -> dict[str, Any]:
        """The deal as a plain table."""
        return {
            "number": self.number,
            "lessons": {
                name: {
                    "seed": drawn.seed,
                    "draw": drawn.draw,
                    "generator": drawn.generator,
                    "values": dict(drawn.values),
                }
                for name, drawn in self.lessons.items()
            },
        }


def deal_from(stored: Any) -> Deal:
    """The deal that ``stored`` made the table of. Raises KeyError, TypeError, ValueError or AttributeError if none."""
    lessons = {}
    for name, drawn in stored["lessons"].items():
        values = {str(key): float(value) for key, value in drawn["values"].items()}
        if not all(abs(value) < TOO_MUCH for value in values.values()):
            raise ValueError(values)
        lessons[str(name)] = Drawn(values, int(drawn["seed"]), int(drawn["draw"]), int(drawn["generator"]))
    return Deal(int(stored["number"]), lessons)


def deal_number(homework: Homework, place: int) -> int:
    """Which variant the learner at a place of the class list, from 0, is dealt; 0 for the lessons as written."""
    variants = homework.text.variants
    if variants == "same":
        return 0
    return homework.text.seed + (place % variants if isinstance(variants, int) else place)


def deal(homework: Homework, number: int) -> Deal:
    """The deal of a number. Raises Fault when a lesson has no variant that is fit to be set."""
    if not number:
        return Deal(0, {name: Drawn({}) for name in homework.lessons})
    return Deal(number, {name: _drawn(lesson, number) for name, lesson in homework.lessons.items()})


def _drawn(lesson: Lesson, seed: int) -> Drawn:
    variant = variant_of(lesson, seed)
    return Drawn(dict(variant.values), variant.seed, variant.draw, variant.generator)
