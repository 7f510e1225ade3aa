"""A lesson tried out on itself: what a file can't show until its patterns are altered and marked."""

from __future__ import annotations

import difflib
import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tutor.alteration.amounts import means_used
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask
from tutor.lesson.variants import Variant
from tutor.marking.choice import ChoiceCase, Weighed
from tutor.marking.figures import bounds, shown
from tutor.marking.marked import GoalMark
from tutor.marking.named import RIGHT, Confusion
from tutor.marking.usual import MISTAKES
from tutor.pattern.measures import words_for
from tutor.practice.session import Session
from tutor.practice.telling import Told, tell
from tutor.practice.variants import UNITS, unfair, variant_of
from tutor.practice.worked import case_of
from tutor.units import Unit

NOTHING = Told((), (), ())
AS_IT_LIES = "the pattern meets these goals as it lies"
LIKE = 0.75
"""How like a name must be to what was written, 0 to 1, to be what was meant."""
LACKS = "ask for something that it lacks"
IN_UNIT = {Unit.CM: "in centimetres", Unit.INCH: "in inches"}


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
            troubles, tolds = dict[Unit, Fault | None](), dict[Unit, Told]()
            for unit in UNITS:
                troubles[unit], told = _proved(lesson, unit, number, variant)
                tolds[unit] = told
                confused.update((number, unit.value, pair) for pair in told.confused)
                passed |= set(told.passing)
            faults += _once(troubles, tolds, lesson.unit)
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
                near = difflib.get_close_matches(name, MISTAKES, 1, LIKE)
                right = f"did you mean {near[0]}?" if near else f"there are {', '.join(MISTAKES)}"
                yield Fault(where, f'"{name[:40]}" is no usual mistake', right)


def _once(troubles: Mapping[Unit, Fault | None], told: Mapping[Unit, Told], own: Unit) -> Iterator[Fault]:
    """The faults of a task: those that are there in every unit once, in the lesson's own, the others by their unit."""
    first = own if own in told else Unit.CM
    for unit in sorted(told, key=lambda unit: unit is not first):
        trouble = troubles[unit]
        if trouble is not None:
            # Its figures are those of the unit; it is the same one all the same.
            shared = all(troubles.values())
            yield from _one(trouble, "" if shared else IN_UNIT[unit], unit is first)
        for fault in told[unit].faults:
            shared = all(any(each.what == fault.what for each in other.faults) for other in told.values())
            yield from _one(fault, "" if shared else IN_UNIT[unit], unit is first)


def _one(fault: Fault, unit: str, is_first: bool) -> Iterator[Fault]:
    if unit:
        yield Fault(f"{fault.where}, {unit}", fault.what, fault.right)
    elif is_first:
        yield fault


def _remarks(lesson: Lesson, confused: Counter[tuple[int, str, Confusion]], patterns: int) -> Iterator[str]:
    """What can't be told apart, once where it is so in each unit as often."""
    signs = [unit.value for unit in UNITS]
    for (number, sign, pair), count in sorted(confused.items()):
        shared = all(confused.get((number, each, pair)) == count for each in signs)
        if shared and sign != signs[0]:
            continue
        times = f", on {count} of {patterns} patterns" if patterns > 1 else ""
        where = f"{lesson.name}: tasks {number}" + ("" if shared else f", {IN_UNIT[Unit(sign)]}")
        yield f"{where}: {_pair(pair)} can't be told apart{times}"


def _pair(pair: Confusion) -> str:
    """Two answers as they are called in a remark, the right one first."""
    mistakes = [name for name in (pair.first, pair.second) if name != RIGHT]
    return " and ".join([*(["the right answer"] if RIGHT in (pair.first, pair.second) else []), *mistakes])


def _passed(lesson: Lesson, passing: Counter[tuple[int, str]], patterns: int) -> Iterator[str]:
    """For each task the mistakes that pass, so that nobody is told of them, and on how many patterns they do."""
    for number in sorted({number for number, _ in passing}):
        counts = sorted((name, count) for (of, name), count in passing.items() if of == number)
        names = [name if count == patterns else f"{name} (on {count} of {patterns})" for name, count in counts]
        yield f"{lesson.name}: tasks {number}: the goals let these mistakes pass: {', '.join(names)}"


