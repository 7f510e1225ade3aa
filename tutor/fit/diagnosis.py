"""From folds to their cause: which causes look alike, and which of them further signs leave."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cached_property

from tutor.fit.causes import CAUSES
from tutor.fit.folds import Fold, folds
from tutor.fit.look import Look, look
from tutor.fit.misfit import Misfit
from tutor.fit.signs import SIGNS
from tutor.fit.strain import Worn
from tutor.pattern.sleeve import Sleeve


@dataclass(frozen=True, eq=False)
class Complaint:
    """A sleeve that sits badly by ``cause``, by ``amount`` mm. Raises KeyError for a cause that there isn't."""

    sleeve: Sleeve
    cause: str
    amount: float
    _looks: dict[str, Look | None] = field(default_factory=dict, repr=False)

    @cached_property
    def misfit(self) -> Misfit:
        """What is off."""
        return self._of(self.cause)

    @cached_property
    def folds(self) -> tuple[Fold, ...]:
        """The folds that show."""
        return folds(Worn(self.sleeve, self.misfit))

    @cached_property
    def look(self) -> Look | None:
        """What the folds look like; None when none show."""
        return look(self.folds, self.sleeve)

    @cached_property
    def alike(self) -> tuple[str, ...]:
        """All causes whose folds, by the same amount, look like these, the true one among them."""
        return tuple(name for name in CAUSES if name == self.cause or self.look_of(name) == self.look)

    def look_of(self, cause: str) -> Look | None:
        """What the folds of a cause would look like, by the same amount; None when none would show."""
        if cause not in self._looks:
            self._looks[cause] = look(folds(Worn(self.sleeve, self._of(cause))), self.sleeve)
        return self._looks[cause]

    def left(self, asked: Iterable[str], among: Collection[str] | None = None) -> tuple[str, ...]:
        """The causes that look alike and that the signs asked for leave. Raises KeyError for a sign there isn't."""
        asked = tuple(asked)
        return tuple(
            name for name in (self.alike if among is None else among) if not any(self.tells(s, name) for s in asked)
        )

    def tells(self, sign: str, cause: str) -> bool:
        """Whether a sign shows something else than it would if this were the cause. Raises KeyError."""
        return SIGNS[sign].way(self._of(cause)) != SIGNS[sign].way(self.misfit)

    def shows(self, sign: str, cause: str | None = None) -> str:
        """What a sign shows, or would show if this were the cause. Raises KeyError."""
        return SIGNS[sign].shows(self.misfit if cause is None else self._of(cause))

    def settled(self, asked: Collection[str], among: Collection[str] | None = None) -> bool:
        """Whether the signs asked for leave one cause, and one of them shows something that is off."""
        return len(self.left(asked, among)) == 1 and any(self.is_off(name) for name in asked)

    def is_off(self, sign: str) -> bool:
        """Whether a sign shows something that is off. Raises KeyError."""
        return SIGNS[sign].way(self.misfit) != 0

    def _of(self, cause: str) -> Misfit:
        return CAUSES[cause].made(self.amount)
