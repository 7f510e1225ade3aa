"""What a task asks of the altered pattern, over measures and never over slashes; and the bounds it comes to."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from msgspec import Struct

from tutor.lesson.amount import Amount
from tutor.lesson.setting import Arm, Part

KINK = 1.0
"""Degrees; a sharper turn in a trued cap shows in the sewn seam (this program's own limit)."""
UNDERARM_SEAMS = 1.0
"""mm; seams nearer than this are sewn together as equal (this program's own limit)."""


@dataclass(frozen=True, slots=True)
class Aim:
    """Bounds for one measure, in its own unit: full credit from ``low`` to ``high`` and ``tolerance`` beyond."""

    measure: str
    low: float
    high: float
    tolerance: float

    def off(self, figure: float) -> float:
        """How far a figure lies outside the bounds: below is negative, 0 inside."""
        return min(figure - self.low, 0.0) + max(figure - self.high, 0.0)

    @property
    def centre(self) -> float:
        """The figure to work toward: the middle of the bounds, or the one bound there is."""
        if math.isinf(self.low) and math.isinf(self.high):
            return 0.0
        if math.isinf(self.low):
            return self.high
        return self.low if math.isinf(self.high) else (self.low + self.high) / 2


class Figure(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A wanted figure of a measure: outright, as a change from where the task starts, or by the arm.

    By the arm it is the girth with its ease, or what goes ``around`` a part of it ``plus`` so much. One that is
    ``stretched`` is as much smaller as the cloth may stretch: girth / (1 + stretch).
    """

    measure: str
    value: Amount | None = None
    change: Amount | None = None
    arm_and_ease: bool = False
    around: Part | None = None
    plus: Amount | None = None
    stretched: bool = False

    def figure(self, start: Mapping[str, float], arm: Arm) -> float:
        """The figure in the measure's own unit, for a pattern that starts with these measures."""
        if self.goes_by_arm:
            return self._on(arm)
        if self.value is not None:
            return self.value.of(self.measure)
        if self.change is not None:
            return start.get(self.measure, 0.0) + self.change.of(self.measure)
        return start[self.measure]

    @property
    def goes_by_arm(self) -> bool:
        return self.arm_and_ease or self.around is not None

    def _on(self, arm: Arm) -> float:
        """The figure by the arm, mm."""
        girth = arm.with_ease if self.around is None else (arm.around(self.around) or 0.0) + (self.plus or 0.0)
        return girth / (1 + (arm.stretch or 0.0) / 100) if self.stretched else girth


class Weighed(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What every goal has: its weight in the mark, whether the task can't be passed without it, and why it is asked."""

    weight: float = 1.0
    must: bool = False
    why: str = ""


class Aimed(Figure, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A figure as a goal: its tolerance, and what every goal has."""

    tolerance: Amount
    weight: float = 1.0
    must: bool = False
    why: str = ""


class Reach(Aimed, frozen=True, kw_only=True, tag_field="kind", tag="reach"):
    """The measure comes out at a figure."""

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        figure = self.figure(start, arm)
        return (Aim(self.measure, figure, figure, self.tolerance.of(self.measure)),)


class Keep(Weighed, frozen=True, kw_only=True, tag_field="kind", tag="keep"):
    """The measure stays where it started."""

    measure: str
    tolerance: Amount

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        return (Aim(self.measure, start[self.measure], start[self.measure], self.tolerance.of(self.measure)),)


class AtMost(Aimed, frozen=True, kw_only=True, tag_field="kind", tag="at-most"):
    """The measure is no more than a figure."""

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        tolerance = self.tolerance.of(self.measure)
        return (Aim(self.measure, -math.inf, self.figure(start, arm), tolerance),)


class AtLeast(Aimed, frozen=True, kw_only=True, tag_field="kind", tag="at-least"):
    """The measure is no less than a figure."""

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        tolerance = self.tolerance.of(self.measure)
        return (Aim(self.measure, self.figure(start, arm), math.inf, tolerance),)


class Balance(Weighed, frozen=True, kw_only=True, tag_field="kind", tag="balance"):
    """The cap fits the armhole.

    The ease of each half lies in its band (low, high); the notches meet and the seams to be joined are equal, each
    within its own amount. ``tolerance`` is the bands' own.
    """

    ease_front: tuple[Amount, Amount]
    ease_back: tuple[Amount, Amount]
    tolerance: Amount
    notches: Amount
    seams: Amount

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        bands = (("cap-ease-front", self.ease_front), ("cap-ease-back", self.ease_back))
        eases = [Aim(name, float(low), float(high), float(self.tolerance)) for name, (low, high) in bands]
        notches = [Aim(name, 0.0, 0.0, float(self.notches)) for name in start if name.startswith("notch-mismatch-")]
        seams = [
            Aim(name, 0.0, 0.0, float(self.seams)) for name in ("underarm-mismatch", "side-mismatch") if name in start
        ]
        return (*eases, *notches, *seams)


class Sound(Weighed, frozen=True, kw_only=True, tag_field="kind", tag="sound"):
    """The trued seams can be sewn: no kink over 1 degree in the cap, underarm seams equal within 1 mm.

    An outline that crosses itself is refused before it comes to a mark.
    """

    def aims(self, start: Mapping[str, float], arm: Arm) -> tuple[Aim, ...]:
        return (Aim("kink", -math.inf, 0.0, KINK), Aim("underarm-mismatch", 0.0, 0.0, UNDERARM_SEAMS))


Goal: TypeAlias = Reach | Keep | AtMost | AtLeast | Balance | Sound
