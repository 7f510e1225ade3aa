"""All faults of a plan that is being read, gathered so that one does not hide the next."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import ParamSpec, TypeVar

import msgspec

from tutor.faults import Fault
from tutor.toml_tables import read_table

P = ParamSpec("P")
S = TypeVar("S", bound=msgspec.Struct)
T = TypeVar("T")


class PlanFaults(Fault):
    """All faults found in a plan; as a Fault it is the first of them."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = tuple(faults)


class Faults:
    """Lets reading go on past a fault, and keeps it."""

    def __init__(self) -> None:
        self.found: list[Fault] = []

    def read(self, reader: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T | None:
        """What a reader gives; None where it raises a Fault, which is kept."""
        try:
            return reader(*args, **kwargs)
        except Fault as fault:
            self.found += getattr(fault, "faults", (fault,))
            return None

    def table(self, written: Mapping[str, object], kind: type[S], where: str) -> S:
        """The table as a value of ``kind``. Raises PlanFaults, with what was found before, when it is none."""
        table, faults = read_table(written, kind, where)
        self.found += faults
        if table is None:
            raise PlanFaults(self.found)
        return table

    def check(self) -> None:
        """Raises PlanFaults when any fault was found."""
        if self.found:
            raise PlanFaults(self.found)
