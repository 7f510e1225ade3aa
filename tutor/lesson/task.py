"""A task: what the learner is asked, what may be used, and what is looked at when it is marked."""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from tutor.alteration.amounts import Means as Means
from tutor.fit.signs import SIGNS
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure, Goal
from tutor.lesson.target import Target
from tutor.pattern.measures import Kind, kind_of
from tutor.pattern.sleeve import Sleeve

HINTS = 3
PASS_MARK = 0.8
APART = {Kind.LENGTH: 3.0, Kind.ANGLE: 1.0, Kind.SHARE: 1.0, Kind.AREA: 500.0}
"""How far figures have to be from each other to tell which is the greater, unless a task says otherwise."""


class Asked(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What every task has.

    ``start`` names the plan of the lesson whose result the task starts from; without it, it is the block. ``hints``
    are three: what to look at; which measure is off; the next thing to do, its place but not its amount. ``solution``
    names the plan that is shown as worked solution. ``watch`` adds measures to the lesson's own. ``unnamed`` are usual
    mistakes that are not to be looked for in this task. ``goes_on_from`` numbers an earlier task, from 1, whose result
    this one starts from, or asks about: the learner's own, if it is sound and leaves something to do. Where that asks
    for the arm with its ease, this one goes by the figure that the learner gave. With ``tells_plan`` the worked plan
    that a figure is asked after is told step by step where the earlier task was not asked: its limits leave more than
    one alteration, and the figure is that of one.
    """

    title: str
    ask: str
    hints: tuple[str, str, str]
    start: str = ""
    watch: tuple[str, ...] = ()
    unnamed: tuple[str, ...] = ()
    goes_on_from: int = 0
    tells_plan: bool = False


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


class Option(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A plan of the lesson as one of several to choose among, called by its ``title``."""

    plan: str
    title: str


class ChoiceTask(Asked, frozen=True, kw_only=True, tag_field="kind", tag="choice"):
    """Choose among plans or among measures. Which is right is never written, but worked out on the pattern.

    Of plans (``options``) those are right whose results meet every goal; with ``least`` or ``most`` the one of these
    that leaves the least or most of a measure. Of ``measures`` those are right that the plan ``after`` makes grow,
    shrink or stay (``which``). With ``mends``, the number from 1 of an earlier diagnosis, of plans that meet the goals
    those are right after which no sign shows anything off. ``pick`` says whether one is to be chosen, and then just
    one is right, or all that are.
    ``apart`` is how far figures have to be from each other, or from no change, to tell: see ``telling_apart``.
    """

    options: tuple[Option, ...] = ()
    goals: tuple[Goal, ...] = ()
    least: str = ""
    most: str = ""
    mends: int = 0
    measures: tuple[str, ...] = ()
    after: str = ""
    which: Literal["grow", "shrink", "stay"] = "grow"
    pick: Literal["one", "all"] = "one"
    apart: Amount | None = None
    why: str = ""
    pass_mark: float = PASS_MARK

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all that can be chosen: of plans, or of measures."""
        return tuple(option.plan for option in self.options) or self.measures

    @property
    def best(self) -> str:
        """The measure that decides between plans which meet the goals; nothing where none does."""
        return self.least or self.most

    def telling_apart(self, measure: str) -> float:
        """How far figures of a measure have to be from each other, in its own unit."""
        return APART[kind_of(measure)] if self.apart is None else self.apart.of(measure)


class PlaceTask(Asked, frozen=True, kw_only=True, tag_field="kind", tag="place"):
    """Show a ``place`` on the edge of the pattern, a landmark or a point of a seam, within ``tolerance`` along it."""

    place: Target
    tolerance: Amount
    why: str = ""
    pass_mark: float = PASS_MARK


class DiagnoseTask(Asked, frozen=True, kw_only=True, tag_field="kind", tag="diagnose"):
    """Find out what is off in a sleeve that shows folds: ask for signs, and name the cause.

    ``cause`` is what is off, by ``amount``; variants draw it among that and ``instead``. ``suspects`` are the causes to
    name one of, ``signs`` those that can be asked for, all there are if left out. Passed when the cause is named once
    the signs asked for leave no other whose folds look the same, and one of them shows something that is off.
    """

    cause: str
    amount: Amount
    suspects: tuple[str, ...]
    instead: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    why: str = ""
    pass_mark: float = PASS_MARK

    @property
    def causes(self) -> tuple[str, ...]:
        """What can be off in a variant."""
        return self.cause, *self.instead

    @property
    def names(self) -> tuple[str, ...]:
        """The causes to name one of."""
        return self.suspects

    def signs_on(self, sleeve: Sleeve) -> tuple[str, ...]:
        """The signs that can be asked for, in their order: none at the elbow where the sleeve ends above it."""
        return tuple(name for name in self.signs or SIGNS if SIGNS[name].is_on(sleeve))


Task: TypeAlias = PlanTask | NumberTask | ChoiceTask | PlaceTask | DiagnoseTask
AnswerTask: TypeAlias = NumberTask | ChoiceTask | PlaceTask | DiagnoseTask
"""A task that leaves the paper alone and asks for an answer."""


def goals_of(task: Task) -> tuple[Goal, ...]:
    """The goals of a task that has some."""
    return task.goals if isinstance(task, PlanTask | ChoiceTask) else ()


def plan_asked_after(task: Task) -> str:
    """The plan of the lesson whose result a task asks about; nothing where it asks about none."""
    return task.after if isinstance(task, NumberTask | ChoiceTask) else ""
