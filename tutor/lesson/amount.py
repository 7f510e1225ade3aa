"""An amount in a lesson file: a length with or without its unit, or a bare figure of another kind."""

from __future__ import annotations

from tutor.alteration.plan_lengths import read_length
from tutor.faults import Fault
from tutor.units import Unit


class Amount(float):
    """A float in mm. ``bare`` is the figure as written when it had no unit: what degrees or per cent go by."""

    bare: float | None

    def __new__(cls, mm: float, bare: float | None = None) -> Amount:
        self = super().__new__(cls, mm)
        self.bare = bare
        return self

    def of(self, measure: str) -> float:
        """The amount in the measure's own unit. Raises ValueError for a length where degrees or per cent count."""
        from tutor.pattern.measures import Kind, kind_of

        if kind_of(measure) is Kind.LENGTH:
            return float(self)
        if self.bare is None:
            raise ValueError(f"{measure} counts in {kind_of(measure).value}; write a bare number")
        return self.bare


def read_amount(value: object, where: str, unit: Unit) -> Amount:
    """An amount from a TOML value: "3 cm", "1/4 in", or a number in ``unit``. Raises Fault."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise Fault(where, "is no length", 'write a number, or a text such as "3 cm" or "1/4 in"')
    bare = None if isinstance(value, str) else float(min(max(value, -1e300), 1e300))
    return Amount(read_length(value if bare is None else bare, where, unit), bare)
