"""What can be made of a lesson file with faulty values, so that the rest of it is checked as well.

Whatever could not be read has something plain in its place, and nothing that is found at fault about that is told.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, Union, get_args, get_origin

import msgspec

from tutor.alteration.plan import Landmark, Plan
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Sound
from tutor.lesson.recipe import Recipe
from tutor.lesson.strict import LEFT_OUT, WRONG, Reader
from tutor.lesson.target import Target
from tutor.lesson.task import NumberTask
from tutor.toml_lines import Path

PLAIN: Mapping[Any, object] = {
    str: "x",
    int: 1,
    float: 1.0,
    bool: False,
    Amount: Amount(100.0, 10.0),
    Recipe: Recipe(Plan()),
    Target: Target(Landmark("crown")),
}
"""By kind, what takes the place of a value."""
PLAINEST = (NumberTask, Sound)
"""Which of several kinds of table takes the place of one whose kind is not known."""
GOES_BY_OTHERS = frozenset({("vary", "goals"), ("vary", "plans")})
"""Keys of which it can't be said whether they are right while anything of tasks or plans is not."""


@dataclass(slots=True)
class Salvager(Reader):
    """Reads past faulty values, and tells only faults that have nothing to do with them."""

    blocked: list[Path] = field(default_factory=list)
    checking: bool = False

    def fault(self, path: Path, what: str, right: str = "") -> None:
        """Notes a fault, once all is read, where nothing before it was faulty."""
        if not self.checking:
            self.blocked.append(path)
        elif self.is_read(path):
            Reader.fault(self, path, what, right)

    def stand_in(self, kind: Any, path: Path, *, needed: bool = True) -> object:
        self.blocked.append(path)
        return _plain(kind) if needed else LEFT_OUT

    def is_read(self, path: Path) -> bool:
        """Whether a path neither holds a value that could not be read, lies inside one, nor goes by others that may."""
        if any(path[: len(each)] == each or each[: len(path)] == path for each in self.blocked):
            return False
        of_others = any(each[0] in ("tasks", "plans") for each in self.blocked)
        return not of_others or (path[:2] not in GOES_BY_OTHERS and path[-1:] != ("goes-on-from",))


def _plain(kind: Any) -> object:
    """Something plain of a kind; WRONG where there is nothing."""
    if kind in PLAIN:
        return PLAIN[kind]
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        kinds = [each for each in inner if each is not type(None)]
        return _plain(next((each for each in PLAINEST if each in kinds), kinds[0]))
    if origin is tuple:
        return () if inner[-1] is Ellipsis else tuple(_plain(each) for each in inner)
    if origin is dict:
        return {}
    if origin is Literal:
        return inner[0]
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
        needed = [each for each in msgspec.structs.fields(kind) if each.required]
        return kind(**{each.name: _plain(each.type) for each in needed})
    return WRONG
