"""A lesson tried out on itself: what a file can't show until its patterns are altered and marked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask
from tutor.lesson.variants import Variant
from tutor.marking.named import Confusion
from tutor.marking.usual import MISTAKES
from tutor.practice.session import Session
from tutor.practice.telling import Told, tell
from tutor.practice.variants import UNITS, unfair, variant_of
from tutor.units import Unit


@dataclass(frozen=True, slots=True)
class Proof:
    """What doesn't hold of a lesson, each fault once; and as ``remarks`` what its tasks can't tell apart."""

    faults: tuple[Fault, ...]
    remarks: tuple[str, ...]


def prove(lesson: Lesson, seeds: int = 0, went_on: Callable[[str], None] = lambda what: None) -> Proof:
    """A lesson tried out as written, and in so many variants, in centimetres and in inches.

    Every task must have an answer: the worked solution gets full marks, the untouched pattern is not passed, and a
    number's own figure, typed as it is shown, is right. Every usual mistake, made on purpose, must be the one that is
    named, unless it can't be told from another. In variants it is remarked as well which mistakes pass. ``went_on`` is
    told of each variant that has been looked at.
    """
    faults = [*_unknown(lesson)]
    confused: Counter[tuple[int, str, Confusion]] = Counter()
    passing: Counter[tuple[int, str]] = Counter()
    # Variants of what is no fair question as written would be drawn in vain.
    wanted = [None, *range(0 if _is_unfair(lesson) else seeds)]
    patterns = 0
    # Each is tried out as soon as it is drawn, while what was worked out to draw it is at hand.
    for seed in wanted:
        try:
            variant = None if seed is None else variant_of(lesson, seed)
        except Fault as fault:
            faults.append(fault)
            went_on(f"{lesson.name}, variant {seed} can't be drawn")
            continue
        patterns += 1
        for number in range(1, len(lesson.tasks) + 1):
            passed = set[str]()
            for unit in UNITS:
                own, told = _proved(lesson, unit, number, variant)
                faults += own
                confused.update((number, unit.value, pair) for pair in told.confused)
                passed |= set(told.passing)
            passing.update((number, name) for name in passed)
        went_on(f"{lesson.name}, {'as written' if variant is None else f'variant {variant.seed}'}")
    once = {str(fault): fault for fault in faults}
    remarks = [*_remarks(lesson, confused, patterns), *(_passed(lesson, passing, patterns) if seeds else ())]
    return Proof(tuple(once.values()), tuple(remarks))


def _is_unfair(lesson: Lesson) -> bool:
    """Whether a choice of the lesson as written has no clear answer; what can't be worked out is told elsewhere."""
    try:
        return any(unfair(lesson, number) for number in range(1, len(lesson.tasks) + 1))
    except (Fault, Refusal, ValueError):
        return False


def _unknown(lesson: Lesson) -> Iterator[Fault]:
    """Names in ``unnamed`` that are no usual mistakes."""
    for number, task in enumerate(lesson.tasks, 1):
        for name in task.unnamed:
            if name not in MISTAKES:
                where = f"{lesson.name}: tasks {number}, unnamed"
                yield Fault(where, f'"{name[:40]}" is no usual mistake', f"there are {', '.join(MISTAKES)}")


def _remarks(lesson: Lesson, confused: Counter[tuple[int, str, Confusion]], patterns: int) -> Iterator[str]:
    for (number, unit, pair), count in sorted(confused.items()):
        times = f", on {count} of {patterns} patterns" if patterns > 1 else ""
        where = f"{lesson.name}: tasks {number}, in {unit}"
        yield f"{where}: {pair.first} and {pair.second} can't be told apart{times}"


def _passed(lesson: Lesson, passing: Counter[tuple[int, str]], patterns: int) -> Iterator[str]:
    """For each task the mistakes that pass, so that nobody is told of them, and on how many patterns they do."""
    for number in sorted({number for number, _ in passing}):
        counts = sorted((name, count) for (of, name), count in passing.items() if of == number)
        names = [name if count == patterns else f"{name} (on {count} of {patterns})" for name, count in counts]
        yield f"{lesson.name}: tasks {number}: the goals let these mistakes pass: {', '.join(names)}"


def _proved(lesson: Lesson, unit: Unit, number: int, variant: Variant | None) -> tuple[list[Fault], Told]:
    """The faults of one task, and what came of every mistake made on it; sessions are fresh, so nothing is carried."""
    where = f"{lesson.name}: tasks {number}, in {unit.value}" + (f", variant {variant.seed}" if variant else "")
    try:
        what, right = _trouble(_session(lesson, unit, number, variant))
        told = tell(_session(lesson, unit, number, variant), where)
    except Fault as reason:
        right = "mend the plan it names"
        return [Fault(where, f"its worked solution can't be made: {reason}", right)], Told((), (), ())
    return [*([Fault(where, what, right)] if what else []), *told.faults], told


def _session(lesson: Lesson, unit: Unit, number: int, variant: Variant | None) -> Session:
    session = Session(lesson, unit, variant=variant)
    session.go_to_task(number)
    return session


def _trouble(session: Session) -> tuple[str, str]:
    """What is wrong with the task at hand, and what would be right; two empty texts when nothing is."""
    if isinstance(session.task, ChoiceTask | DiagnoseTask):
        trouble = session.choice_trouble
        if trouble and isinstance(session.task, DiagnoseTask):
            return trouble, "change the cause, its amount, the suspects or the signs"
        if trouble:
            return trouble, "change the plans, or say in apart how far figures must differ"
    if not isinstance(session.task, PlanTask):
        marked = session.answer(session.right_answer())
        return ("", "") if marked.total >= 1 else ("its own answer does not get full marks", "widen the tolerance")
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
