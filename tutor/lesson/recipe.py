"""A plan in a lesson file. Its amounts are not stored: they are solved for what the plan should reach."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from tutor.alteration.alter import alter
from tutor.alteration.outline import lower_part, whole
from tutor.alteration.plan import Answer, Opening, Plan, Slash
from tutor.alteration.reach import Amount as Unknown
from tutor.alteration.reach import AnswerAmount, OpeningAmount, reach
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.lesson.place_text import read_place
from tutor.lesson.setting import Arm
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.units import Unit

End = Literal["from", "to"]


class SlashText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename={"start": "from", "end": "to"}):
    """A slash between two places, in the words of ``place_text``; ``hinge`` names the ends that hold."""

    name: str
    start: str
    end: str
    hinge: tuple[End, ...] = ()


class OpeningText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """An opening on a slash: ``at`` is "from", "to", a share of the way between 0 and 1, or a slash that crosses.

    ``toward`` says on which side of that crossing. It opens by ``amount``, or by what makes the measure ``reaches``
    come out as wanted.
    """

    slash: str
    at: str | float
    toward: End | None = None
    amount: Amount | None = None
    reaches: str | None = None

    def opening(self) -> Opening:
        toward = {"from": "start", "to": "end", None: ""}[self.toward]
        amount = float(self.amount) if self.amount is not None else 0.0
        if isinstance(self.at, str) and self.at not in ("from", "to"):
            return Opening(self.slash, amount, where=self.at, toward=toward)
        share = {"from": 0.0, "to": 1.0}[self.at] if isinstance(self.at, str) else float(self.at)
        return Opening(self.slash, amount, share=share, toward=toward)


class AnswerText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What one armhole does: ``widen`` and ``lower``; or both solved so that the measure ``reaches`` is as wanted.

    ``width-share`` of what is solved goes into width.
    """

    widen: Amount | None = None
    lower: Amount | None = None
    reaches: str | None = None
    width_share: float = 0.5

    def answer(self) -> Answer:
        return Answer(float(self.widen or 0.0), float(self.lower or 0.0))


class Recipe(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A plan with amounts to be solved, and the figures wanted of it; those it leaves out come from a task's goals."""

    slashes: tuple[SlashText, ...] = ()
    openings: tuple[OpeningText, ...] = ()
    set_back: bool = False
    back: AnswerText = AnswerText()
    front: AnswerText = AnswerText()
    wanted: tuple[Figure, ...] = ()

    @property
    def reached(self) -> tuple[str, ...]:
        """The measures that amounts are solved for, in the order of the amounts."""
        texts = (*self.openings, self.back, self.front)
        return tuple(text.reaches for text in texts if text.reaches is not None)

    def plan(self, pattern: Pattern, arm: Arm, goals: Mapping[str, float]) -> Plan:
        """The plan for this pattern, amounts solved; ``goals`` are figures for measures that ``wanted`` leaves out.

        Raises Fault for a place in unreadable words, Refusal when paper can't do it, ValueError when no figure is
        given for a measure to be reached.
        """
        start = measure(pattern)
        given = {figure.measure: figure.figure(start, arm) for figure in self.wanted}
        missing = [name for name in self.reached if name not in given and name not in goals]
        if missing:
            raise ValueError(f"no figure is wanted for {missing[0]}")
        wanted = {name: given[name] if name in given else goals[name] for name in self.reached}
        if len(wanted) < len(self.reached):
            raise ValueError("two amounts are solved for one measure")
        return reach(pattern, self.unsolved(pattern), wanted, self._unknowns())

    def unsolved(self, pattern: Pattern) -> Plan:
        """The plan with nought for every amount to be solved. Raises Fault for a place in unreadable words."""
        outline = (lower_part if self.set_back else whole)(pattern.sleeve)
        names = [text.name for text in self.slashes]
        slashes = tuple(
            Slash(
                text.name,
                read_place(text.start, outline, Unit.CM, names),
                read_place(text.end, outline, Unit.CM, names),
                "from" in text.hinge,
                "to" in text.hinge,
            )
            for text in self.slashes
        )
        openings = tuple(text.opening() for text in self.openings)
        return Plan(slashes, openings, self.set_back, self.back.answer(), self.front.answer())

    def _unknowns(self) -> tuple[Unknown, ...]:
        numbers = [k for k, text in enumerate(self.openings) if text.reaches is not None]
        sides = [(side, text) for side, text in (("back", self.back), ("front", self.front)) if text.reaches]
        return (
            *map(OpeningAmount, numbers),
            *(AnswerAmount(side, text.width_share) for side, text in sides),
        )


def carried_out(recipe: Recipe, pattern: Pattern, arm: Arm) -> Pattern:
    """The pattern that a recipe leaves behind. Raises as ``Recipe.plan`` does."""
    return alter(pattern, recipe.plan(pattern, arm, {})).after
