"""A place on the edge of the pattern that a task asks for, read as places of plans are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from tutor.alteration.plan import Along, Landmark, Share
from tutor.alteration.plan_places import Context, read_place
from tutor.faults import Fault
from tutor.lesson.strict import WRONG, Reader
from tutor.toml_lines import Path


@dataclass(frozen=True, slots=True)
class Target:
    """A landmark, or a place along a seam."""

    place: Landmark | Along | Share
    wanted: ClassVar[str] = 'a landmark such as "crown", or a table with seam, distance and from'


def read_target(reader: Reader, value: object, path: Path) -> object:
    """The place at a path of the file; its faults go to the reader, which then gets WRONG."""
    if not isinstance(value, str | Mapping):
        reader.fault(path, "is no place", f"write {Target.wanted}")
        return WRONG
    written = value if isinstance(value, str) else dict(value)
    try:
        place = read_place(written, "", reader.where(path), Context(reader.unit, (), set_back=False))
    except Fault as fault:
        reader.faults.append(fault)
        return WRONG
    if not isinstance(place, Landmark | Along | Share):
        reader.fault(path, "is no place on the edge of the pattern", f"write {Target.wanted}")
        return WRONG
    return Target(place)
