"""The class page: the spread of marks, each task's difficulty and discrimination, mistakes, what to teach again."""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Sequence

from tutor.classwork import html_page
from tutor.classwork.class_figures import MOST_NAMES, ClassFigures, TaskFigures
from tutor.classwork.homework import Homework
from tutor.classwork.words import mistake_words
from tutor.marking.points import out_of_100

BINS = 10
MOST_TROUBLES = 200


def class_page(homework: Homework, figures: ClassFigures, troubles: Sequence[str]) -> str:
    """The page, for the teacher alone; ``troubles`` are lines of what could not be read or used."""
    body = [
        f"<h1>{html_page.text(homework.title)}</h1>",
        html_page.paragraph(_head(homework, figures), "small"),
        "<h2>Marks</h2>",
        *_spread(figures),
        "<h2>What to teach again</h2>",
        *_teach_again(figures),
        "<h2>Task by task</h2>",
        *_tasks(figures),
        "<h2>Mistakes</h2>",
        *_mistakes(figures),
        "<h2>Near misses</h2>",
        *_near(figures),
        "<h2>To be looked at</h2>",
        *_troubles(troubles),
    ]
    return html_page.page(f"{homework.title}: the class", body)


def _head(homework: Homework, figures: ClassFigures) -> str:
    said = f"{figures.handed_in} of {figures.learners} learners handed something in"
    due = "" if homework.text.due is None else f", due on {homework.text.due.isoformat()}"
    late = f", {figures.late} of them late" if figures.late else ""
    by_hand = f", {figures.by_hand} more with marks of the teacher's alone" if figures.by_hand else ""
    return f"{said}{late}{by_hand}{due}."


def _spread(figures: ClassFigures) -> Iterator[str]:
    if not figures.totals:
        yield html_page.paragraph("Nobody's work is marked as a whole yet.")
        return
    labels = [f"{10 * k}-{10 * k + 9 if k < BINS - 1 else 100}" for k in range(BINS)]
    yield html_page.bars(figures.spread(BINS), labels, "How many learners have which mark out of 100")
    marks = figures.totals
    mean, middle, low, high = map(
        out_of_100, (statistics.fmean(marks), statistics.median(marks), min(marks), max(marks))
    )
    yield html_page.paragraph(
        f"{len(marks)} marked as a whole: mean {mean}, median {middle}, from {low} to {high} of 100."
    )


def _teach_again(figures: ClassFigures) -> Iterator[str]:
    weak = sorted((task for task in figures.tasks if task.teach_again), key=lambda task: task.mean or 0.0)
    if not weak:
        yield html_page.paragraph("Nothing stands out: no task went badly, and no mistake was made by many.")
    for task in weak:
        yield f"<h3>{html_page.text(task.question.title)}</h3>"
        yield html_page.paragraph(_how_it_went(task))
        yield from html_page.bullets(
            f"{count} times: {mistake_words(name)}" for name, count in task.mistakes.most_common() if count > 1
        )
        yield html_page.paragraph(f"To look at together: {task.question.task.hints[0]}")


def _how_it_went(task: TaskFigures) -> str:
    """How many passed a task and left it out; what was left out is in the mean, with 0."""
    mean = task.mean_words
    return f"{task.passed} of {task.answered} who answered passed.{f' {mean[0].upper()}{mean[1:]}.' if mean else ''}"


def _tasks(figures: ClassFigures) -> list[str]:
    head = ["task", "answered", "passed", "difficulty: mean mark", "discrimination"]
    rows = [("", _task_row(task)) for task in figures.tasks]
    note = (
        "Difficulty is the mean mark out of 100: the lower, the harder. Discrimination, -1 to 1, is how far those who"
        " do well in the rest do well in this task: near 0 or below, look whether it asks what it means to ask."
    )
    return [*html_page.table(head, rows, 4), html_page.paragraph(note, "small")]


def _task_row(task: TaskFigures) -> Sequence[str]:
    tells = "-" if task.discrimination is None else f"{task.discrimination:.2f}"
    mean = "-" if task.mean is None else str(out_of_100(task.mean))
    name = f"{task.question.number}. {task.question.title}"
    return [name, str(task.answered), str(task.passed), mean, tells]


def _mistakes(figures: ClassFigures) -> Iterator[str]:
    rows = [
        ("", [f"{task.question.number}", mistake_words(name), str(count)])
        for task in figures.tasks
        for name, count in sorted(task.mistakes.items(), key=lambda item: (-item[1], item[0]))
    ]
    if rows:
        yield from html_page.table(["task", "what was done", "how often"], rows, 1)
    else:
        yield html_page.paragraph("No usual mistake was recognised.")


def _near(figures: ClassFigures) -> list[str]:
    items = []
    for task in figures.tasks:
        if task.near:
            more = len(task.near) - MOST_NAMES
            names = ", ".join(task.near[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
            items.append(f"Task {task.question.number}: {names}")
    return html_page.bullets(items) or [html_page.paragraph("None: whoever missed a task missed it clearly.")]


def _troubles(lines: Sequence[str]) -> list[str]:
    if not lines:
        return [html_page.paragraph("Everything that was handed in could be read and marked.")]
    more = [f"and {len(lines) - MOST_TROUBLES} more"] if len(lines) > MOST_TROUBLES else []
    return html_page.bullets([*lines[:MOST_TROUBLES], *more])