def _proved(lesson: Lesson, unit: Unit, number: int, variant: Variant | None) -> tuple[Fault | None, Told]:
    """What is wrong with a task, and what came of every mistake on it; sessions are fresh, so nothing is carried."""
    where = f"{lesson.name}: tasks {number}" + (f", variant {variant.seed}" if variant else "")
    try:
        what, right = _trouble(_session(lesson, unit, number, variant))
        # Where nothing is to change all mistakes come to the same.
        told = NOTHING if what == AS_IT_LIES else tell(_session(lesson, unit, number, variant), where)
    except Fault as reason:
        what = f"its worked solution can't be made: {Fault(reason.where, reason.what)}"
        return Fault(where, what, "mend the plan it names"), NOTHING
    return Fault(where, what, right) if what else None, told


def _session(lesson: Lesson, unit: Unit, number: int, variant: Variant | None) -> Session:
    session = Session(lesson, unit, variant=variant)
    session.go_to_task(number)
    return session


def _trouble(session: Session) -> tuple[str, str]:
    """What is wrong with the task at hand, and what would be right; two empty texts when nothing is."""
    task = session.task
    if isinstance(task, ChoiceTask | DiagnoseTask) and (trouble := session.choice_trouble):
        if isinstance(task, DiagnoseTask):
            return trouble, "change the cause, its amount, the suspects or the signs"
        return _unfair_choice(session, trouble)
    if not isinstance(task, PlanTask):
        marked = session.answer(session.right_answer())
        return ("", "") if marked.total >= 1 else ("its own answer does not get full marks", "widen the tolerance")
    untouched = session.check()
    met = bool(untouched.goals) and all(goal.met for goal in untouched.goals)
    if untouched.passed:
        return AS_IT_LIES if met else "the untouched pattern passes", LACKS
    solution = session.solution()
    assert solution.plan is not None
    missing = [means for means in means_used(solution.plan) if means not in task.may_use]
    if missing:
        named = " and ".join(f'"{means}"' for means in missing)
        what = f"its worked solution {task.solution} needs {named}, which the task does not allow"
        return what, f"add {named} to may-use, or take another plan"
    session.adopt(solution.plan)
    marked = session.check()
    if marked.refusal is not None:
        return f"paper refuses the worked solution: {marked.refusal}", "mend the plan it names"
    if marked.total < 1:
        if met:
            return AS_IT_LIES, LACKS
        what = f"the worked solution gets {100 * marked.total:.1f} of 100: "
        return what + _missed(marked.goals, session.unit), f"mend that goal, or the plan {task.solution}"
    return "", ""


def _missed(goals: Sequence[GoalMark], unit: Unit) -> str:
    """The goals that are not fully met, each with its figure and with what is wanted."""
    told = []
    for number, goal in enumerate(goals, 1):
        if not goal.met:
            part = goal.worst
            figure, within = shown(part.measure, part.figure, unit), shown(part.measure, part.tolerance, unit)
            wanted = f"wanted is {bounds(part.aim, unit)}, within {within}"
            told.append(f"goal {number}, {goal.kind}: the {part.words} is {figure}, {wanted}")
    return " and ".join(told)


def _unfair_choice(session: Session, trouble: str) -> tuple[str, str]:
    """Why a choice is no fair question, of plans with what each comes to, and what would be right."""
    case = case_of(session.lesson, session.task_number)
    assert isinstance(case, ChoiceCase)
    if case.task.measures:
        return trouble, "change the plan, or say in apart how far figures must differ"
    told = ", ".join(f"{each.name} {_come_to(case, each)}" for each in case.weighed)
    right = "change the plans or the goals"
    if case.task.best:
        right = "change the plans, or say in apart how far figures must differ"
    return f"{trouble}: {told}", right


def _come_to(case: ChoiceCase, each: Weighed) -> str:
    if each.refusal is not None or each.after is None:
        return "is refused by paper"
    missed = [aim for aim in case.aims if not abs(aim.off(each.after.get(aim.measure, math.inf))) <= aim.tolerance]
    if missed:
        names = " and ".join(dict.fromkeys(words_for(aim.measure) for aim in missed))
        return f"{'misses' if each.right is False else 'nearly meets'} the goal for {names}"
    return "is right" if each.right else "is a near thing" if each.right is None else "meets the goals"
