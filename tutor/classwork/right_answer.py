"""The right answer to a question as a learner writes it on that variant's sheet: letters, numbers of signs, figures."""

from __future__ import annotations

from collections.abc import Iterator

from tutor.lesson.task import NumberTask
from tutor.marking.case import NumberCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.figures import shown
from tutor.marking.place import PlaceCase
from tutor.practice.place_answer import told_place
from tutor.practice.session import Session
from tutor.practice.worked import AnyCase


def right_answer(session: Session, case: AnyCase) -> str:
    """What to write in the form; nothing for an alteration, of which the steps are the answer.

    Raises Fault or ValueError when it can't be worked out.
    """
    letters = {option.name: option.letter for option in session.options}
    match case:
        case ChoiceCase():
            return ", ".join(sorted(letters[name] for name in case.right))
        case DiagnosisCase():
            numbers = sorted(row.number for row in session.signs if row.name in case.way())
            return f"{letters[case.right]} by {', '.join(map(str, numbers))}"
        case PlaceCase():
            return told_place(case.edge, case.right, session.unit)
        case NumberCase(task=NumberTask() as task):
            return shown(task.measure, case.right, session.unit, signed=task.asks == "change")
    return ""


def lettered(session: Session, case: AnyCase, steps: tuple[str, ...]) -> Iterator[str]:
    """The steps of a worked answer by the letters and numbers of the sheet, in its order."""
    match case:
        case ChoiceCase():
            of_options = dict(zip((each.name for each in case.weighed), steps, strict=False))
            for option in session.options:
                yield f"{option.letter}) {of_options.pop(option.name)}"
            steps = steps[len(case.weighed) :]
        case DiagnosisCase():
            yield f"Causes on the sheet: {'; '.join(f'{each.letter}) {each.words}' for each in session.options)}."
            yield f"Signs on the sheet: {'; '.join(f'{each.number}. {each.words}' for each in session.signs)}."
    yield from steps
