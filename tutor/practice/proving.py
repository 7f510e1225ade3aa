"""A lesson tried out on itself: what a file can't show until its patterns are altered and marked."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import NumberTask
from tutor.practice.session import Session
from tutor.units import Unit


def prove_lesson(lesson: Lesson) -> list[Fault]:
    """What doesn't hold of a lesson whose file is right; none when all does.

    Every task must have an answer: the worked solution gets full marks, the untouched pattern is not passed, and a
    number's own figure, typed as it is shown, is right. In centimetres and in inches.
    """
    return [fault for unit in (Unit.CM, Unit.INCH) for fault in _proved(lesson, unit)]


def _proved(lesson: Lesson, unit: Unit) -> list[Fault]:
    faults: list[Fault] = []
    for number in range(1, len(lesson.tasks) + 1):
        session = Session(lesson, unit)
        session.go_to_task(number)
        try:
            what, right = _trouble(session)
        except Fault as reason:
            what, right = f"its worked solution can't be made: {reason}", "mend the plan it names"
        if what:
            faults.append(Fault(f"{lesson.name}: tasks {number}, in {unit.value}", what, right))
    return faults


def _trouble(session: Session) -> tuple[str, str]:
    """What is wrong with the task at hand, and what would be right; two empty texts when nothing is."""
    if isinstance(session.task, NumberTask):
        marked = session.answer(session.right_answer())
        return ("", "") if marked.total >= 1 else ("its own figure does not get full marks", "widen the tolerance")
    if session.check().passed:
        return "the untouched pattern passes", "ask for something that it lacks"
    solution = session.solution()
    assert solution.plan is not None
    session.adopt(solution.plan)
    marked = session.check()
    if marked.refusal is not None:
        return f"paper refuses the worked solution: {marked.refusal}", "mend the plan it names"
    if marked.total < 1:
        return f"the worked solution gets {100 * marked.total:.1f} of 100: {marked.feedback[0]}", "mend goals or plan"
    return "", ""
