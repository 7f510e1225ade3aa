"""Whether a diagnosis makes sense: causes and signs that there are, folds that have several causes, signs that tell."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Sequence

from tutor.fit.causes import CAUSES
from tutor.fit.diagnosis import Complaint
from tutor.fit.look import Look
from tutor.fit.signs import ELBOW, SIGNS
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.task import DiagnoseTask
from tutor.pattern.sleeve import Sleeve, level_of
from tutor.toml_lines import Path
from tutor.units import format_length

FEWEST, MOST = 2, 8
GREATEST = 100.0
"""mm; no sleeve that anybody would put on is farther off."""
LONGEST_NAME = 40
SAME = 0.5
"""mm; variants are drawn in whole ones."""


def check_diagnose(task: DiagnoseTask, path: Path, reader: Reader) -> None:
    """Notes every fault of a diagnosis that shows without its pattern."""
    for key, causes in (("cause", (task.cause,)), ("instead", task.instead), ("suspects", task.suspects)):
        _check_names(causes, CAUSES, "cause", (*path, key), reader)
    _check_names(task.signs, SIGNS, "sign", (*path, "signs"), reader)
    if not 0 < task.amount <= GREATEST:
        reader.fault((*path, "amount"), "is not what a sleeve is off by", "write above 0, up to 10 cm")
    if task.cause in task.instead:
        reader.fault((*path, "instead"), f"has {task.cause}, which is the cause as written", "leave it out there")
    missing = [cause for cause in task.causes if cause in CAUSES and cause not in task.suspects]
    if missing:
        reader.fault((*path, "suspects"), f"lacks {missing[0]}, which can be the cause", "write it there as well")
    if not FEWEST <= len(task.suspects) <= MOST:
        reader.fault((*path, "suspects"), f"has {len(task.suspects)} causes", f"write {FEWEST} to {MOST}")


def _check_names(names: Sequence[str], known: Collection[str], what: str, path: Path, reader: Reader) -> None:
    for name in names:
        if name not in known:
            near = difflib.get_close_matches(name, known, 3, 0.4)
            right = f"there is {' or '.join(near)}" if near else f"there are {', '.join(known)}"
            reader.fault(path, f'"{name[:LONGEST_NAME]}" is no {what}', right)
    for name in sorted({name for name in names if names.count(name) > 1}):
        reader.fault(path, f"has {name[:LONGEST_NAME]} more than once", "write each once")


def check_complaints(task: DiagnoseTask, sleeve: Sleeve, path: Path, reader: Reader) -> None:
    """Whether every cause that a variant can draw makes a fair question on the sleeve."""
    if level_of(sleeve, ELBOW) is None and _needs_elbow(task, path, reader):
        return
    # Looks go by cause, sleeve and amount, so that each is worked out once for all that a variant can draw.
    looks: dict[str, Look | None] = {}
    for cause in task.causes:
        trouble = complaint_trouble(task, Complaint(sleeve, cause, float(task.amount), looks))
        if trouble:
            reader.fault((*path, "cause" if cause == task.cause else "instead"), f"{cause}: {trouble[0]}", trouble[1])


def check_room(lesson: Lesson, reader: Reader) -> None:
    """Whether complaints that are to go by the block's room are what the block lacks, or has to spare, as written."""
    key = ("vary", "complaints-by-room")
    if lesson.block.bicep_girth is None:
        reader.fault(key, "goes by the bicep girth of [block]", "write bicep-girth there, or leave it out")
        return
    lacking = lesson.arm.with_ease - lesson.block.bicep_girth
    tasks = [(k, task) for k, task in enumerate(lesson.tasks) if isinstance(task, DiagnoseTask)]
    found = [(k, task, cause) for k, task in tasks for cause in task.causes if _counts_in_girth(cause)]
    if not found:
        reader.fault(key, "no complaint is counted in bicep girth", "leave it out")
    for k, task, cause in found:
        off = -CAUSES[cause].made(float(task.amount)).girth
        if abs(off - lacking) > SAME:
            told = f"{'lacks' if lacking > 0 else 'has to spare'} {format_length(abs(lacking), lesson.unit)}"
            reader.fault(("tasks", k, "amount"), f"is not what is off, {cause}: the block {told}", "write that")


def _counts_in_girth(cause: str) -> bool:
    return cause in CAUSES and CAUSES[cause].measure == "bicep-girth"


def _needs_elbow(task: DiagnoseTask, path: Path, reader: Reader) -> bool:
    """Whether a diagnosis goes by the elbow of a sleeve that ends above it; each key that does is noted."""
    keys = {"cause": (task.cause,), "instead": task.instead, "suspects": task.suspects}
    found = [(key, name) for key, names in keys.items() for name in names if CAUSES[name].made(1.0).elbow]
    found += [("signs", name) for name in task.signs if SIGNS[name].level == ELBOW]
    for key, name in found:
        reader.fault((*path, key), f"has {name}, and the sleeve ends above the elbow", "leave it out")
    return bool(found)


def complaint_trouble(task: DiagnoseTask, complaint: Complaint) -> tuple[str, str] | None:
    """Why a complaint is no fair question, and what would be right; None when it is one.

    Its folds must show, have more than one cause among the suspects, and the signs must tell these apart.
    """
    if complaint.look is None:
        return "no folds show", "write a greater amount"
    # Of all causes there are only those that are asked about, as each takes its time.
    alike = [name for name in task.names if name == complaint.cause or complaint.look_of(name) == complaint.look]
    if len(alike) < FEWEST:
        others = [name for name in complaint.alike if name not in task.names]
        right = f"add one of {', '.join(others)} to suspects" if others else "take another"
        return "its folds have no other cause", right
    if not complaint.settled(task.signs_on(complaint.sleeve), alike):
        there = [name for name, sign in SIGNS.items() if sign.is_on(complaint.sleeve)]
        return "the signs leave more than one cause", f"add one of {', '.join(there)} to signs"
    return None
