"""Marking a choice, and saying of what was chosen what it does to the pattern."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tutor.alteration.plan import Plan
from tutor.fit.mending import showing
from tutor.marking.choice import ChoiceCase, Weighed
from tutor.marking.diagnosis_words import shown_by
from tutor.marking.feedback import missed_words
from tutor.marking.figures import shown
from tutor.marking.mark import mark_plan
from tutor.marking.marked import GoalMark, Marked
from tutor.marking.mistake import PlanAnswer
from tutor.marking.recognise_plan import recognise_plan
from tutor.pattern.measures import words_for
from tutor.units import Unit

TOLD = 2
"""How many missed goals of one plan are told."""
MOST_FIGURES = 4


def mark_choice(case: ChoiceCase, unit: Unit, chosen: Sequence[str]) -> Marked:
    """The mark of the options chosen, by name. Raises ValueError when the right ones can't be worked out."""
    right = set(case.right)
    hits, slips = len(right & set(chosen)), [each for each in case.weighed if each.name in set(chosen) - right]
    total = max(hits - len(slips), 0) / max(len(right), 1)
    passed = total >= case.task.pass_mark - 1e-12
    if passed and total >= 1:
        feedback = tuple(filter(None, ["Right.", case.task.why]))
        return Marked((), total, case.task.pass_mark, passed, (), feedback, notes=option_notes(case, unit))
    said = [_found(case, hits, len(slips))] if case.task.pick == "all" else []
    mistake = None
    for each in slips:
        named = _mistake(case, unit, each)
        mistake = mistake or (None if named is None else named[0])
        said += [*_wrong(case, unit, each), *(() if named is None else named[1])]
    return Marked((), total, case.task.pass_mark, passed, (), tuple(said), mistake=mistake)


def option_notes(case: ChoiceCase, unit: Unit) -> tuple[str, ...]:
    """What each of the options does, in figures."""
    return tuple(_told(case, unit, each) for each in case.weighed)


def _found(case: ChoiceCase, hits: int, slips: int) -> str:
    """How many of the right ones were chosen, and how many besides; not which are missing."""
    said = f"You have {hits} of the {len(case.right)} that are right"
    return f"{said}, and {slips} that {'is' if slips == 1 else 'are'} not." if slips else f"{said}."


def _told(case: ChoiceCase, unit: Unit, each: Weighed) -> str:
    """One option's figures: "Crossed slashes: bicep girth 36.0 cm (+3.0 cm); cap seam 46.0 cm."."""
    if each.after is None:
        return f"{each.words}: {_refused(each, unit)}"
    if case.task.measures:
        return _moved(case, unit, each)
    figures = [_figure(case, unit, name, each.after[name]) for name in _measures(case) if name in each.after]
    return f"{each.words}: {'; '.join(figures)}."


def _measures(case: ChoiceCase) -> tuple[str, ...]:
    """What the options are told by: what decides, the goals' measures, and those watched."""
    names = (case.task.best, *(aim.measure for aim in case.aims), *case.task.watch)
    return tuple(dict.fromkeys(filter(None, names)))[:MOST_FIGURES]


def _figure(case: ChoiceCase, unit: Unit, name: str, figure: float) -> str:
    change = shown(name, figure - case.before.get(name, 0.0), unit, signed=True)
    moved = f" ({change})" if change.startswith(("+", "-")) else ""
    return f"{words_for(name)} {shown(name, figure, unit)}{moved}"


def _moved(case: ChoiceCase, unit: Unit, each: Weighed) -> str:
    assert each.after is not None
    before, after = case.before[each.name], each.after[each.name]
    size = shown(each.name, abs(after - before), unit)
    if size == shown(each.name, 0.0, unit):
        return f"The {each.words} stays as it is, {shown(each.name, before, unit)}."
    way = "grows" if after > before else "shrinks"
    if case.stays(each.name, after - before):
        return f"The {each.words} as good as stays: it {way} by {size}, from {shown(each.name, before, unit)}."
    return (
        f"The {each.words} {way} by {size}, from {shown(each.name, before, unit)} to {shown(each.name, after, unit)}."
    )


def _refused(each: Weighed, unit: Unit) -> str:
    return "paper can't do it." if each.refusal is None else f"paper can't do it: {each.refusal.words(unit)}."


def _wrong(case: ChoiceCase, unit: Unit, each: Weighed) -> Iterator[str]:
    """Why an option is wrong, by its own figures."""
    if each.after is None or case.task.measures:
        yield _told(case, unit, each)
        return
    yield from _left_off(case, unit, each)
    goals = _goals(case, unit, each)
    missed = sorted((goal for goal in goals if not goal.met), key=lambda goal: (not goal.must, goal.credit))
    kept = [goal.worst.words for goal in goals if goal.met and goal.kind not in ("sound", "balance")]
    if kept and missed:
        yield f"{each.words}: it does what is asked of {_listed(kept)}."
        yield from (missed_words(goal, case.before, unit) for goal in missed[:TOLD])
    elif missed:
        said = [missed_words(goal, case.before, unit) for goal in missed[:TOLD]]
        yield f"{each.words}: {' '.join(said)}"
    elif case.task.best and each.fits:
        yield _beaten(case, unit, each)


def _left_off(case: ChoiceCase, unit: Unit, each: Weighed) -> Iterator[str]:
    """What the signs show of one that does not mend what is off."""
    if case.misfit is None or each.after is None:
        return
    left = case.left_over(each.after)
    found = [shown_by(left, sign, unit) for sign in showing(left)]
    if found:
        yield f"{each.words}: afterwards something is off. {' '.join(found[:TOLD])}"


def _beaten(case: ChoiceCase, unit: Unit, each: Weighed) -> str:
    """Of one that would do, but is not the best."""
    of, more = case.task.best, "less" if case.task.least else "more"
    assert each.after is not None
    figure = shown(of, each.after[of], unit)
    return f"{each.words}: it would do, but leaves a {words_for(of)} of {figure}; another leaves {more}."


def _goals(case: ChoiceCase, unit: Unit, each: Weighed) -> tuple[GoalMark, ...]:
    plan_case = case.as_plan_case()
    if plan_case is None or each.after is None:
        return ()
    return mark_plan(plan_case.task, case.arm, unit, case.before, each.after).goals


def _mistake(case: ChoiceCase, unit: Unit, each: Weighed) -> tuple[str, tuple[str, ...]] | None:
    """The usual mistake that a wrongly chosen plan shows, and what is said of it."""
    plan_case, plan = case.as_plan_case(), case.plans.get(each.name)
    if plan_case is None or each.after is None or not isinstance(plan, Plan) or each.fits:
        return None
    named = recognise_plan(PlanAnswer(plan_case, unit, each.after, plan, case.altered(plan)))
    return None if named is None else (named.mistake, named.said)


def _listed(words: Sequence[str]) -> str:
    *most, last = dict.fromkeys(words)
    return f"{', '.join(most)} and {last}" if most else last
