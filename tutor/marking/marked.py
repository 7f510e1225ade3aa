"""A mark: every goal with its figures, the whole, and what the alteration cost."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tutor.alteration.refusal import Refusal
from tutor.lesson.goal import Aim


@dataclass(frozen=True, slots=True)
class Part:
    """One measure of a goal: its figure, how far off its bounds, the tolerance that held, and the credit, 0 to 1.

    The figure is not a number (nan) where the pattern lacks what the measure is taken from.
    """

    aim: Aim
    words: str
    figure: float
    off: float
    tolerance: float
    credit: float

    @property
    def measure(self) -> str:
        """The measure that it is about."""
        return self.aim.measure

    @property
    def is_missing(self) -> bool:
        """Whether the pattern lacks what is measured."""
        return math.isnan(self.figure)

    @property
    def met(self) -> bool:
        """Whether it has full credit."""
        return self.credit >= 1


@dataclass(frozen=True, slots=True)
class GoalMark:
    """A goal marked: as good as the worst of its parts. ``why`` is the lesson's reason for it."""

    kind: str
    parts: tuple[Part, ...]
    weight: float
    must: bool
    why: str

    @property
    def worst(self) -> Part:
        """The part with the least credit; of several the one that is farthest off, in tolerances."""
        return min(self.parts, key=lambda part: (part.credit, -abs(part.off) / part.tolerance))

    @property
    def credit(self) -> float:
        """That of the worst part, 0 to 1."""
        return min(part.credit for part in self.parts)

    @property
    def met(self) -> bool:
        """Whether every part has full credit."""
        return self.credit >= 1


@dataclass(frozen=True, slots=True)
class Cost:
    """A measure that changed though nobody asked for it: before and after, in its own unit."""

    measure: str
    words: str
    before: float
    after: float

    @property
    def change(self) -> float:
        """After less before, in its own unit."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class Marked:
    """The mark of one answer. ``total`` is 0 to 1; a refused plan has no goals and ``refusal`` says why.

    ``feedback`` is one sentence or more for the learner: what is missing, by how much, and where to look next.
    ``notes`` tell what is worth knowing whatever the mark. ``mistake`` is the usual mistake that the answer shows, by
    its name, None when it shows none clearly; ``untouched`` says that nothing the task looks at has changed.
    """

    goals: tuple[GoalMark, ...]
    total: float
    pass_mark: float
    passed: bool
    costs: tuple[Cost, ...]
    feedback: tuple[str, ...]
    refusal: Refusal | None = None
    notes: tuple[str, ...] = ()
    mistake: str | None = None
    untouched: bool = False

    @property
    def settled(self) -> bool:
        """Whether there is no mistake to look for: the answer passes, or nothing has been done."""
        return self.passed or self.untouched or self.refusal is not None
