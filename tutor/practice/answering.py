"""Tasks that ask for an answer: what is given, what would be right, and the mark of it."""

from __future__ import annotations

from tutor.alteration.plan import Plan
from tutor.faults import Fault
from tutor.lesson.task import ChoiceTask, NumberTask, PlanTask
from tutor.marking.answers import mark_figure
from tutor.marking.figures import shown
from tutor.marking.mark import mark_nothing
from tutor.marking.mark_choice import mark_choice
from tutor.marking.marked import Marked
from tutor.practice.building import Building
from tutor.practice.entry import read_figure
from tutor.practice.options import JOIN, Option, options_of, read_choice
from tutor.practice.tape import TapeRow


class Answering(Building):
    """The answer to the task at hand, where it asks for a figure or a choice."""

    def give(self, text: str) -> None:
        """Takes an answer as it is typed, without marking it. Raises Fault, at no cost, for text that is none."""
        task = self.task
        if isinstance(task, ChoiceTask):
            self._now.answer = JOIN.join(read_choice(text, self.options, task))
        elif isinstance(task, NumberTask):
            self._now.figure = read_figure(text, task.measure, self.unit)
            self._now.answer = text.strip()
        else:
            raise _asks_for_none()

    @property
    def given(self) -> Plan | str | None:
        """What there is to be marked: the plan as it is built, or the answer given; None while there is nothing."""
        return self.plan if isinstance(self.task, PlanTask) else self._now.answer

    @property
    def answered(self) -> str | None:
        """The answer last given: a figure as it was typed, or the names of what was chosen."""
        return self._now.answer

    @property
    def options(self) -> tuple[Option, ...]:
        """What there is to choose among, in the order of this variant; nothing in another kind of task."""
        task = self.task
        if not isinstance(task, ChoiceTask):
            return ()
        kept = self.stored_variant
        key = f"{self.lesson.name}/{self.lesson.version}" if kept is None else kept["digest"]
        return options_of(task, f"{key}/{self.task_number}", self._worded, self.chosen)

    @property
    def task_picks_one(self) -> bool:
        """Whether just one of the options is to be chosen."""
        return isinstance(self.task, ChoiceTask) and self.task.pick == "one"

    @property
    def chosen(self) -> tuple[str, ...]:
        """The names of what is chosen so far."""
        given = self._now.answer
        return () if given is None or not isinstance(self.task, ChoiceTask) else tuple(filter(None, given.split(JOIN)))

    def choose(self, name: str) -> None:
        """Chooses an option by name, in place of another where only one is asked for; one that is chosen, not any more.

        Raises Fault when there is none such.
        """
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
        if not self.settled or name not in {option.name for option in self.options}:
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

    def right_options(self) -> tuple[str, ...]:
        """The names of the options that are right. Raises Fault when that can't be worked out."""
        self._choice_task()
        return self._ground.choice_case.right

    @property
    def choice_trouble(self) -> str:
        """Why the choice at hand is no fair question; nothing when it is one. Raises Fault as ``right_options``."""
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
        raise _asks_for_none()

    def _marked_answer(self, task: NumberTask | ChoiceTask) -> tuple[Marked, str | None]:
        """The mark of the answer, and what was marked; None when there is none yet."""
        given = self._now.answer
        if given is None:
            asked = "give the figure asked for" if isinstance(task, NumberTask) else "choose first"
            return mark_nothing(task, f"There is no answer yet: {asked}."), None
        try:
            if isinstance(task, ChoiceTask):
                return mark_choice(self._ground.choice_case, self.unit, self.chosen), given
            self._ground.right_figure()
            return mark_figure(self._ground.number_case, self.unit, self._now.figure), given
        except Fault as fault:
            return mark_nothing(task, f"{fault}."), None

    def _choice_task(self) -> ChoiceTask:
        if not isinstance(self.task, ChoiceTask):
            raise Fault("answer", "this task gives nothing to choose among", "read what it asks for")
        return self.task


def _asks_for_none() -> Fault:
    return Fault("answer", "this task asks for no number", "alter the pattern, then check")
