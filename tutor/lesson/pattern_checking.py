"""Whether a lesson holds on its patterns: they can be made, cut, and have the measures that tasks are about."""

from __future__ import annotations

from collections.abc import Mapping

from tutor.alteration.cutting import cut_paper
from tutor.alteration.outline import lower_part, whole
from tutor.alteration.plan import Landmark
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.diagnose_checking import check_complaints
from tutor.lesson.figure_checking import aimed
from tutor.lesson.lesson import Lesson, block_of, starting_pattern
from tutor.lesson.recipe import Recipe
from tutor.lesson.starting import start_measures
from tutor.lesson.strict import Reader
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, Task, goals_of
from tutor.pattern.pattern import Pattern
from tutor.toml_lines import Path


def check_patterns(lesson: Lesson, reader: Reader) -> None:
    """Whether the block can be drafted, the starting patterns made, and the slashes of every plan cut."""
    block = check_block(lesson, reader)
    if block is None:
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
        if isinstance(task, PlaceTask):
            _check_place(task, pattern, path, reader)
        if isinstance(task, DiagnoseTask):
            check_complaints(task, pattern.sleeve, path, reader)
        _check_known(task, start_measures(pattern, lesson.arm.girth), path, reader)
    for name, recipe in lesson.plans.items():
        _check_cuts(recipe, tuple(starts.values()), ("plans", name), reader)


def check_block(lesson: Lesson, reader: Reader) -> Pattern | None:
    """The block, drafted; None when it can't be, which is told."""
    try:
        return block_of(lesson)
    except Fault as fault:
        key = fault.where.replace("_", "-")
        reader.fault(("block", key) if key in _keys(lesson) else ("block",), fault.what, fault.right)
        return None


def _check_place(task: PlaceTask, pattern: Pattern, path: Path, reader: Reader) -> None:
    """Whether the pattern has the place that is asked for."""
    outline = whole(pattern.sleeve)
    try:
        outline.spot(task.place.place, "")
    except Refusal:
        named = task.place.place
        what = named.name if isinstance(named, Landmark) else "that place"
        known = ", ".join([*outline.spots, *(mark.name for mark in outline.marks)])
        reader.fault((*path, "place"), f"this pattern has no {what}", f"there are {known}")


def _keys(lesson: Lesson) -> tuple[str, ...]:
    return tuple(field.replace("_", "-") for field in lesson.block.__struct_fields__)


def _check_known(task: Task, known: Mapping[str, float], path: Path, reader: Reader) -> None:
    """Whether the pattern has the measures that a task is about."""
    if isinstance(task, ChoiceTask):
        for name in (task.best, *task.measures):
            if name and name not in known:
                reader.fault((*path, "measures" if task.measures else "options"), f"this pattern has no {name}")
    if isinstance(task, NumberTask):
        if task.measure not in known and not (task.wanted is not None and task.asks == "value"):
            reader.fault((*path, "of"), f"this pattern has no {task.measure}")
        return
    for number, goal in enumerate(goals_of(task)):
        for name in aimed(goal):
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
