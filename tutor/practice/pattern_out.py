"""What a learner has made of a pattern, written to a file of theirs: SVG, to scale, with its cut line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.file_reading import file_fault
from tutor.lesson.task import PlanTask
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_write import write_svg
from tutor.practice.carried import own_plan
from tutor.practice.session import Session
from tutor.whole_file import write_new

WHERE = "write"
ENDING = ".svg"


def own_pattern(session: Session) -> Pattern:
    """The pattern as the learner's plan leaves it: the plan at hand, or at a question that of the last task to build.

    Where nothing was built it is as it lies. Raises Fault where paper can't follow the plan.
    """
    if isinstance(session.task, PlanTask):
        return _after(session, session.task_number, session.plan)
    for number in range(session.task_number - 1, 0, -1):
        if isinstance(session.tasks[number - 1], PlanTask):
            plan = own_plan(session.attempts(number))
            if plan is not None:
                return _after(session, number, plan)
    return session.pattern


def write_own_pattern(session: Session, text: str) -> Path:
    """Writes the learner's pattern to the file that is named, and gives its path, which ends in .svg.

    Raises Fault where there is one by that name, unless "over" stands before it, or it can't be written.
    """
    first, _, rest = text.strip().partition(" ")
    over = first.casefold() == "over" and bool(rest.strip())
    name = rest.strip() if over else text.strip()
    if not name:
        raise Fault(WHERE, "needs a name for the file", "write such as write my-sleeve.svg")
    try:
        path = Path(name).expanduser()
    except RuntimeError:
        raise Fault(name, "is in a home that nobody knows of", "give the whole path, or a name alone") from None
    except ValueError as error:
        raise file_fault(name, error) from None
    if path.suffix.casefold() != ENDING:
        path = path.with_name(f"{path.name}{ENDING}") if path.name else path
    pattern = replace(own_pattern(session), title=f"{session.lesson.arm.of}: {session.lesson.title}")
    text = write_svg(pattern, allowance=session.lesson.seam_allowance)
    write_new(path, text, over=over, how_over="put over before it")
    return path


def _after(session: Session, number: int, plan: Plan | None) -> Pattern:
    ground = session.ground(number)
    if plan is None:
        return ground.pattern
    found = ground.result(plan)
    if isinstance(found, Refusal):
        raise Fault(WHERE, f"paper can't follow the plan as it is ({found.kind})", "mend the plan first")
    return found.after
