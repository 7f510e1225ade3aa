"""Whether measures, figures and goals of a lesson make sense: names that exist, figures that can be."""

from __future__ import annotations

from collections.abc import Iterable

from tutor.lesson.amount import Amount
from tutor.lesson.goal import AtLeast, AtMost, Balance, Figure, Goal, Keep, Reach
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.word_checking import check_words
from tutor.pattern.measures import MEASURES, Kind, kind_of
from tutor.toml_lines import Path

GREATEST_WEIGHT = 1000


def check_measures(names: Iterable[str], path: Path, reader: Reader) -> None:
    """Notes every name that is no measure's."""
    for name in names:
        reader.known_measure(name, path)


def check_figure(lesson: Lesson, figure: Figure, path: Path, reader: Reader) -> None:
    """Notes what is wrong with a figure: of no measure, of none or several kinds, or in another unit."""
    if figure.measure not in MEASURES:
        check_measures([figure.measure], (*path, "measure"), reader)
        return
    given = sum(each is not None for each in (figure.value, figure.change, figure.around)) + figure.arm_and_ease
    if given != 1:
        reader.fault(path, f"gives {given or 'no'} figures", "give one of value, change, arm-and-ease and around")
    if figure.goes_by_arm:
        _check_by_arm(lesson, figure, path, reader)
    for key, extra, of in (("plus", figure.plus, figure.around), ("stretched", figure.stretched, figure.goes_by_arm)):
        if extra and not of:
            reader.fault((*path, key), "goes with a girth of the arm alone", "write around, or leave it out")
    for key, amount in (("value", figure.value), ("change", figure.change)):
        if amount is not None:
            check_amount(figure.measure, amount, (*path, key), reader)


def _check_by_arm(lesson: Lesson, figure: Figure, path: Path, reader: Reader) -> None:
    """Whether the measure is a girth, and the arm has what the figure goes by."""
    key = "arm-and-ease" if figure.arm_and_ease else "around"
    if kind_of(figure.measure) is not Kind.LENGTH:
        reader.fault((*path, key), f"{figure.measure} counts in {kind_of(figure.measure).value}", "write value")
    if figure.around is not None and lesson.arm.around(figure.around) is None:
        reader.fault((*path, key), f"[arm] gives no {figure.around}", f"write its girth under [arm], {figure.around}")
    if figure.stretched and not lesson.arm.stretch:
        reader.fault((*path, "stretched"), "[arm] gives no stretch", "write it under [arm], in per cent")


def check_amount(measure_name: str, amount: Amount, path: Path, reader: Reader) -> None:
    """Notes an amount in another unit than the measure counts in."""
    try:
        amount.of(measure_name)
    except ValueError as error:
        reader.fault(path, str(error))


def check_goal(lesson: Lesson, goal: Goal, path: Path, reader: Reader) -> None:
    """Notes every fault of a goal: its words, weight, figure, tolerances and bands."""
    if goal.why:
        check_words(lesson, goal.why, (*path, "why"), reader)
    if not 0 < goal.weight <= GREATEST_WEIGHT:
        right = f"write how much the goal counts, up to {GREATEST_WEIGHT}"
        reader.fault((*path, "weight"), "is not above 0" if goal.weight <= 0 else "is too much", right)
    if isinstance(goal, Reach | AtMost | AtLeast):
        check_figure(lesson, goal, path, reader)
    elif isinstance(goal, Keep):
        check_measures([goal.measure], (*path, "measure"), reader)
    if isinstance(goal, Reach | AtMost | AtLeast | Keep) and goal.measure in MEASURES:
        check_amount(goal.measure, goal.tolerance, (*path, "tolerance"), reader)
    if isinstance(goal, Balance):
        for key, band in (("ease-front", goal.ease_front), ("ease-back", goal.ease_back)):
            if not band[0] < band[1]:
                reader.fault((*path, key), "is no band", "write [low, high]")
    for key in ("tolerance", "notches", "seams"):
        amount = getattr(goal, key, None)
        if amount is not None and not amount > 0:
            reader.fault((*path, key), "is not above 0", "write how far off is still right")


def aimed(goal: Goal) -> tuple[str, ...]:
    if isinstance(goal, Balance):
        return "cap-ease-front", "cap-ease-back"
    return (goal.measure,) if isinstance(goal, Reach | AtMost | AtLeast | Keep) else ()


def check_solved(lesson: Lesson, plan: str, goals: Iterable[Goal], path: Path, reader: Reader) -> None:
    """Whether goals give a figure for everything that a plan of the lesson is solved for."""
    recipe = lesson.plans.get(plan)
    given = {aim for goal in goals for aim in aimed(goal)}
    for name in () if recipe is None else recipe.goals_needed:
        if name not in given:
            what = f"the plan is solved for {name}, and no goal of this task gives a figure for it"
            reader.fault(path, what, "write that figure in the plan, or a goal")
