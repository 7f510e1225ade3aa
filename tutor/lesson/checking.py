"""What a lesson file must make sense of, beyond having the right keys: names that exist, figures that can be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tutor.alteration.cutting import cut_paper
from tutor.alteration.outline import lower_part, whole
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.amount import Amount
from tutor.lesson.figures import amount_named, measure_named
from tutor.lesson.goal import AtLeast, AtMost, Balance, Figure, Goal, Keep, Reach
from tutor.lesson.lesson import Lesson, block_of, starting_pattern
from tutor.lesson.recipe import Recipe
from tutor.lesson.setting import PARTS
from tutor.lesson.strict import Reader
from tutor.lesson.task import NumberTask, PlanTask, Task
from tutor.lesson.toml_lines import Path
from tutor.lesson.wording import Figures, worded
from tutor.lesson.written import goal_figures, plan_figures
from tutor.pattern.cut_edge import AT_CUT_EDGE
from tutor.pattern.measures import MEASURES, Kind, kind_of, measure
from tutor.pattern.pattern import Pattern

MOST_WORDS = 60
GREATEST_NUMBER = 9999
KEPT_NAMES = {"arm", "block", "goal", "half"}
"""What texts and variants call something else by."""
GREATEST_WEIGHT = 1000
MOST_STRETCH = 200
AFTERWARDS = {"bust-gain": 0.0}
"""Measures of an alteration that a pattern by itself does not have, and what they are before one."""


def start_measures(pattern: Pattern, arm_girth: float) -> dict[str, float]:
    """What a task's measures are before anything is done."""
    return measure(pattern, arm_girth) | AFTERWARDS


def check(lesson: Lesson, reader: Reader, tried: bool = True) -> None:
    """Notes every fault of a lesson whose keys are right; with ``tried`` those that show only on the pattern too."""
    _check_texts(lesson, reader)
    _check_measures(lesson.watch, ("watch",), reader)
    if not lesson.tasks:
        reader.fault(("tasks",), "is empty", "write at least one task")
    for key, number in (("number", lesson.number), ("version", lesson.version)):
        if not 1 <= number <= GREATEST_NUMBER:
            reader.fault((key,), "is no number of a lesson", f"write 1 to {GREATEST_NUMBER}")
    for place, number in enumerate(lesson.after):
        if not 1 <= number <= GREATEST_NUMBER or number == lesson.number:
            reader.fault(("after", place), "is no other lesson's number", f"write one of 1 to {GREATEST_NUMBER}")
    _check_arm(lesson, reader)
    for name, recipe in lesson.plans.items():
        _check_recipe(lesson, recipe, ("plans", name), reader)
    for number, task in enumerate(lesson.tasks):
        _check_task(lesson, task, ("tasks", number), reader)
        _check_goes_on(lesson, number, ("tasks", number), reader)
    _check_vary(lesson, reader)
    if tried and not reader.faults:
        _check_patterns(lesson, reader)


def _check_arm(lesson: Lesson, reader: Reader) -> None:
    arm = lesson.arm
    if not 80 <= arm.girth <= 1000:
        reader.fault(("arm", "girth"), "is no arm", "write 8 to 100 cm")
    elif arm.with_ease <= 0:
        reader.fault(("arm", "wearing-ease"), "leaves nothing of the arm", "write what the sleeve is larger or smaller")
    for part in PARTS[1:]:
        girth = arm.around(part)
        if girth is not None and not 50 <= girth <= 1000:
            reader.fault(("arm", part), f"is no {part}", "write 5 to 100 cm")
    if arm.stretch is not None and not 0 < arm.stretch <= MOST_STRETCH:
        reader.fault(("arm", "stretch"), "is no stretch of a cloth", f"write per cent, up to {MOST_STRETCH}")


def _check_texts(lesson: Lesson, reader: Reader) -> None:
    if not lesson.title.strip():
        reader.fault(("title",), "is empty", "write the lesson's title")
    if not lesson.brief:
        reader.fault(("brief",), "is empty", "write at least one paragraph")
    for key, texts in (("brief", lesson.brief), ("cautions", lesson.cautions)):
        for number, text in enumerate(texts):
            _check_words(lesson, text, (key, number), reader)


