"""Who and what a lesson is about: an arm, and the block that should fit it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, get_args

from msgspec import Struct

from tutor.lesson.amount import Amount
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.pattern.drafting.spec import DraftSpec

USUAL_EASE = {"woven": 50.0, "knit": 0.0}
"""mm of wearing ease at the upper arm where a lesson gives none for the other cloth.

At least 2 in for a woven (Threads, 27 Sept 2021; Santa Rosa Junior College, FASH 60, 7.2), little or none for a knit
(Central Washington University costume text, ch. 16).
"""


Part = Literal["arm", "elbow", "forearm", "wrist", "hand"]
PARTS: tuple[Part, ...] = get_args(Part)
"""What a girth can be taken around."""


class Arm(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """The wearer's arm: its girth in mm, how it was measured, the cloth, and the wearing ease chosen for it.

    Wearing ease may be below zero for a knit. ``ease_in_other_cloth`` is what a knit would be given where the cloth is
    a woven, or the reverse. ``elbow``, ``forearm``, ``wrist`` and ``hand`` are girths, mm; ``stretch`` is how far the
    cloth may be stretched, in per cent.
    """

    girth: Amount
    wearing_ease: Amount
    of: str = ""
    measured: Literal["relaxed", "flexed"] = "relaxed"
    cloth: Literal["woven", "knit"] = "woven"
    ease_in_other_cloth: Amount | None = None
    elbow: Amount | None = None
    forearm: Amount | None = None
    wrist: Amount | None = None
    hand: Amount | None = None
    stretch: float | None = None

    def around(self, part: Part) -> float | None:
        """The girth of a part of the arm, mm; None for one that is not given."""
        found: Amount | None = self.girth if part == "arm" else getattr(self, part)
        return None if found is None else float(found)

    @property
    def other_ease(self) -> float:
        """The wearing ease for the other cloth, mm."""
        if self.ease_in_other_cloth is not None:
            return float(self.ease_in_other_cloth)
        return USUAL_EASE["knit" if self.cloth == "woven" else "woven"]

    @property
    def with_ease(self) -> float:
        """The bicep girth that the sleeve should have, mm."""
        return self.girth + self.wearing_ease


class Block(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """The measures a block is drafted from, as ``DraftSpec`` has them, in mm."""

    armhole_front: Amount
    armhole_back: Amount
    sleeve_length: Amount
    hem_girth: Amount
    cap_height: Amount | None = None
    bicep_girth: Amount | None = None
    arm_girth: Amount | None = None
    wearing_ease: Amount | None = None
    slant_front: Amount | None = None
    slant_back: Amount | None = None
    cap_ease: Amount | None = None
    cap_ease_front: Amount | None = None
    cap_ease_back: Amount | None = None
    elbow_level: Amount | None = None
    to_wrist: bool = True
    notch_front: Amount | None = None
    notch_back: Amount | None = None

    def spec(self, title: str = "", unit: Unit = Unit.CM) -> DraftSpec:
        """What ``draft`` takes; ``unit`` is what faults are told in."""
        from tutor.pattern.drafting.spec import DraftSpec

        lengths: dict[str, Any] = {
            name: None if (value := getattr(self, name)) is None else float(value)
            for name in self.__struct_fields__
            if name != "to_wrist"
        }
        return DraftSpec(**lengths, to_wrist=self.to_wrist, title=title, unit=unit)
