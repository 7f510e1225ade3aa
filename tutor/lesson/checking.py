"""What a lesson file must make sense of, beyond having the right keys: names that exist, figures that can be."""

from __future__ import annotations

import re

from tutor.lesson.diagnose_checking import check_room
from tutor.lesson.figure_checking import check_figure, check_measures
from tutor.lesson.lesson import Lesson
from tutor.lesson.pattern_checking import check_block, check_patterns
from tutor.lesson.recipe import Recipe
from tutor.lesson.setting import PARTS
from tutor.lesson.starting import AFTERWARDS, start_measures
from tutor.lesson.strict import Reader
from tutor.lesson.task import PlanTask, plan_asked_after
from tutor.lesson.task_checking import check_goes_on, check_task
from tutor.lesson.word_checking import check_words
from tutor.lesson.written import complaint_measures, goal_figures, plan_figures
from tutor.toml_lines import Path

GREATEST_NUMBER = 9999
KEPT_NAMES = {"arm", "block", "complaint", "goal", "half"}
"""What texts and variants call something else by."""
MOST_STRETCH = 200
LONGEST_TITLE = 80
LONGEST_NAME = 40
MOST_PARAGRAPHS = 12
MOST_TASKS, MOST_PLANS = 16, 32
"""More than anybody has patience for; trying them out on the pattern would take long."""
BRACES = re.compile(r"\{[^{}]*\}")


def check(lesson: Lesson, reader: Reader, tried: bool = True) -> None:
    """Notes every fault of a lesson whose keys are right; with ``tried`` those that show only on the pattern too."""
    _check_texts(lesson, reader)
    check_measures(lesson.watch, ("watch",), reader)
    if not lesson.tasks:
        reader.fault(("tasks",), "is empty", "write at least one task")
    for key, many, most in (("tasks", lesson.tasks, MOST_TASKS), ("plans", lesson.plans, MOST_PLANS)):
        if len(many) > most:
            reader.fault((key,), f"has {len(many)} of them", f"write at most {most}, and another lesson for the rest")
    for key, number in (("number", lesson.number), ("version", lesson.version)):
        if not 1 <= number <= GREATEST_NUMBER:
            reader.fault((key,), "is no number of a lesson", f"write 1 to {GREATEST_NUMBER}")
    for place, number in enumerate(lesson.after):
        if number == lesson.number:
            reader.fault(("after", place), "is no other lesson's number", f"{number} is this lesson itself")
        elif not 1 <= number <= GREATEST_NUMBER:
            reader.fault(("after", place), "is no other lesson's number", f"write one of 1 to {GREATEST_NUMBER}")
    _check_arm(lesson, reader)
    for name, recipe in lesson.plans.items():
        if not name.isprintable() or not 0 < len(name) <= LONGEST_NAME:
            reader.fault(("plans", name), "is no name for a plan", f"write a word of at most {LONGEST_NAME} letters")
        _check_recipe(lesson, recipe, ("plans", name), reader)
    for number, task in enumerate(lesson.tasks):
        check_task(lesson, task, ("tasks", number), reader)
        check_goes_on(lesson, number, ("tasks", number), reader)
    _check_vary(lesson, reader)
    if tried and not reader.faults:
        check_patterns(lesson, reader)
    elif tried:
        check_block(lesson, reader)


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
    if len(lesson.title) > LONGEST_TITLE:
        reader.fault(("title",), f"has {len(lesson.title)} letters", f"write at most {LONGEST_TITLE}")
    if not lesson.brief:
        reader.fault(("brief",), "is empty", "write at least one paragraph")
    for key, texts in (("brief", lesson.brief), ("cautions", lesson.cautions), ("screen", lesson.screen)):
        if len(texts) > MOST_PARAGRAPHS:
            reader.fault((key,), f"has {len(texts)} paragraphs", f"write at most {MOST_PARAGRAPHS}")
        for number, text in enumerate(texts):
            check_words(lesson, text, (key, number), reader)


def _check_recipe(lesson: Lesson, recipe: Recipe, path: Path, reader: Reader) -> None:
    for sought in recipe.sought:
        if sought.figure is not None:
            check_figure(lesson, sought.figure, path, reader)


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
    written |= {of for task in lesson.tasks for of in complaint_measures(task)}
    written |= {of for recipe in lesson.plans.values() for _, of, _ in plan_figures(recipe)}
    for name in lesson.vary.goals:
        if name not in written:
            there = ", ".join(sorted(written)) or "none"
            reader.fault(("vary", "goals", name), "no figure is written for this measure", f"there are {there}")
    for key, spans in (("plans", lesson.vary.plans), ("goals", lesson.vary.goals)):
        for name, span in spans.items():
            if not 0 < span[0] <= span[1]:
                reader.fault(("vary", key, name), "is no span", "write [low, high], factors above 0")
    if lesson.vary.complaints_by_room:
        check_room(lesson, reader)
    if not lesson.vary.complaints[0] > 0:
        reader.fault(("vary", "complaints"), "is no span", "write [low, high], factors above 0")
    _check_told(lesson, reader)
    for name in KEPT_NAMES & lesson.plans.keys():
        reader.fault(("plans", name), "is no name for a plan", f"{', '.join(sorted(KEPT_NAMES))} mean something else")


def _check_told(lesson: Lesson, reader: Reader) -> None:
    """Whether texts take from the variant what varies: a length that is written out would stay as it is."""
    for number, task in enumerate(lesson.tasks):
        name = plan_asked_after(task)
        if name in lesson.vary.plans and f"{name} " not in "".join(BRACES.findall(task.ask)):
            what = f"does not tell the amount of {name}, which varies"
            reader.fault(("tasks", number, "ask"), what, f"write it as {{{name} opening 1}}, not as a length")
        varied = [(k, of) for k, of, _ in goal_figures(task) if of in lesson.vary.goals]
        told = "".join(BRACES.findall(task.ask))
        if isinstance(task, PlanTask) and varied and not any(each in told for each in ("goal ", " for ", varied[0][1])):
            what = f"does not tell the figure of goal {varied[0][0]}, which varies"
            reader.fault(("tasks", number, "ask"), what, f"write it as {{goal {varied[0][0]}}}, not as a length")


__all__ = ["AFTERWARDS", "check", "start_measures"]
