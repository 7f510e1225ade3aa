"""A task: what the learner is asked, what may be used, and what is looked at when it is marked."""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from tutor.alteration.amounts import Means as Means
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure, Goal

HINTS = 3
PASS_MARK = 0.8


class Asked(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What every task has.

    ``start`` names the plan of the lesson whose result the task starts from; without it, it is the block. ``hints``
    are three: what to look at; which measure is off; the next thing to do, its place but not its amount. ``solution``
    names the plan that is shown as worked solution. ``watch`` adds measures to the lesson's own. ``unnamed`` are usual
    mistakes that are not to be looked for in this task. ``goes_on_from`` numbers an earlier task, from 1, whose result
    this one starts from, or asks about: the learner's own, if it is sound and leaves something to do.
    """

    title: str
    ask: str
    hints: tuple[str, str, str]
    start: str = ""
    watch: tuple[str, ...] = ()
    unnamed: tuple[str, ...] = ()
    goes_on_from: int = 0


class PlanTask(Asked, frozen=True, kw_only=True, tag_field="kind", tag="plan"):
    """Alter the pattern so that the goals are met, with the means allowed. Passed at ``pass_mark``, 0 to 1."""

    goals: tuple[Goal, ...]
    solution: str
    may_use: tuple[Means, ...] = ("slashes",)
    pass_mark: float = PASS_MARK


class NumberTask(Asked, frozen=True, kw_only=True, tag_field="kind", tag="number"):
    """Say a figure: measure ``of`` the pattern as it lies, or as the plan named by ``after`` leaves it.

    Instead of that it can be a figure that is ``wanted``, worked out from the arm. With ``edge = "cut"`` the measure is
    taken at the cut edge, seam allowance and all. ``asks = "change"`` asks for the difference that the plan makes, or
    the wanted figure, or the cut edge. ``why`` explains the figure afterwards.
    """

    tolerance: Amount
    of: str = ""
    wanted: Figure | None = None
    after: str = ""
    edge: Literal["seam", "cut"] = "seam"
    asks: Literal["value", "change"] = "value"
    why: str = ""
    pass_mark: float = PASS_MARK

    @property
    def measure(self) -> str:
        """The measure that the figure is one of."""
        return self.of if self.wanted is None else self.wanted.measure


Task: TypeAlias = PlanTask | NumberTask