def _check_words(lesson: Lesson, text: str, path: Path, reader: Reader, figures: Figures | None = None) -> None:
    count = len(text.split())
    if not count:
        reader.fault(path, "is empty", "write a text or leave it out")
    if count > MOST_WORDS:
        reader.fault(path, f"has {count} words", f"write at most {MOST_WORDS}, so that it fits beside the pattern")
    try:
        worded(text, lesson.arm, lesson.unit, figures)
    except Fault as fault:
        reader.fault(path, fault.what, fault.right)


def _check_measures(names: Iterable[str], path: Path, reader: Reader) -> None:
    for name in names:
        reader.known_measure(name, path)


def _check_recipe(lesson: Lesson, recipe: Recipe, path: Path, reader: Reader) -> None:
    for sought in recipe.sought:
        if sought.figure is not None:
            _check_figure(lesson, sought.figure, path, reader)


def _check_figure(lesson: Lesson, figure: Figure, path: Path, reader: Reader) -> None:
    if figure.measure not in MEASURES:
        _check_measures([figure.measure], (*path, "measure"), reader)
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
            _check_amount(figure.measure, amount, (*path, key), reader)


def _check_by_arm(lesson: Lesson, figure: Figure, path: Path, reader: Reader) -> None:
    """Whether the measure is a girth, and the arm has what the figure goes by."""
    key = "arm-and-ease" if figure.arm_and_ease else "around"
    if kind_of(figure.measure) is not Kind.LENGTH:
        reader.fault((*path, key), f"{figure.measure} counts in {kind_of(figure.measure).value}", "write value")
    if figure.around is not None and lesson.arm.around(figure.around) is None:
        reader.fault((*path, key), f"[arm] gives no {figure.around}", f"write its girth under [arm], {figure.around}")
    if figure.stretched and not lesson.arm.stretch:
        reader.fault((*path, "stretched"), "[arm] gives no stretch", "write it under [arm], in per cent")


def _check_amount(measure_name: str, amount: Amount, path: Path, reader: Reader) -> None:
    try:
        amount.of(measure_name)
    except ValueError as error:
        reader.fault(path, str(error))


def _check_goal(lesson: Lesson, goal: Goal, path: Path, reader: Reader) -> None:
    if goal.why:
        _check_words(lesson, goal.why, (*path, "why"), reader)
    if not 0 < goal.weight <= GREATEST_WEIGHT:
        right = f"write how much the goal counts, up to {GREATEST_WEIGHT}"
        reader.fault((*path, "weight"), "is not above 0" if goal.weight <= 0 else "is too much", right)
    if isinstance(goal, Reach | AtMost | AtLeast):
        _check_figure(lesson, goal, path, reader)
    elif isinstance(goal, Keep):
        _check_measures([goal.measure], (*path, "measure"), reader)
    if isinstance(goal, Reach | AtMost | AtLeast | Keep) and goal.measure in MEASURES:
        _check_amount(goal.measure, goal.tolerance, (*path, "tolerance"), reader)
    if isinstance(goal, Balance):
        for key, band in (("ease-front", goal.ease_front), ("ease-back", goal.ease_back)):
            if not band[0] < band[1]:
                reader.fault((*path, key), "is no band", "write [low, high]")
    for key in ("tolerance", "notches", "seams"):
        amount = getattr(goal, key, None)
        if amount is not None and not amount > 0:
            reader.fault((*path, key), "is not above 0", "write how far off is still right")


