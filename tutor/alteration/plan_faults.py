"""All faults of a plan that is being read, gathered so that one does not hide the next."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import ParamSpec, TypeVar

import msgspec

from tutor.faults import Fault
from tutor.toml_lines import Path, key_lines, line_of
from tutor.toml_reading import Document
from tutor.toml_tables import read_table

_UNKNOWN = re.compile(r'"(.*)" is no key known here')
_NUMBERED = re.compile(r"(slash|opening) (\d+)")
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


def at_own_lines(document: Document, faults: Sequence[Fault]) -> list[Fault]:
    """The faults of a document, each with the line of the key that it is about, where the text is known."""
    lines = key_lines(document.text) if document.text else {}
    return [_at_own_line(document.where, fault, lines) for fault in faults]


def _at_own_line(where: str, fault: Fault, lines: dict[Path, int]) -> Fault:
    inside = fault.where.removeprefix(where).removeprefix(": ")
    line = line_of(key_path(inside, fault.what, (), lines), lines)
    return (
        fault if line is None else Fault(f"{where}: {f'line {line}, {inside}'.rstrip(', ')}", fault.what, fault.right)
    )


def key_path(inside: str, what: str, above: Path, lines: dict[Path, int]) -> Path:
    """The path of the key that a plan's fault is about, ``inside`` its place in the plan that lies at ``above``."""
    match = _NUMBERED.match(inside)
    at: Path = (*above, match[1], int(match[2]) - 1) if match else above
    rest = inside[match.end() :].lstrip(", ") if match else inside
    unknown = _UNKNOWN.match(what)
    for step in [*filter(None, re.split(r", |\.", rest)), *([unknown[1]] if unknown else [])]:
        if (*at, step) in lines:
            at = (*at, step)
    return at
