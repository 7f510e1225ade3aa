"""What a sleeve is drafted from, and what is refused before a line is drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tutor.faults import Fault
from tutor.pattern.drafting.half_cap import Side
from tutor.pattern.drafting.telling import told, told_outside, told_range
from tutor.units import Unit

SIDES: tuple[Side, Side] = ("front", "back")


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftSpec:
    """Measures of a sleeve block, all lengths in mm.

    ``armhole_front``, ``armhole_back``: the armhole on the seam line, underarm point to shoulder tip.
    ``sleeve_length``: crown to hem along the grain. ``hem_girth``: the width of the hem, ease included.

    The cap's size is asked for in one of four ways:

    * ``cap_height`` and girth: the fullness of the cap curve is solved;
    * ``cap_height`` alone: the girth is solved, at the usual fullness;
    * girth alone: the cap height is solved, at the usual fullness;
    * ``cap_height`` with ``slant_front`` and ``slant_back``, the straight lines from crown to underarm
      points: the half widths are sqrt(slant^2 - cap height^2), the fullness is solved.

    The girth is ``bicep_girth``, or ``arm_girth`` plus ``wearing_ease`` (which may be negative, for a knit).
    It is shared by front and back so that both cap seams are the same multiple of their slants, which leaves
    the crown a little nearer to the half with the shorter seam, at most 5 % of the girth off the middle.

    ``cap_ease`` is what the cap seam has more than the armhole (it may be negative), shared in proportion to
    the armholes, or else ``cap_ease_front`` and ``cap_ease_back`` say it for each half.

    ``elbow_level`` is the distance from crown to elbow line along the grain; None puts it half way from bicep
    line to hem (Santa Rosa Junior College, FASH 60, 7.2: half way to the wrist). ``to_wrist`` False is a
    sleeve that ends above the elbow, and has no elbow line.

    ``notch_front``, ``notch_back``: distance along the seam from the underarm point to the front notch and to
    the lower back notch; None puts them a third up the armhole (common practice). They are the same on sleeve
    and armhole, so all cap ease lies between notches and crown.

    ``unit`` is the one that what is refused is told in.
    """

    armhole_front: float
    armhole_back: float
    sleeve_length: float
    hem_girth: float
    cap_height: float | None = None
    bicep_girth: float | None = None
    arm_girth: float | None = None
    wearing_ease: float | None = None
    slant_front: float | None = None
    slant_back: float | None = None
    cap_ease: float | None = None
    cap_ease_front: float | None = None
    cap_ease_back: float | None = None
    elbow_level: float | None = None
    to_wrist: bool = True
    notch_front: float | None = None
    notch_back: float | None = None
    title: str = ""
    unit: Unit = Unit.CM

    @property
    def girth(self) -> float | None:
        """The bicep girth asked for, however it was given, mm; None where it is left open."""
        if self.bicep_girth is not None:
            return self.bicep_girth
        if self.arm_girth is None or self.wearing_ease is None:
            return None
        return self.arm_girth + self.wearing_ease

    def armhole(self, side: Side) -> float:
        """The armhole of a side, mm."""
        return self.armhole_front if side == "front" else self.armhole_back

    def share(self, side: Side) -> float:
        """The side's part of both armholes together, 0 to 1."""
        return self.armhole(side) / (self.armhole_front + self.armhole_back)

    def slant(self, side: Side) -> float | None:
        """The slant asked for of a side, mm; None where none is."""
        return self.slant_front if side == "front" else self.slant_back

    def notch(self, side: Side) -> float | None:
        """How far from the underarm point the notch of a side is asked for, mm; None where that is left open."""
        return self.notch_front if side == "front" else self.notch_back

    def ease(self, side: Side) -> float:
        """The cap ease of one half, mm."""
        if self.cap_ease is not None:
            return self.cap_ease * self.share(side)
        own = self.cap_ease_front if side == "front" else self.cap_ease_back
        return own if own is not None else 0.0

    @property
    def whole_ease(self) -> float:
        """The cap ease of both halves, mm."""
        return self.ease("front") + self.ease("back")

    def seam(self, side: Side) -> float:
        """The cap seam wanted on one half, mm: armhole and ease."""
        return self.armhole(side) + self.ease(side)

    @property
    def seams(self) -> dict[Side, float]:
        """Both cap seams wanted, mm."""
        return {side: self.seam(side) for side in SIDES}


LIMITS: dict[str, tuple[float, float]] = {
    "armhole_front": (60, 600),
    "armhole_back": (60, 600),
    "sleeve_length": (60, 1200),
    "hem_girth": (60, 2000),
    "cap_height": (10, 400),
    "bicep_girth": (80, 1200),
    "arm_girth": (80, 1000),
    "wearing_ease": (-200, 600),
    "slant_front": (50, 700),
    "slant_back": (50, 700),
    "cap_ease": (-60, 600),
    "cap_ease_front": (-30, 300),
    "cap_ease_back": (-30, 300),
    "elbow_level": (20, 1200),
    "notch_front": (10, 300),
    "notch_back": (10, 300),
}
"""What is believed of each measure, mm: from a small child to the fullest sleeve."""
NEEDED = ("armhole_front", "armhole_back", "sleeve_length", "hem_girth")
MOST_HELD_IN = 0.25
"""How much of its armhole a cap seam may be short of it; more would leave no room for the notches."""


