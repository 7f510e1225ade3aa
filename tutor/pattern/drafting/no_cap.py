"""The refusal of a cap whose seam does not go with its size."""

from __future__ import annotations

from collections.abc import Callable

from tutor.pattern.drafting.spec import DraftSpec, listed
from tutor.pattern.drafting.telling import told, told_outside, told_range
from tutor.units import Unit

SIZE_FIELDS = ("cap_height", "bicep_girth", "arm_girth", "wearing_ease", "slant_front", "slant_back")


class NoCap(Exception):
    """No cap of the wanted seam goes with the wanted size.

    ``where`` names the fields the size was given by. ``what`` says the trouble, worked out only when it is
    asked for: whoever looks for a measure that would do raises this many times and reads none.
    """

    def __init__(self, spec: DraftSpec, what: Callable[[], str]) -> None:
        self.where = ", ".join(field for field in SIZE_FIELDS if getattr(spec, field) is not None)
        self._what = what
        super().__init__(self.where)

    @property
    def what(self) -> str:
        """Why, in words; only worked out when it is asked for."""
        return self._what()


def seam_in_words(seam: str, wanted: float, shortest: float, longest: float, unit: Unit) -> str:
    """What a cap seam can be, and what it should be but can't."""
    asked = told_outside(wanted, shortest, longest, unit)
    return f"{seam} can be {told_range(shortest, longest, unit)}, armhole and ease ask {asked}"


def size_in_words(spec: DraftSpec, height: float | None, girth: float | None) -> str:
    """``a bicep girth of 34.0 cm and a cap height of 14.5 cm``, or what there is of it; slants instead of a girth."""
    parts = []
    if spec.slant_front is not None and spec.slant_back is not None:
        parts = [
            f"a front slant of {told(spec.slant_front, spec.unit)}",
            f"a back slant of {told(spec.slant_back, spec.unit)}",
        ]
    elif girth is not None:
        parts = [f"a bicep girth of {told(girth, spec.unit)}"]
    if height is not None:
        parts.append(f"a cap height of {told(height, spec.unit)}")
    return listed(parts, "and")
