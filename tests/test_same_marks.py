"""The same answers get the same marks and the same words on the screen, line by line, and from the marking itself.

Of every task of every lesson: what is right, usual mistakes, and what is wrong in no usual way.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence

import pytest
from lessons_for_tests import own_lessons
from simulated_plans import rounded, times
from tutor_driving import Driven, driven

from tutor.alteration.amounts import AMOUNTS, given
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Plan, Slash
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import NumberTask, PlanTask
from tutor.lesson.variants import Variant
from tutor.marking.answers import mark_figure, mark_result
from tutor.marking.figures import shown
from tutor.marking.marked import Marked
from tutor.marking.points import out_of_100
from tutor.marking.recognise_number import candidates
from tutor.marking.recognise_plan import outcomes
from tutor.pattern.measures import on_arm
from tutor.practice.plain import run_plain
from tutor.practice.session import Session
from tutor.practice.variants import variant_of
from tutor.units import Unit

SEED = 3
USUAL = 2
"""How many usual mistakes are made in a task."""

Answer = str | Plan
LESSONS = {str(lesson.number): lesson for lesson in own_lessons()}
UNITS = {number: Unit.INCH if k % 2 else Unit.CM for k, number in enumerate(LESSONS)}


@pytest.fixture(params=LESSONS)
def number(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def answers(session: Session) -> Sequence[Answer]:
    """What is given to the task at hand: right, wrong in usual ways, and wrong in none."""
    if isinstance(session.task, NumberTask):
        case = session._ground.number_case
        usual = [each.value for each in candidates(case, session.unit) if each.mistake != "tenths-for-sixteenths"]
        figures = [*usual[:USUAL], 1.37 * case.right + 3]
        return [session.right_answer(), *(shown(case.of, figure, session.unit) for figure in figures)]
    if not isinstance(session.task, PlanTask):
        return []
    worked = session._ground.worked(session.task.solution)
    plans = [worked, times(worked, 0.5), times(worked, -1), times(worked, 0.83)]
    plans += [plan for outcome in outcomes(session._ground.plan_case, session.unit) if (plan := outcome.wrong.made())]
    found = [rounded(plan, session.unit) for plan in plans if allowed(session, plan)]
    return [*dict.fromkeys(found)][: 4 + USUAL]


def allowed(session: Session, plan: Plan) -> bool:
    """Whether the task allows what a plan uses."""
    try:
        with session.one_step():
            session.adopt(plan)
            session.undo()
    except Fault:
        return False
    return True


def marked_itself(session: Session, answer: Answer) -> Marked:
    """The mark of an answer by the marking code alone."""
    ground = session._ground
    if isinstance(answer, Plan):
        altered = ground.result(answer)
        assert not isinstance(altered, Exception), altered
        girth = altered.measures_after["bicep-girth"]
        measures = {**altered.measures_after, **on_arm(girth, session.lesson.arm.girth)}
        return mark_result(ground.plan_case, session.unit, measures, answer, altered)
    assert session._now.figure is not None
    return mark_figure(ground.number_case, session.unit, session._now.figure)


def give(session: Session, answer: Answer) -> Marked:
    if isinstance(answer, str):
        return session.answer(answer)
    session.adopt(answer)
    return session.check()


def flowing(texts: tuple[str, ...]) -> str:
    return " ".join(" ".join(texts).split())


def tried(lesson: Lesson, unit: Unit, variant: Variant | None = None) -> Iterator[tuple[Session, Answer, Marked]]:
    """Every answer to every task given to a session, one after the other."""
    session = Session(lesson, unit, variant=variant)
    for task in range(1, len(lesson.tasks) + 1):
        session.go_to_task(task)
        for answer in answers(session):
            yield session, answer, give(session, answer)


def test_sessions_mark_as_the_marking_does(number: str) -> None:
    lesson = LESSONS[number]
    seen = []
    for session, answer, marked in tried(lesson, UNITS[number], variant_of(lesson, SEED)):
        if marked.refusal is None:
            own = marked_itself(session, answer)
            assert (own.total, own.passed, own.mistake) == (marked.total, marked.passed, marked.mistake)
            assert tuple(map(session._worded, own.feedback)) == marked.feedback
            seen.append((marked.passed, marked.mistake))
    if any(isinstance(task, NumberTask | PlanTask) for task in lesson.tasks):
        assert {passed for passed, _ in seen} == {True, False}
        assert any(mistake for _, mistake in seen)


def lines_of(session: Session, plan: Plan) -> Iterator[str]:
    """What is typed line by line for a plan, on fresh paper."""
    yield "clear"
    if plan.set_back:
        yield "lift"
    for slash in plan.slashes:
        yield _slash_line(slash, session.unit)
    session.adopt(plan)
    for slash in plan.slashes:
        for station in session.stations(slash.name):
            if station.amount is not None:
                way = "open" if station.amount >= 0 else "overlap"
                yield f"{way} {slash.name} at {station.words} {_mm(station.amount)}"
    for amount in AMOUNTS:
        if amount in given(plan):
            words = amount.typed[0 if amount.read(plan) > 0 else 1].replace("SIDE", amount.side)
            yield f"{words} {_mm(amount.read(plan))}"


def _mm(amount: float) -> str:
    return f"{abs(amount):.6f} mm"


def _slash_line(slash: Slash, unit: Unit) -> str:
    ends = [(place_words(slash.start, unit), slash.start_hinge), (place_words(slash.end, unit), slash.end_hinge)]
    held = [words for words, holds in ends if holds]
    hinges = ", hinge at both ends" if len(held) == 2 else f", hinge at {held[0]}" if held else ""
    return f"slash {ends[0][0]} to {ends[1][0]}{hinges}, as {slash.name}"


def test_line_by_line_marks_as_sessions_do(number: str) -> None:
    lesson = LESSONS[number]
    typed: list[str] = []
    marks: list[Marked] = []
    probe = Session(lesson, UNITS[number], variant=variant_of(lesson, SEED))
    at = 0
    for session, answer, marked in tried(lesson, UNITS[number], variant_of(lesson, SEED)):
        if session.task_number != at:
            at = session.task_number
            typed.append(f"task {at}")
            probe.go_to_task(at)
        typed += [f"answer {answer}"] if isinstance(answer, str) else [*lines_of(probe, answer), "check"]
        marks.append(marked)
    out = io.StringIO()
    run_plain(Session(lesson, UNITS[number], variant=variant_of(lesson, SEED)), io.StringIO("\n".join(typed)), out)
    said = " ".join(out.getvalue().split())
    assert re.findall(r"Mark: (\d+) of 100", said) == [str(out_of_100(marked.total)) for marked in marks], (
        out.getvalue()
    )
    for marked in marks:
        # One after the other, each where the last was found.
        where = said.find(flowing(marked.feedback))
        assert where >= 0, (flowing(marked.feedback), out.getvalue())
        said = said[where:]


async def test_the_screen_marks_as_sessions_do(number: str) -> None:
    lesson = LESSONS[number]
    async with driven(number, unit=UNITS[number]) as tutor:
        at = 1
        for session, answer, marked in tried(lesson, UNITS[number]):
            while at < session.task_number:
                await tutor.press("n enter")
                at += 1
            await _given(tutor, answer)
            assert flowing(marked.feedback) in tutor.page
            if marked.refusal is None:
                assert f"{out_of_100(marked.total)} of 100" in tutor.page
            assert tutor.lesson.session.attempts()[-1] == session.attempts()[-1]
            await tutor.press("enter")


async def _given(tutor: Driven, answer: Answer) -> None:
    """An answer typed on the screen; a plan laid before it, as keys for it are tested elsewhere, and marked by key."""
    if isinstance(answer, str):
        await tutor.press("enter ctrl+u")
        await tutor.write(answer)
        await tutor.press("enter")
    else:
        tutor.lesson.session.adopt(answer)
        await tutor.press("c")
