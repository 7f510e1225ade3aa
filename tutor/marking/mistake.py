"""A usual mistake: what it would have led to, for the very pattern at hand, and what to say when it did."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.marking.case import Case, NumberCase, PlanCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.figures import shown
from tutor.marking.finding import Finding
from tutor.marking.place import PlaceCase
from tutor.pattern.measures import words_for
from tutor.units import Unit

MOVED = 1.0
"""mm, degrees or per cent; less than this is no change worth telling."""
Show = Callable[[float], str]
"""A figure of the measure asked for, in the learner's unit."""


@dataclass(frozen=True, slots=True)
class Figured:
    """A figure that a mistake leads to. ``said`` says what it is, with figures, and ``then`` what to do next.

    ``again`` says that it is the mistake's figure once more, come by way of a figure that was rounded before.
    """

    value: float
    said: Callable[[Show], str]
    then: str
    again: bool = False


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """What a learner's alteration led to. ``plan`` and ``altered`` are None where only the result is known."""

    case: PlanCase
    unit: Unit
    after: Mapping[str, float]
    plan: Plan | None = None
    altered: Altered | None = None

    def change(self, measure: str) -> float:
        """How far a measure has moved from where the task starts, in its own unit."""
        return self.after.get(measure, 0.0) - self.case.before.get(measure, 0.0)

    def show(self, measure: str, figure: float) -> str:
        """A measure's figure, in its own unit, as the learner reads it."""
        return shown(measure, figure, self.unit)

    def length(self, mm: float) -> str:
        """A length in mm as the learner reads it."""
        return shown("bicep-girth", mm, self.unit)

    def moved(self, measure: str) -> str:
        """How a measure has changed, to stand after "has": "grown by 3.0 cm", "fallen by 3.0 cm"."""
        up, down = ("risen", "fallen") if measure == "cap-height" else ("grown", "shrunk")
        change = self.change(measure)
        return f"{down if change < 0 else up} by {self.show(measure, abs(change))}"

    def what_moved(self, *measures: str) -> str:
        """What has become of those of these measures that moved: "The hem girth has grown by 3.0 cm".

        Where none did, it is what the goals look at that has moved, two of them at the most.
        """
        found = [name for name in measures if abs(self.change(name)) > MOVED]
        goals = dict.fromkeys(aim.measure for aim in self.case.aims)
        found = found or [name for name in goals if abs(self.change(name)) > MOVED][:2] or list(measures)[:1]
        said = ", ".join(f"the {words_for(name)} has {self.moved(name)}" for name in found)
        return f"{said[:1].upper()}{said[1:]}"


class Reply(Protocol):
    """What is said to a learner: what was done, with the figures of the answer, and what to do next."""

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]: ...


Likely = Callable[[PlanAnswer], bool]


@dataclass(frozen=True, slots=True)
class Wrong:
    """A plan that a mistake leads to.

    ``number`` completes "... is the cap height" where a figure was asked for, "" when the mistake is none in
    a figure, and ``then`` says what to do next. ``measures`` gives the result where it is no plan's own. ``likely``
    tells cheaply that an answer can't be it.
    """

    reply: Reply
    plan: Plan | Callable[[], Plan | None] | None = None
    number: str = ""
    then: str = ""
    measures: Callable[[], Mapping[str, float] | None] | None = None
    likely: Likely | None = None

    def made(self) -> Plan | None:
        """The plan; one that takes its time to work out is worked out now. None when there is none."""
        return self.plan() if callable(self.plan) else self.plan

    def result(self, case: Case) -> Mapping[str, float] | None:
        """The measures it leads to; None when paper can't follow it."""
        if self.measures is not None:
            return self.measures()
        plan = self.made()
        return None if plan is None else case.measures(plan)


@dataclass(frozen=True, slots=True)
class Placed:
    """A place that a mistake leads to, by how far along the edge it lies (mm); what is said of it, and what to do."""

    along: float
    said: str
    then: str


@dataclass(frozen=True, slots=True)
class Blamed:
    """What is said of a cause that was named, and what to do next."""

    said: str
    then: str


Figures = Callable[[NumberCase, Unit], Iterator[Figured]]
Plans = Callable[[Case], Iterator[Wrong]]
Places = Callable[[PlaceCase, Unit], Iterator[Placed]]
Causes = Callable[[DiagnosisCase, Finding, Unit], Blamed | None]
"""What is said of a finding that shows the mistake; None of one that doesn't. A finding shows one mistake at most."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One usual mistake, by its name: the figures it can lead to where one is asked for, the plans, the places, and the
    findings of a diagnosis that show it.

    ``typed`` is a slip of writing, which depends on the learner's unit. ``words`` say in short what was done.
    """

    name: str
    figures: Figures | None = None
    plans: Plans | None = None
    typed: bool = False
    words: str = ""
    places: Places | None = None
    causes: Causes | None = None
