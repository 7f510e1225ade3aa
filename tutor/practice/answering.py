"""Tasks that ask for an answer: what is given, what would be right, and the mark of it."""

from __future__ import annotations

from tutor.alteration.edge import Edge
from tutor.alteration.plan import Plan
from tutor.faults import Fault
from tutor.lesson.task import AnswerTask, ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, PlanTask
from tutor.marking.answers import mark_figure
from tutor.marking.figures import shown
from tutor.marking.finding import Finding
from tutor.marking.mark import mark_nothing
from tutor.marking.mark_choice import mark_choice
from tutor.marking.mark_diagnosis import mark_diagnosis
from tutor.marking.mark_place import mark_place
from tutor.marking.marked import Marked
from tutor.marking.place import PlaceCase
from tutor.practice.diagnosing import Diagnosing
from tutor.practice.entry import read_figure, with_unit
from tutor.practice.finding_text import read_finding
from tutor.practice.options import JOIN, Option, options_of, read_choice
from tutor.practice.place_answer import edge_lines, kept_place, read_answer, told_place
from tutor.practice.place_text import read_place
from tutor.practice.steps import plan_steps
from tutor.practice.tape import TapeRow
from tutor.units import Unit

ASKED: dict[type[AnswerTask], str] = {
    NumberTask: "give the figure asked for",
    ChoiceTask: "choose first",
    PlaceTask: "show the place first",
    DiagnoseTask: "name the cause first",
}


