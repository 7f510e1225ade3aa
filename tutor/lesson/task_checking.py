"""Whether a task makes sense: its texts, its goals, the plans it names, what it goes on from."""

from __future__ import annotations

from tutor.lesson.choice_checking import check_choice
from tutor.lesson.diagnose_checking import check_diagnose
from tutor.lesson.figure_checking import check_amount, check_figure, check_goal, check_measures, check_solved
from tutor.lesson.figures import amount_named, measure_named
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlanTask, Task, goals_of, plan_asked_after
from tutor.lesson.word_checking import check_words
from tutor.pattern.cut_edge import AT_CUT_EDGE
from tutor.pattern.measures import MEASURES, Kind, kind_of
from tutor.toml_lines import Path


def check_task(lesson: Lesson, task: Task, path: Path, reader: Reader) -> None:
    """Notes every fault of a task."""
    _check_texts(lesson, task, path, reader)
    check_measures(task.watch, (*path, "watch"), reader)
    if not 0 < task.pass_mark <= 1:
        reader.fault((*path, "pass-mark"), "is no pass mark", "write a number above 0 and up to 1")
    _check_named(lesson, task.start, (*path, "start"), reader)
    _check_named(lesson, plan_asked_after(task), (*path, "after"), reader)
    for name in (task.start, plan_asked_after(task)):
        if name in lesson.plans and lesson.plans[name].goals_needed:
            needed = lesson.plans[name].goals_needed[0]
            what = f"the plan {name} has no figure of its own for {needed}"
            reader.fault(path, what, f'write for = {{ measure = "{needed}", ... }} in it')
    for number, goal in enumerate(goals_of(task)):
        check_goal(lesson, goal, (*path, "goals", number), reader)
    if isinstance(task, PlanTask):
        _check_plan(lesson, task, path, reader)
    elif isinstance(task, NumberTask):
        _check_number(lesson, task, path, reader)
    elif isinstance(task, ChoiceTask):
        check_choice(lesson, task, path, reader)
    elif isinstance(task, DiagnoseTask):
        check_diagnose(task, path, reader)
    elif not task.tolerance > 0:
        reader.fault((*path, "tolerance"), "is not above 0", "write how far along the edge is still right")


def _check_texts(lesson: Lesson, task: Task, path: Path, reader: Reader) -> None:
    texts: list[tuple[Path, str]] = [((*path, "title"), task.title), ((*path, "ask"), task.ask)]
    texts += [((*path, "hints", k), hint) for k, hint in enumerate(task.hints)]
    if not isinstance(task, PlanTask) and task.why:
        texts.append(((*path, "why"), task.why))
    if isinstance(task, ChoiceTask):
        texts += [((*path, "options", k, "title"), option.title) for k, option in enumerate(task.options)]
    for place, text in texts:
        check_words(lesson, text, place, reader, lambda words: _stand_in(lesson, task, words))


def _check_named(lesson: Lesson, name: str, path: Path, reader: Reader, *, needed: bool = False) -> None:
    """Whether a plan that is named is there."""
    if (name or needed) and name not in lesson.plans:
        there = ", ".join(lesson.plans) or "none"
        reader.fault(path, f'"{name}" is no plan of this lesson', f"there are {there}")


def _check_plan(lesson: Lesson, task: PlanTask, path: Path, reader: Reader) -> None:
    """Whether an alteration has goals, means, and a worked solution."""
    if not task.goals:
        reader.fault((*path, "goals"), "is empty", "write at least one goal")
    if not task.may_use:
        reader.fault((*path, "may-use"), "is empty", "write slashes, set-back or armhole")
    _check_named(lesson, task.solution, (*path, "solution"), reader, needed=True)
    check_solved(lesson, task.solution, task.goals, (*path, "solution"), reader)


def _check_number(lesson: Lesson, task: NumberTask, path: Path, reader: Reader) -> None:
    """Whether a number task asks for one figure, and for one that there is."""
    if (task.wanted is None) == (not task.of):
        what = "asks for two figures" if task.of else "asks for no figure"
        reader.fault((*path, "of"), what, "name a measure in of, or a figure in wanted")
    elif task.wanted is None:
        check_measures([task.of], (*path, "of"), reader)
    else:
        check_figure(lesson, task.wanted, (*path, "wanted"), reader)
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
        check_amount(task.measure, task.tolerance, (*path, "tolerance"), reader)


def _stand_in(lesson: Lesson, task: Task, words: str) -> float | str | None:
    """Some figure for words that name a measure or an amount, when this task has such a one."""
    named = measure_named(words)
    if named is None:
        return amount_named(words, lesson.plans, task)
    plan_known = plan_asked_after(task)
    return 0.0 if kind_of(named[0]) is Kind.LENGTH and (named[1] == "before" or plan_known) else None


def check_goes_on(lesson: Lesson, number: int, path: Path, reader: Reader) -> None:
    """Whether a task goes on from an earlier one that leaves a pattern, and as that one starts."""
    task = lesson.tasks[number]
    earlier = task.goes_on_from
    if task.tells_plan and not (earlier and plan_asked_after(task)):
        what = "there is no alteration of an earlier task to tell"
        reader.fault((*path, "tells-plan"), what, "leave it out, or give goes-on-from and after")
    if not earlier:
        return
    if isinstance(task, DiagnoseTask):
        reader.fault(
            (*path, "goes-on-from"), "goes with no diagnosis", "leave it out; start names a plan to start from"
        )
        return
    before = lesson.tasks[earlier - 1] if 1 <= earlier <= number else None
    if isinstance(before, NumberTask) and before.wanted is not None and before.wanted.arm_and_ease:
        return
    if not isinstance(before, PlanTask):
        what = f"task {earlier} is no task before this one that alters the pattern, or asks for the arm with its ease"
        reader.fault((*path, "goes-on-from"), what, "give the number of one, counted from 1")
    elif _asks_about(task) and not (plan_asked_after(task) and task.start == before.start):
        what = "asks for no figure after an alteration of the same pattern"
        reader.fault((*path, "goes-on-from"), what, "name its worked plan in after, and give both tasks the same start")
    elif not _asks_about(task) and not task.start:
        # Where the learner's own work can't be gone on from, or there is none, this is what it starts from.
        what = f"goes on from task {earlier}, and names no plan to start from where that was not done"
        reader.fault((*path, "start"), what, f'write start = "{before.solution}", which has figures of its own')


def _asks_about(task: Task) -> bool:
    """Whether a task asks what an alteration comes to, and not what to do with its result."""
    return isinstance(task, NumberTask) or (isinstance(task, ChoiceTask) and not task.options)