def listed(parts: Sequence[str], last: str) -> str:
    """``a, b and c``."""
    return f" {last} ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def in_range(spec: DraftSpec, field: str, mm: float, low: float, high: float, why: str = "") -> None:
    """Raises a Fault at ``field`` when a length isn't between low and high, saying ``why`` not."""
    if not low <= mm <= high:
        raise Fault(
            field,
            f"{told_outside(mm, low, high, spec.unit)} {why or 'is not believable'}",
            f"it can be {told_range(low, high, spec.unit)}",
        )


def check(spec: DraftSpec) -> None:
    """Raises a Fault at the first field that is no believable measure, or doesn't go with the others."""
    for field, limits in LIMITS.items():
        _check_measure(spec, field, *limits)
    _check_all_there(spec)
    for field, kind, right in (
        ("title", str, "write a short name"),
        ("to_wrist", bool, "write true or false"),
    ):
        if not isinstance(getattr(spec, field), kind):
            raise Fault(field, f"is no {'text' if kind is str else 'yes or no'}", right)
    _check_girth(spec)
    _check_slants(spec)
    _check_cap_ease(spec)
    if spec.cap_height is None and spec.girth is None:
        raise Fault(
            "cap_height",
            "neither the cap height nor a girth is given",
            "give cap_height, bicep_girth or both",
        )
    if spec.elbow_level is not None and not spec.to_wrist:
        raise Fault("elbow_level", "is given for a sleeve that ends above the elbow", "leave one of the two out")


def _check_all_there(spec: DraftSpec) -> None:
    """Raises one Fault for everything that is missing."""
    missing = {field: told_range(*LIMITS[field], spec.unit) for field in NEEDED if getattr(spec, field) is None}
    halves = (spec.cap_ease_front, spec.cap_ease_back)
    if spec.cap_ease is None and None in halves:
        field = ("cap_ease", "cap_ease_front", "cap_ease_back")[0 if halves == (None, None) else 1 + halves.index(None)]
        missing[field] = "cap_ease, or cap_ease_front and cap_ease_back"
    if missing and spec.cap_height is None and spec.bicep_girth is None and spec.arm_girth is None:
        missing["cap_height"] = "cap_height, bicep_girth or both"
    if len(missing) == 1:
        ((field, right),) = missing.items()
        raise Fault(field, "is missing", f"give {right}")
    if missing:
        needed = [f"{field} of {right}" if field in NEEDED else right for field, right in missing.items()]
        raise Fault(listed(list(missing), "and"), "are missing", f"give {'; '.join(needed)}")


def _check_measure(spec: DraftSpec, field: str, low: float, high: float) -> None:
    value: object = getattr(spec, field)
    if value is None:
        return
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise Fault(field, "is not a length", f"give {told_range(low, high, spec.unit)}")
    if not math.isfinite(value):
        raise Fault(field, f"{value} is not a length", f"give {told_range(low, high, spec.unit)}")
    in_range(spec, field, value, low, high)


def _check_girth(spec: DraftSpec) -> None:
    if spec.bicep_girth is not None and spec.arm_girth is not None:
        raise Fault(
            "bicep_girth",
            "is given together with arm_girth",
            "give bicep_girth alone, or arm_girth and wearing_ease",
        )
    for field, other in (("arm_girth", "wearing_ease"), ("wearing_ease", "arm_girth")):
        if getattr(spec, field) is not None and getattr(spec, other) is None:
            raise Fault(field, f"is given without {other}", "the bicep girth is the sum of the two")
    if spec.arm_girth is not None and spec.girth is not None:
        low, high = LIMITS["bicep_girth"]
        if not low <= spec.girth <= high:
            raise Fault(
                "wearing_ease",
                f"makes a bicep girth of {told_outside(spec.girth, low, high, spec.unit)}",
                f"it can be {told_range(low - spec.arm_girth, high - spec.arm_girth, spec.unit)}",
            )


def _check_slants(spec: DraftSpec) -> None:
    for side in SIDES:
        field, slant = f"slant_{side}", spec.slant(side)
        if slant is None:
            continue
        if spec.slant_front is None or spec.slant_back is None:
            raise Fault(field, "is the only slant given", "give slant_front and slant_back, or neither")
        if spec.girth is not None:
            raise Fault(field, "is given together with a girth", "leave the slants or the girth out")
        if spec.cap_height is None:
            raise Fault(field, "is given without cap_height", "give cap_height as well")
        narrowest = math.hypot(spec.cap_height, LIMITS["bicep_girth"][0] / 4)
        why = f"is too short for a cap {told(spec.cap_height, spec.unit)} high"
        in_range(spec, field, slant, narrowest, LIMITS[field][1], why)


def _check_cap_ease(spec: DraftSpec) -> None:
    halves = (spec.cap_ease_front, spec.cap_ease_back)
    if spec.cap_ease is not None and halves != (None, None):
        field = "cap_ease_front" if halves[0] is not None else "cap_ease_back"
        raise Fault(field, "is given together with cap_ease", "give the whole, or front and back")
    for side in SIDES:
        field = f"cap_ease_{side}" if spec.cap_ease is None else "cap_ease"
        armhole = spec.armhole(side) if spec.cap_ease is None else spec.armhole_front + spec.armhole_back
        least = -armhole * MOST_HELD_IN
        in_range(spec, field, getattr(spec, field), least, LIMITS[field][1], "takes too much off the armhole")