class Answering(Diagnosing):
    """The answer to the task at hand, where it asks for a figure, a choice or a place."""

    def give(self, text: str) -> None:
        """Takes an answer as it is typed, without marking it. Raises Fault, at no cost, for text that is none."""
        task = self.task
        if isinstance(task, ChoiceTask):
            self._now.answer = JOIN.join(read_choice(text, self.options, task))
        elif isinstance(task, NumberTask):
            self._now.figure = read_figure(text, task.measure, self.unit)
            self._now.answer = text.strip()
        elif isinstance(task, DiagnoseTask):
            self._found(read_finding(text, self.finding, self.options, self.signs))
        elif isinstance(task, PlaceTask):
            self.show_place(read_answer(text, self._place_case(), self.unit))
        else:
            raise _asks_for_none()

    @property
    def given(self) -> Plan | str | None:
        """What there is to be marked: the plan as it is built, or the answer given; None while there is nothing."""
        return self.plan if isinstance(self.task, PlanTask) else self.answered

    def plan_told(self) -> tuple[str, ...]:
        """The alteration that is asked about, for somebody who did not make it; nothing where the task tells none."""
        try:
            plan = self._ground.plan_asked_after() if self.task.tells_plan else None
        except Fault:
            # The answer will say that the lesson needs mending.
            plan = None
        if plan is None:
            return ()
        return (f"It was altered like this. {' '.join(plan_steps(self._ground.pattern, plan, self.unit))}",)

    @property
    def answer_read(self) -> str:
        """The figure last given, with its unit; "" where there is none."""
        task, figure = self.task, self._now.figure
        if not isinstance(task, NumberTask) or figure is None:
            return self.answered or ""
        return shown(task.measure, figure, self.unit)

    @property
    def answer_told(self) -> str:
        """The figure last given as it was typed, with its unit; as it is read once another unit was chosen.

        A place that was shown is told in the learner's unit.
        """
        if (place := self.shown_place) is not None:
            return told_place(self.edge, place, self.unit)
        task, figure, typed = self.task, self._now.figure, self._now.answer
        if not isinstance(task, NumberTask) or figure is None or typed is None:
            return self.answered or ""
        told = with_unit(typed, task.measure, self.unit)
        return told if read_figure(told, task.measure, self.unit) == figure else self.answer_read

    @property
    def answered(self) -> str | None:
        """The answer last given: a figure as it was typed, the names of what was chosen, or a finding as it is kept."""
        if isinstance(self.task, DiagnoseTask):
            return self.finding.text if self.finding.cause else None
        return self._now.answer

    @property
    def options(self) -> tuple[Option, ...]:
        """What there is to choose among, in the order of this variant; nothing in another kind of task.

        In a diagnosis these are the causes to name one of.
        """
        task = self.task
        if not isinstance(task, ChoiceTask | DiagnoseTask):
            return ()
        kept = self.stored_variant
        key = f"{self.lesson.name}/{self.lesson.version}" if kept is None else kept["digest"]
        return options_of(task, f"{key}/{self.task_number}", self._worded, self.chosen)

    @property
    def task_picks_one(self) -> bool:
        """Whether just one of the options is to be chosen."""
        return isinstance(self.task, DiagnoseTask) or (isinstance(self.task, ChoiceTask) and self.task.pick == "one")

    @property
    def chosen(self) -> tuple[str, ...]:
        """The names of what is chosen so far."""
        if isinstance(self.task, DiagnoseTask):
            return (self.finding.cause,) if self.finding.cause else ()
        given = self._now.answer
        return () if given is None or not isinstance(self.task, ChoiceTask) else tuple(filter(None, given.split(JOIN)))

    def choose(self, name: str) -> None:
        """Chooses an option by name, in place of another where only one is asked for; one that is chosen, not any more.

        Raises Fault when there is none such.
        """
        if isinstance(self.task, DiagnoseTask):
            self._name_cause(self.task, name)
            return
        task = self._choice_task()
        if name not in task.names:
            raise Fault("answer", f'"{name[:40]}" is none of the options', f"there are {', '.join(task.names)}")
        before = self.chosen
        names = {name} if task.pick == "one" else set(before) | {name}
        if name in before:
            names = set(before) - {name}
        self._now.answer = JOIN.join(each for each in task.names if each in names) or None

    def option_plan(self, name: str) -> Plan | None:
        """The plan that an option is, or that measures are asked about; None where paper refuses it, or there is none.

        Measures are asked about what is not to be seen before the question is settled.
        """
        if not isinstance(self.task, ChoiceTask):
            return None
        try:
            case = self._ground.choice_case
        except Fault:
            return None
        if self.task.measures:
            return case.plan if self.settled else None
        plan = case.plans.get(name)
        return plan if isinstance(plan, Plan) else None

    def option_tape(self, name: str) -> tuple[TapeRow, ...]:
        """The tape with what an option leads to, once the question is settled; before that as it is."""
        if not isinstance(self.task, ChoiceTask) or not self.settled or name not in self.task.names:
            return self.tape()
        try:
            weighed = self._ground.choice_case.weighed
        except Fault:
            return self.tape()
        return self._tape(next(each.after for each in weighed if each.name == name))

    @property
    def settled(self) -> bool:
        """Whether the task at hand is passed, or its solution was shown."""
        return self.standing() in ("passed", "shown")

    @property
    def edge(self) -> Edge:
        """The edge of the pattern that a place is shown on. Raises Fault for another kind of task."""
        return self._place_case().edge

    def show_place(self, along: float) -> None:
        """Shows a place by how far along the edge it lies, mm; it is not marked yet. Raises Fault as ``edge`` does."""
        self._now.answer = kept_place(self.edge, along)

    @property
    def shown_place(self) -> float | None:
        """How far along the edge the place lies that was shown last, mm; None where none was."""
        given = self._now.answer
        if given is None or not isinstance(self.task, PlaceTask):
            return None
        try:
            return self._along(given)
        except Fault:
            # It was shown on another pattern: the learner's own, that this task goes on from, has changed.
            return None

    def right_place(self) -> float:
        """How far along the edge the place that is asked for lies, mm. Raises Fault as ``edge`` does."""
        return self._place_case().right

    def edge_lines(self) -> tuple[str, ...]:
        """The edge in figures, nothing on it named but the seams. Raises Fault as ``edge`` does."""
        return edge_lines(self._place_case(), self.unit)

    def right_options(self) -> tuple[str, ...]:
        """The names of the options that are right. Raises Fault when that can't be worked out."""
        if isinstance(self.task, DiagnoseTask):
            return (self._ground.diagnosis_case.right,)
        self._choice_task()
        return self._ground.choice_case.right

    @property
    def choice_trouble(self) -> str:
        """Why the choice at hand is no fair question; nothing when it is one. Raises Fault as ``right_options``."""
        if isinstance(self.task, DiagnoseTask):
            return self._ground.diagnosis_case.trouble
        return self._ground.choice_case.trouble

    def right_answer(self) -> str:
        """The answer that is right, as it is shown: a figure in the learner's unit, or what is to be chosen.

        Raises Fault for a task that asks for none, and when it can't be worked out.
        """
        task = self.task
        if isinstance(task, ChoiceTask):
            return JOIN.join(self.right_options())
        if isinstance(task, NumberTask):
            return shown(task.measure, self._ground.right_figure(), self.unit)
        if isinstance(task, DiagnoseTask):
            case = self._ground.diagnosis_case
            return Finding(case.way(), case.right).text
        if isinstance(task, PlaceTask):
            return kept_place(self.edge, self.right_place())
        raise _asks_for_none()

    def right_answer_told(self) -> str:
        """The answer that is right, as the learner would write it. Raises Fault as ``right_answer``."""
        if isinstance(self.task, PlaceTask):
            return told_place(self.edge, self.right_place(), self.unit)
        return self.right_answer()

    def _marked_answer(self, task: AnswerTask) -> tuple[Marked, str | None]:
        """The mark of the answer, and what was marked; None when there is none yet."""
        given = self.answered
        if given is None:
            return mark_nothing(task, f"There is no answer yet: {ASKED[type(task)]}."), None
        try:
            if isinstance(task, ChoiceTask):
                return mark_choice(self._ground.choice_case, self.unit, self.chosen), given
            if isinstance(task, DiagnoseTask):
                return mark_diagnosis(self._ground.diagnosis_case, self.unit, self.finding), given
            if isinstance(task, PlaceTask):
                return mark_place(self._ground.place_case, self.unit, self._along(given)), given
            self._ground.right_figure()
            return mark_figure(self._ground.number_case, self.unit, self._now.figure), given
        except Fault as fault:
            return mark_nothing(task, f"{fault}."), None

    def _along(self, given: str) -> float:
        """How far along the edge a place lies that was shown. Raises Fault for one that is not on it any more."""
        case = self._place_case()
        place = read_place(given, case.outline, Unit.MM)
        return case.along(place) or 0.0

    def _place_case(self) -> PlaceCase:
        if not isinstance(self.task, PlaceTask):
            raise Fault("answer", "this task asks for no place", "read what it asks for")
        return self._ground.place_case

    def _choice_task(self) -> ChoiceTask:
        if not isinstance(self.task, ChoiceTask):
            raise Fault("answer", "this task gives nothing to choose among", "read what it asks for")
        return self.task


def _asks_for_none() -> Fault:
    return Fault("answer", "this task asks for no number", "alter the pattern, then check")