def _check_task(lesson: Lesson, task: Task, path: Path, reader: Reader) -> None:
    texts: list[tuple[Path, str]] = [((*path, "title"), task.title), ((*path, "ask"), task.ask)]
    texts += [((*path, "hints", k), hint) for k, hint in enumerate(task.hints)]
    if isinstance(task, NumberTask) and task.why:
        texts.append(((*path, "why"), task.why))
    for place, text in texts:
        _check_words(lesson, text, place, reader, lambda words: _stand_in(lesson, task, words))
    _check_measures(task.watch, (*path, "watch"), reader)
    if not 0 < task.pass_mark <= 1:
        reader.fault((*path, "pass-mark"), "is no pass mark", "write a number above 0 and up to 1")
    references = {"start": task.start}
    for name in (task.start, "" if isinstance(task, PlanTask) else task.after):
        if name in lesson.plans and lesson.plans[name].goals_needed:
            needed = lesson.plans[name].goals_needed[0]
            what = f"the plan {name} has no figure of its own for {needed}"
            reader.fault(path, what, f'write for = {{ measure = "{needed}", ... }} in it')
    if isinstance(task, PlanTask):
        references["solution"] = task.solution
        if not task.goals:
            reader.fault((*path, "goals"), "is empty", "write at least one goal")
        if not task.may_use:
            reader.fault((*path, "may-use"), "is empty", "write slashes, set-back or armhole")
        for number, goal in enumerate(task.goals):
            _check_goal(lesson, goal, (*path, "goals", number), reader)
        _check_solution(lesson, task, path, reader)
    else:
        references["after"] = task.after
        _check_number(lesson, task, path, reader)
    for key, name in references.items():
        if (name or key == "solution") and name not in lesson.plans:
            there = ", ".join(lesson.plans) or "none"
            reader.fault((*path, key), f'"{name}" is no plan of this lesson', f"there are {there}")


def _check_number(lesson: Lesson, task: NumberTask, path: Path, reader: Reader) -> None:
    """Whether a number task asks for one figure, and for one that there is."""
    if (task.wanted is None) == (not task.of):
        what = "asks for two figures" if task.of else "asks for no figure"
        reader.fault((*path, "of"), what, "name a measure in of, or a figure in wanted")
    elif task.wanted is None:
        _check_measures([task.of], (*path, "of"), reader)
    else:
        _check_figure(lesson, task.wanted, (*path, "wanted"), reader)
    if task.wanted is not None and (task.after or task.edge == "cut"):
        key = "after" if task.after else "edge"
        reader.fault((*path, key), "goes with a measure, not with a wanted figure", "leave one of them out")
    if task.edge == "cut" and task.of in MEASURES and task.of not in AT_CUT_EDGE:
        right = f"there are {', '.join(AT_CUT_EDGE)}"
        reader.fault((*path, "edge"), f"{task.of} can't be measured at the cut edge", right)
    if task.asks == "change" and not task.after and task.wanted is None and task.edge == "seam":
        reader.fault((*path, "asks"), "asks for a change, but of no plan", "name the plan in after")
    if not task.tolerance > 0:
        reader.fault((*path, "tolerance"), "is not above 0", "write how far off is still right")
    elif task.measure in MEASURES:
        _check_amount(task.measure, task.tolerance, (*path, "tolerance"), reader)


def _stand_in(lesson: Lesson, task: Task, words: str) -> float | str | None:
    """Some figure for words that name a measure or an amount, when this task has such a one."""
    named = measure_named(words)
    if named is None:
        return amount_named(words, lesson.plans, task)
    plan_known = isinstance(task, NumberTask) and task.after
    return 0.0 if kind_of(named[0]) is Kind.LENGTH and (named[1] == "before" or plan_known) else None


def _check_goes_on(lesson: Lesson, number: int, path: Path, reader: Reader) -> None:
    """Whether a task goes on from an earlier one that leaves a pattern, and as that one starts."""
    task = lesson.tasks[number]
    earlier = task.goes_on_from
    if not earlier:
        return
    if not 1 <= earlier <= number or not isinstance(lesson.tasks[earlier - 1], PlanTask):
        what = f"task {earlier} is no task before this one that alters the pattern"
        reader.fault((*path, "goes-on-from"), what, "give the number of one, counted from 1")
    elif isinstance(task, NumberTask) and not (task.after and task.start == lesson.tasks[earlier - 1].start):
        what = "asks for no figure after an alteration of the same pattern"
        reader.fault((*path, "goes-on-from"), what, "name its worked plan in after, and give both tasks the same start")


