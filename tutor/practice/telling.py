"""Whether a lesson's tasks tell: each usual mistake made on purpose must be the one that is named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tutor.alteration.alter import Altered
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.marking.answers import mark_result
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.figures import shown
from tutor.marking.finding import Finding
from tutor.marking.marked import Marked
from tutor.marking.named import Confusion
from tutor.marking.place import PlaceCase
from tutor.marking.recognise_number import Candidate, candidates
from tutor.marking.recognise_place import place_candidates
from tutor.marking.recognise_plan import Outcome, outcomes
from tutor.practice.session import Session
from tutor.practice.variants import confusions, hidden
from tutor.practice.worked import AnyCase, case_of
from tutor.units import Unit


@dataclass(frozen=True, slots=True)
class Told:
    """What came of making every mistake on a task: faults, what can't be told apart, and the mistakes that pass."""

    faults: tuple[Fault, ...]
    confused: tuple[Confusion, ...]
    passing: tuple[str, ...]


def tell(session: Session, where: str) -> Told:
    """Makes every usual mistake on the task at hand; ``where`` is the place of its faults.

    Raises Fault when the lesson's own plan can't be worked out.
    """
    case = _case(session)
    if isinstance(case, ChoiceCase):
        return Told(tuple(_choices(session, where)), (), ())
    if isinstance(case, DiagnosisCase):
        return Told(tuple(_causes(session, case, where)), (), ())
    if isinstance(case, PlaceCase):
        marks = [(name, _shown(session, each.along)) for name, each in place_candidates(case, session.unit)]
    else:
        marks = _figures(session, case) if isinstance(case, NumberCase) else _plans(session, case)
    found = confusions(case, session.unit)
    unclear = {name for pair in found for name in (pair.first, pair.second)}
    wrong = [(name, marked) for name, marked in marks if marked.mistake != name and name not in unclear]
    passing = hidden(case, session.unit)
    return Told(tuple(_fault(where, name, marked) for name, marked in wrong), found, passing)


def _choices(session: Session, where: str) -> Iterator[Fault]:
    """Everything that is wrong chosen by itself: none may pass."""
    for option in session.options:
        marked = session.answer(option.name)
        if marked.passed and option.name not in session.right_options():
            yield Fault(where, f"{option.name} passes, and is not right", "raise the pass mark")


def _causes(session: Session, case: DiagnosisCase, where: str) -> Iterator[Fault]:
    """Every cause named at once, and once the signs have settled it: only the right one passes, and only then.

    Whatever is wrong is to be named as some usual mistake.
    """
    for asked in ((), case.way()):
        for cause in case.task.names:
            session.clear()
            marked = session.answer(Finding(asked, cause).text)
            proved = cause == case.right and bool(asked)
            if marked.passed != proved:
                yield Fault(where, f"{cause} {'passes' if marked.passed else 'fails'}", "write another pass mark")
            elif not marked.passed and marked.mistake is None and not case.task.unnamed:
                yield Fault(where, f"{cause} is wrong in no usual way", "take it out of suspects")


def _case(session: Session) -> AnyCase:
    try:
        return case_of(session.lesson, session.task_number)
    except (Refusal, ValueError) as reason:
        raise Fault("", str(reason)) from None


def _shown(session: Session, along: float) -> Marked:
    session.show_place(along)
    return session.check()


def _figures(session: Session, case: NumberCase) -> list[tuple[str, Marked]]:
    """Each mistake's figure, come by exactly and typed as it is shown."""
    found = [each for each in candidates(case, session.unit) if not each.again]
    return [(each.mistake, session.answer(_typed(case, each, session.unit))) for each in found]


def _typed(case: NumberCase, candidate: Candidate, unit: Unit) -> str:
    """The figure as it is written; sixteenths mistaken for tenths are written as a decimal."""
    text = shown(case.of, candidate.value, unit)
    return f"{candidate.value / float(unit.mm):.4f}" if candidate.mistake == "tenths-for-sixteenths" else text


def _plans(session: Session, case: PlanCase) -> list[tuple[str, Marked]]:
    return [(each.mistake, _marked(session, case, each)) for each in outcomes(case, session.unit)]


def _marked(session: Session, case: PlanCase, outcome: Outcome) -> Marked:
    """The mark of a mistake's plan, built where the task allows it; or of its result where no plan makes it."""
    plan = outcome.wrong.made()
    if plan is not None:
        try:
            session.adopt(plan)
            return session.check()
        except Fault:
            pass
    altered: Altered | None = None if plan is None else case.altered(plan)
    return mark_result(case, session.unit, outcome.after, plan, altered)


def _fault(where: str, name: str, marked: Marked) -> Fault:
    what = f"{name} is {'passed' if marked.passed else f'taken for {marked.mistake}'}"
    if marked.mistake is None and not marked.passed:
        what = f"an answer with the mistake {name} fails, and no mistake is named for it"
    return Fault(where, what, "name it in unnamed, or change the pattern or the tolerance")
