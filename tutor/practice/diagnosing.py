"""A sleeve with folds being looked into: signs asked for, a cause named, every step to be undone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tutor.faults import Fault
from tutor.fit.causes import CAUSES
from tutor.fit.folds import Fold
from tutor.fit.signs import SIGNS
from tutor.lesson.task import ChoiceTask, DiagnoseTask
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.diagnosis_words import causes_words, folds_lines, look_words
from tutor.marking.finding import Finding
from tutor.practice.building import Building
from tutor.practice.finding_text import sign_named
from tutor.practice.history import History
from tutor.practice.options import WHERE
from tutor.practice.signs_told import SignRow, sign_rows
from tutor.units import format_length


class Diagnosing(Building):
    """What has been found out in the task at hand, where it asks what is off; another task has no folds and no signs.

    Nothing is marked before that is asked for. What was asked for and named is a step, undone as other edits are.
    """

    @property
    def finding(self) -> Finding:
        """The signs asked for so far, and the cause named."""
        return Finding.read(self._now.found.now)

    @property
    def folds(self) -> tuple[Fold, ...]:
        """The folds that show; the same object as long as the pattern is the same."""
        return self._ground.diagnosis_case.complaint.folds if self._diagnoses else ()

    @property
    def signs(self) -> tuple[SignRow, ...]:
        """The signs that can be asked for, those asked for with what they show."""
        if not self._diagnoses:
            return ()
        return sign_rows(self._ground.diagnosis_case, self.finding.asked, self.unit)

    def folds_told(self) -> tuple[str, ...]:
        """The folds in sentences."""
        return folds_lines(self._ground.diagnosis_case) if self._diagnoses else ()

    def ask_sign(self, named: str) -> SignRow:
        """Asks for a sign, by its name, number or words, and gives it with what it shows. Raises Fault for no such."""
        self._diagnosis_case()
        found = sign_named(named, self.signs)
        if found is None:
            last = self.signs[-1].number
            raise Fault("sign", f'"{named[:40]}" is none of the signs', f"write 1 to {last}, or a name such as pinch")
        self._found(self.finding.asking(found.name))
        return next(sign for sign in self.signs if sign.name == found.name)

    def sign_seen(self, name: str) -> SignRow:
        """A sign with what it shows, as if it had been looked for; it counts as such only where it is ``ask_sign``.

        Raises Fault as that does.
        """
        case = self._diagnosis_case()
        found = sign_named(name, self.signs)
        if found is None:
            raise Fault("sign", f'"{name[:40]}" is none of the signs', "write the name of one")
        return sign_rows(case, (found.name,), self.unit)[found.number - 1]

    def off_told(self) -> tuple[str, ...]:
        """What the choice at hand is to mend, for somebody who did not find it out; nothing in another task."""
        task = self.task
        complaint = self.tasks[task.mends - 1] if isinstance(task, ChoiceTask) and task.mends else None
        if not isinstance(complaint, DiagnoseTask):
            return ()
        amount = format_length(float(complaint.amount), self.unit)
        return (f"What was found is {CAUSES[complaint.cause].words}, by {amount}.",)

    # Steps.

    def undo(self) -> bool:
        return self._steps.undo()

    def redo(self) -> bool:
        return self._steps.redo()

    def clear(self) -> None:
        if self._diagnoses:
            self._found(Finding())
        else:
            super().clear()

    # Inside.

    @property
    def _steps(self) -> History[Any]:
        return self._now.found if self._diagnoses else self._now.history

    @property
    def _diagnoses(self) -> bool:
        return isinstance(self.task, DiagnoseTask)

    def _diagnosis_case(self) -> DiagnosisCase:
        if not self._diagnoses:
            raise Fault("sign", "this task has no signs to ask for", "read what it asks for")
        return self._ground.diagnosis_case

    def _found(self, finding: Finding) -> None:
        self._now.found.step(finding.text)

    def _name_cause(self, task: DiagnoseTask, cause: str) -> None:
        if cause not in task.names:
            raise Fault(WHERE, f'"{cause[:40]}" is none of the causes', f"there are {', '.join(task.names)}")
        self._found(self.finding.naming(cause))

    def _help_now(self, step: int) -> str:
        """What can be worked out for a hint of a diagnosis: the look, the causes that share it, the next sign."""
        case, asked = self._ground.diagnosis_case, self.finding.asked
        return _HELP[step](case, asked)


def _look(case: DiagnosisCase, asked: tuple[str, ...]) -> str:
    return f"What shows are {look_words(case)}."


def _causes(case: DiagnosisCase, asked: tuple[str, ...]) -> str:
    left = case.left(asked)
    if len(left) == 1 and asked:
        return "What you have asked for leaves one cause that shows such folds."
    begin = "Such folds can mean" if left == case.alike else "What you have asked for leaves"
    return f"{begin} {causes_words(left)}."


def _next(case: DiagnosisCase, asked: tuple[str, ...]) -> str:
    sign = case.next_sign(asked)
    if sign is None:
        return "What you have asked for is enough: name the cause that shows both the folds and the signs."
    return f"Next: {SIGNS[sign].words}."


_HELP: dict[int, Callable[[DiagnosisCase, tuple[str, ...]], str]] = {1: _look, 2: _causes, 3: _next}