def _check_vary(lesson: Lesson, reader: Reader) -> None:
    """Whether spans run upwards and plans are there."""
    for field in lesson.vary.__struct_fields__:
        span = getattr(lesson.vary, field)
        if isinstance(span, tuple) and not span[0] <= span[1]:
            reader.fault(("vary", field.replace("_", "-")), "is no span", "write [low, high]")
    for name in lesson.vary.plans:
        if name not in lesson.plans:
            there = ", ".join(lesson.plans) or "none"
            reader.fault(("vary", "plans", name), "is no plan of this lesson", f"there are {there}")
    written = {of for task in lesson.tasks for _, of, _ in goal_figures(task)}
    written |= {of for recipe in lesson.plans.values() for _, of, _ in plan_figures(recipe)}
    for name in lesson.vary.goals:
        if name not in written:
            there = ", ".join(sorted(written)) or "none"
            reader.fault(("vary", "goals", name), "no figure is written for this measure", f"there are {there}")
    for key, spans in (("plans", lesson.vary.plans), ("goals", lesson.vary.goals)):
        for name, span in spans.items():
            if not 0 < span[0] <= span[1]:
                reader.fault(("vary", key, name), "is no span", "write [low, high], factors above 0")
    for name in KEPT_NAMES & lesson.plans.keys():
        reader.fault(("plans", name), "is no name for a plan", f"{', '.join(sorted(KEPT_NAMES))} mean something else")


def _check_solution(lesson: Lesson, task: PlanTask, path: Path, reader: Reader) -> None:
    """Whether a figure is wanted for everything the solution is solved for."""
    recipe = lesson.plans.get(task.solution)
    if recipe is None:
        return
    given = {aim for goal in task.goals for aim in _aimed(goal)}
    for name in recipe.goals_needed:
        if name not in given:
            what = f"the plan is solved for {name}, and no goal of this task gives a figure for it"
            reader.fault((*path, "solution"), what, "write that figure in the plan, or a goal")


def _aimed(goal: Goal) -> tuple[str, ...]:
    if isinstance(goal, Balance):
        return "cap-ease-front", "cap-ease-back"
    return (goal.measure,) if isinstance(goal, Reach | AtMost | AtLeast | Keep) else ()


def _check_patterns(lesson: Lesson, reader: Reader) -> None:
    """Whether the block can be drafted, the starting patterns made, and the slashes of every plan cut."""
    try:
        block = block_of(lesson)
    except Fault as fault:
        key = fault.where.replace("_", "-")
        reader.fault(("block", key) if key in _keys(lesson) else ("block",), fault.what, fault.right)
        return
    starts: Mapping[str, Pattern] = {"": block}
    for number, task in enumerate(lesson.tasks):
        path: Path = ("tasks", number)
        try:
            pattern = starting_pattern(lesson, task)
        except (Fault, Refusal, ValueError) as reason:
            reader.fault((*path, "start"), f"the plan can't be made: {reason}")
            continue
        starts = {**starts, task.start: pattern}
        _check_known(task, start_measures(pattern, lesson.arm.girth), path, reader)
    for name, recipe in lesson.plans.items():
        _check_cuts(recipe, tuple(starts.values()), ("plans", name), reader)


def _keys(lesson: Lesson) -> tuple[str, ...]:
    return tuple(field.replace("_", "-") for field in lesson.block.__struct_fields__)


def _check_known(task: Task, known: Mapping[str, float], path: Path, reader: Reader) -> None:
    """Whether the pattern has the measures that a task is about."""
    if isinstance(task, NumberTask):
        if task.measure not in known and not (task.wanted is not None and task.asks == "value"):
            reader.fault((*path, "of"), f"this pattern has no {task.measure}")
        return
    for number, goal in enumerate(task.goals):
        for name in _aimed(goal):
            if name not in known:
                reader.fault((*path, "goals", number), f"this pattern has no {name}")


def _check_cuts(recipe: Recipe, patterns: tuple[Pattern, ...], path: Path, reader: Reader) -> None:
    """Whether the slashes can be cut on one of the patterns at least."""
    trouble: list[str] = []
    for pattern in patterns:
        outline = (lower_part if recipe.plan.set_back else whole)(pattern.sleeve)
        try:
            cut_paper(outline, recipe.plan.slashes)
        except Refusal as refusal:
            trouble.append(str(refusal))
        else:
            return
    reader.fault((*path, "slash"), trouble[0])
