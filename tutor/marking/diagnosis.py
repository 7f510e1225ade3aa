"""A question for what is off in a sleeve that shows folds, and what each sign and each cause says about it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cached_property

from tutor.fit.diagnosis import Complaint
from tutor.lesson.diagnose_checking import complaint_trouble
from tutor.lesson.task import DiagnoseTask
from tutor.marking.case import Case


@dataclass(frozen=True, eq=False)
class DiagnosisCase(Case):
    """A complaint on one pattern. Folds and looks are worked out once and kept."""

    task: DiagnoseTask = field(kw_only=True)

    @cached_property
    def complaint(self) -> Complaint:
        """What is off, by how much."""
        return Complaint(self.pattern.sleeve, self.task.cause, float(self.task.amount))

    @property
    def right(self) -> str:
        """The cause that it is."""
        return self.task.cause

    @cached_property
    def signs(self) -> tuple[str, ...]:
        """The signs that can be asked for."""
        return self.task.signs_on(self.pattern.sleeve)

    @cached_property
    def alike(self) -> tuple[str, ...]:
        """The causes to name one of whose folds look like those that show, the right one among them."""
        return tuple(cause for cause in self.task.names if cause in self.complaint.alike)

    @cached_property
    def trouble(self) -> str:
        """Why this is no fair question; nothing when it is one."""
        found = complaint_trouble(self.task, self.complaint)
        return "" if found is None else found[0]

    def left(self, asked: Iterable[str]) -> tuple[str, ...]:
        """The causes that folds and signs asked for leave."""
        return self.complaint.left(asked, self.alike)

    def settled(self, asked: Collection[str]) -> bool:
        """Whether the signs asked for leave one cause, and one of them shows something that is off."""
        return self.complaint.settled(asked, self.alike)

    def ruled_out_by(self, cause: str, asked: Iterable[str]) -> str | None:
        """The first of the signs asked for that a cause would not show so; None where there is none."""
        return next((sign for sign in asked if self.complaint.tells(sign, cause)), None)

    def next_sign(self, asked: Collection[str]) -> str | None:
        """The sign to ask for next: the one that rules most out, or shows what is off; None when it is settled.

        Where signs rule out equally many, one that shows something off goes first.
        """
        if self.settled(asked):
            return None
        here = len(self.left(asked))
        shows_off = any(self.complaint.is_off(sign) for sign in asked)

        def worth(sign: str) -> tuple[int, bool]:
            return here - len(self.left((*asked, sign))), self.complaint.is_off(sign)

        rest = [sign for sign in self.signs if sign not in asked]
        useful = [sign for sign in rest if worth(sign)[0] > 0 or (not shows_off and worth(sign)[1])]
        return max(useful, key=worth, default=None)

    def way(self) -> tuple[str, ...]:
        """Signs that settle it, asked for one after the other, each as telling as there is."""
        asked: list[str] = []
        while (sign := self.next_sign(asked)) is not None:
            asked.append(sign)
        return tuple(asked)

    def idle(self, asked: Iterable[str]) -> tuple[str, ...]:
        """Those of the signs asked for that rule nothing out of what looks the same, and show nothing off."""
        complaint = self.complaint
        return tuple(s for s in asked if self.left([s]) == self.alike and not complaint.is_off(s))
