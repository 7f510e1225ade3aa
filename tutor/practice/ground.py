"""What a task stands on: the pattern it starts from, what plans make of it, and the answers it is compared with."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from tutor.alteration.alter import Altered, altered_once
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import CROSSES_ITSELF, Refusal
from tutor.faults import Fault
from tutor.lesson.checking import start_measures
from tutor.lesson.goal import Aim
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import (
    ChoiceTask,
    DiagnoseTask,
    NumberTask,
    PlaceTask,
    PlanTask,
    Task,
    goals_of,
    plan_asked_after,
)
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.place import PlaceCase
from tutor.pattern.measures import measure, on_arm
from tutor.pattern.pattern import Pattern
from tutor.practice.worked import case_of, misfit_of, worked_plan

REMEMBERED = 64
"""How many plans of a task keep their result at hand."""


@dataclass
class Ground:
    """One task, by its number from 1, on one pattern. ``carried`` is the learner's own plan that it goes on from.

    Or ``figure`` is the learner's own, and the lesson is the one in which it is right.
    """

    lesson: Lesson
    number: int
    pattern: Pattern
    carried: Plan | None = None
    figure: float | None = None
    _results: dict[Plan, Altered | Refusal] = field(default_factory=dict)
    _last: tuple[Plan, Altered | Refusal] | None = None
    _plans: dict[str, Plan] = field(default_factory=dict)

    @property
    def task(self) -> Task:
        return self.lesson.tasks[self.number - 1]

    @property
    def goes_on(self) -> bool:
        """Whether it goes on from anything of the learner's own."""
        return self.carried is not None or self.figure is not None

    @cached_property
    def before(self) -> dict[str, float]:
        """The measures that the task starts from."""
        if isinstance(self.task, DiagnoseTask) or (isinstance(self.task, ChoiceTask) and self.task.mends):
            # Its wearer is known by the signs alone.
            return measure(self.pattern)
        return start_measures(self.pattern, self.lesson.arm.girth)

    @cached_property
    def aims(self) -> tuple[Aim, ...]:
        """What the goals come to; none for a task without."""
        return tuple(aim for goal in goals_of(self.task) for aim in goal.aims(self.before, self.lesson.arm))

    def result(self, plan: Plan) -> Altered | Refusal:
        """A plan carried out, or why paper can't."""
        # The same plan is asked for again and again; to find it by its hash takes a while.
        if self._last is None or self._last[0] is not plan:
            found = self._results.get(plan)
            if found is None:
                while len(self._results) >= REMEMBERED:
                    del self._results[next(iter(self._results))]
                found = self._results[plan] = _altered(self.pattern, plan)
            self._last = plan, found
        return self._last[1]

    def measures(self, altered: Altered) -> dict[str, float]:
        """All measures of an altered pattern, those on the arm with them."""
        found = dict(altered.measures_after)
        return found | on_arm(found["bicep-girth"], self.lesson.arm.girth)

    def worked(self, name: str) -> Plan:
        """One of the lesson's plans, worked out for this pattern. Raises Fault when that can't be."""
        if name not in self._plans:
            try:
                self._plans[name] = self._worked(name)
            except (Refusal, ValueError) as reason:
                raise Fault(f"plan {name}", f"can't be worked out: {reason}", "the lesson needs mending") from None
        return self._plans[name]

    def _worked(self, name: str) -> Plan:
        if self.carried is None:
            return worked_plan(self.lesson, self.number, name)
        goals = {aim.measure: aim.centre for aim in reversed(self.aims)}
        return self.lesson.plans[name].solved(self.pattern, self.lesson.arm, goals)

    @cached_property
    def plan_case(self) -> PlanCase:
        """What a plan is compared with. Raises Fault when the worked solution can't be made."""
        task = self.task
        assert isinstance(task, PlanTask)
        plan = self.worked(task.solution)
        if self.carried is None:
            case = case_of(self.lesson, self.number)
            assert isinstance(case, PlanCase)
            return case
        recipe = self.lesson.plans[task.solution]
        return PlanCase(self.pattern, self.lesson.arm, plan, recipe, float(self.lesson.seam_allowance), task=task)

    @cached_property
    def number_case(self) -> NumberCase:
        """What a figure is compared with. Raises Fault when the plan it is asked after can't be made."""
        task = self.task
        assert isinstance(task, NumberTask)
        if self.carried is not None:
            allowance = float(self.lesson.seam_allowance)
            return NumberCase(self.pattern, self.lesson.arm, self.carried, None, allowance, task=task)
        if task.after:
            self.worked(task.after)
        case = case_of(self.lesson, self.number)
        assert isinstance(case, NumberCase)
        return case

    @cached_property
    def choice_case(self) -> ChoiceCase:
        """What a choice is compared with. Raises Fault when what it is among can't be worked out."""
        task = self.task
        assert isinstance(task, ChoiceTask)
        try:
            case = self._choice(task)
            _ = case.weighed
        except (Refusal, ValueError) as reason:
            raise Fault("options", f"can't be worked out: {reason}", "the lesson needs mending") from None
        return case

    def _choice(self, task: ChoiceTask) -> ChoiceCase:
        if self.carried is None:
            case = case_of(self.lesson, self.number)
            assert isinstance(case, ChoiceCase)
            return case
        allowance, asked = float(self.lesson.seam_allowance), self.carried if task.measures else None
        plans = {option.plan: self._plan_or_refusal(option.plan) for option in task.options}
        misfit = misfit_of(self.lesson, task)
        return ChoiceCase(self.pattern, self.lesson.arm, asked, None, allowance, task=task, plans=plans, misfit=misfit)

    def _plan_or_refusal(self, name: str) -> Plan | Refusal:
        try:
            plan = self._worked(name)
        except Refusal as refusal:
            return refusal
        found = self.result(plan)
        return found if isinstance(found, Refusal) else plan

    @cached_property
    def place_case(self) -> PlaceCase:
        """What a place is compared with. Raises Fault where this pattern has no such place."""
        task = self.task
        assert isinstance(task, PlaceTask)
        case = PlaceCase(self.pattern, self.lesson.arm, None, None, float(self.lesson.seam_allowance), task=task)
        try:
            _ = case.right
        except ValueError as reason:
            raise Fault("place", str(reason), "the lesson needs mending") from None
        return case

    @cached_property
    def diagnosis_case(self) -> DiagnosisCase:
        """What a diagnosis is compared with."""
        case = case_of(self.lesson, self.number)
        assert isinstance(case, DiagnosisCase)
        return case

    def plan_asked_after(self) -> Plan | None:
        """The plan whose result the task asks about: the lesson's own, or the learner's; None where there is none.

        Raises Fault when it can't be made.
        """
        name = plan_asked_after(self.task)
        return self.worked(name) if name and self.carried is None else self.carried if name else None

    def right_figure(self) -> float:
        """The figure that a number task asks for, in the measure's unit. Raises Fault when it can't be worked out."""
        case = self.number_case
        try:
            return case.right
        except ValueError as reason:
            raise Fault(
                f"plan {case.task.after}", f"can't be carried out: {reason}", "the lesson needs mending"
            ) from None


def _altered(pattern: Pattern, plan: Plan) -> Altered | Refusal:
    try:
        altered = altered_once(pattern, plan)
        _ = altered.measures_after
    except Refusal as refusal:
        return refusal
    except (ValueError, ArithmeticError, IndexError, AssertionError):
        # Paper so cut to shreds that even its refusal fails is refused all the same: a learner's try never ends it.
        return Refusal(CROSSES_ITSELF, "these cuts can't be followed on paper; move a slash or open by less")
    return altered
