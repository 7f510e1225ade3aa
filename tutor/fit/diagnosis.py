"""From folds to their cause: which causes look alike, and which of them further signs leave."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
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
        looks = {
            name: look(folds(Worn(self.sleeve, self._of(name))), self.sleeve) for name in CAUSES if name != self.cause
        }
        return tuple(name for name in CAUSES if name == self.cause or looks[name] == self.look)

    def left(self, asked: Iterable[str], among: Collection[str] | None = None) -> tuple[str, ...]:
        """The causes that look alike and that the signs asked for leave. Raises KeyError for a sign there isn't."""
        signs = [SIGNS[name] for name in asked]
        return tuple(
            name
            for name in (self.alike if among is None else among)
            if all(sign.way(self._of(name)) == sign.way(self.misfit) for sign in signs)
        )

    def telling(self) -> tuple[str, ...]:
        """The signs that leave fewer causes than the look alone does."""
        return tuple(name for name in SIGNS if len(self.left([name])) < len(self.alike))

    def settled(self, asked: Collection[str]) -> bool:
        """Whether the signs asked for leave one cause, and one of them shows something that is off."""
        return len(self.left(asked)) == 1 and any(SIGNS[name].way(self.misfit) for name in asked)

    def _of(self, cause: str) -> Misfit:
        return CAUSES[cause].made(self.amount)
