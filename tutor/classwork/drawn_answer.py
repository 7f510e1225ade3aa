"""An altered pattern that was drawn or traced, marked by its measures, and by its outline where it is not right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tutor.classwork.block_alignment import bust_gain, on_block
from tutor.classwork.drawn_kink import drawn_kink
from tutor.classwork.drawn_pattern import Drawn, read_drawn
from tutor.classwork.drawn_scale import check_scale
from tutor.classwork.missing_notches import missing_notches
from tutor.classwork.outline_mistake import recognise_outline
from tutor.classwork.plan_result import plan_result
from tutor.classwork.result import Result
from tutor.classwork.trace_spacing import check_spacing
from tutor.classwork.traced import drawing_of
from tutor.faults import Fault
from tutor.lesson.task import PlanTask
from tutor.marking.feedback import named_feedback
from tutor.marking.mark import mark_plan
from tutor.marking.marked import Marked
from tutor.marking.mistake import PlanAnswer
from tutor.marking.recognise_plan import recognise_plan
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session

WHERE = "pattern"


def mark_points(session: Session, lines: Mapping[str, Sequence[Sequence[float]]], by: str) -> Result:
    """The mark of a pattern that was traced in points. Raises Fault for what is no pattern."""
    up, down = drawing_of(lines), drawing_of(lines, y_down=True)
    try:
        return mark_drawing(session, up, by)
    except Fault as fault:
        # Whoever counts y downwards, as screens do, has drawn the same pattern in a mirror.
        if "is mirrored" not in fault.what:
            raise
    return mark_drawing(session, down, by)


def mark_drawing(session: Session, svg: bytes, by: str) -> Result:
    """The mark of a pattern that was drawn. Raises Fault for what can't be read, or is at another scale."""
    marked, theirs, _ = marked_drawing(session, svg)
    return plan_result(session, marked, theirs, by)


def marked_drawing(session: Session, svg: bytes) -> tuple[Marked, Pattern, dict[str, float]]:
    """The mark of a drawing, the pattern laid on the one it was altered from, and its measures. Raises Fault."""
    block = session.pattern
    drawn = read_drawn(svg, WHERE, block)
    check_scale(drawn.pattern, block, WHERE)
    check_spacing(drawn.traces, session.plan_case(), session.unit, WHERE)
    theirs = on_block(drawn.pattern, block, exact=drawn.exact, turns=drawn.turns)
    after = _measures(drawn, theirs, session)
    return _marked(session, theirs, after), theirs, after


def _measures(drawn: Drawn, theirs: Pattern, session: Session) -> dict[str, float]:
    """All measures of a drawn pattern that lies on its block."""
    after = measure(theirs, session.lesson.arm.girth) | {"bust-gain": bust_gain(theirs, session.pattern)}
    return after if drawn.exact else after | {"kink": drawn_kink(theirs, session.plan_case())}


def _marked(session: Session, theirs: Pattern, after: Mapping[str, float]) -> Marked:
    case, task = session.plan_case(), session.task
    assert isinstance(task, PlanTask)
    watched = tuple(dict.fromkeys((*task.watch, *session.lesson.watch)))
    marked = mark_plan(case.task, case.arm, session.unit, case.before, after, watched)
    missing = missing_notches(theirs, session.pattern, marked)
    marked = replace(marked, feedback=(*missing, *marked.feedback))
    # Where a notch was left out nobody can tell a mistake by what the measures came to.
    if marked.settled or missing:
        return marked
    answer = PlanAnswer(case, session.unit, after)
    named = recognise_outline(theirs, answer) or recognise_plan(answer)
    if named is None:
        return marked
    return replace(marked, mistake=named.mistake, feedback=named_feedback(marked.feedback, named.said))
