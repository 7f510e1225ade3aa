"""Questions made ready to be asked, each by its form and its task."""

from __future__ import annotations

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, Task
from tutor.quiz.asked import Asked
from tutor.quiz.chosen import Choice, Spot
from tutor.quiz.picked import Diagnosed, Picked
from tutor.quiz.question import Question
from tutor.units import Unit

_KINDS: dict[type[Task], type[Asked]] = {ChoiceTask: Picked, DiagnoseTask: Diagnosed}


def ask(question: Question, lesson: Lesson, unit: Unit) -> Asked:
    """The question, ready to be asked. Raises Fault for one that the lesson does not have, or no longer."""
    kinds: dict[str, type[Asked]] = {"task": Asked, "choice": Choice, "spot": Spot}
    if not 1 <= question.task <= len(lesson.tasks):
        raise Fault(f"lesson {lesson.number}", f"has no task {question.task}", "draw the quiz again")
    try:
        kind = _KINDS.get(type(lesson.tasks[question.task - 1])) or kinds[question.form]
        return kind(question, lesson, unit)
    except (Refusal, ValueError) as reason:
        raise Fault(f"lesson {lesson.number}", f"can't be set for these figures: {reason}", "draw it again") from None
