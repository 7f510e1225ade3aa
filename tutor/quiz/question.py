"""A question of a quiz, resolved: what it asks and of which body, in figures that need no drawing again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal, get_args

from tutor.alteration.plan import Plan
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.variants import TOO_MUCH, Variant, with_values
from tutor.practice.stored import plan_from, stored_plan

Form = Literal["task", "choice", "spot"]
"""A task as it is; a number task with figures to choose from; a plan gone wrong, whose mistake is sought."""
FORMS: tuple[Form, ...] = get_args(Form)
MOST_OPTIONS = 8
REMEMBERED = 64


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    ``task`` is counted from 1. ``body`` numbers the lesson's variant, of which ``draw`` and ``values`` (mm) are what
    was drawn. ``difficulty`` is how far the goal is, in times the lesson's own. A choice has ``figures``, in the
    measure's own unit; a plan gone wrong has the ``plan`` and the ``mistakes``, by name, to choose from.
    """

    lesson: str
    version: int
    task: int
    form: Form
    body: int
    draw: int
    generator: int
    values: tuple[tuple[str, float], ...]
    difficulty: float = 1.0
    figures: tuple[float, ...] = ()
    mistakes: tuple[str, ...] = ()
    plan: Plan | None = None

    @property
    def key(self) -> tuple[str, int, str, tuple[tuple[str, float], ...]]:
        """What makes two questions one and the same: the same thing asked of the same body."""
        return self.lesson, self.task, self.form, self.values

    def variant(self, lesson: Lesson) -> Variant:
        """The variant of the lesson that it is set for. Raises Fault for values that the lesson doesn't have."""
        try:
            made = _made(lesson, self.values)
            return Variant(made, self.body, self.draw, dict(self.values), self.generator)
        except (KeyError, IndexError, ValueError, AttributeError):
            right = "draw the quiz again"
            raise Fault(f"lesson {lesson.number}", "has changed, and this question no longer fits it", right) from None

    def stored(self) -> dict[str, Any]:
        """The question as a plain table."""
        table: dict[str, Any] = {
            "lesson": self.lesson,
            "version": self.version,
            "task": self.task,
            "form": self.form,
            "body": self.body,
            "draw": self.draw,
            "generator": self.generator,
            "difficulty": self.difficulty,
            "values": dict(self.values),
        }
        if self.figures:
            table["figures"] = list(self.figures)
        if self.mistakes:
            table["mistakes"] = list(self.mistakes)
        if self.plan is not None:
            table["plan"] = stored_plan(self.plan)
        return table


@lru_cache(maxsize=REMEMBERED)
def _made(lesson: Lesson, values: tuple[tuple[str, float], ...]) -> Lesson:
    """The lesson with values as drawn; the same one for all questions about a body, so that work on it is shared."""
    return with_values(lesson, dict(values))


def question_from(stored: object) -> Question:
    """The question that ``stored`` made the table of. Raises Fault for anything else."""
    try:
        return _question(stored)
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
        raise Fault("question", "can't be read", "take the quiz from its own file again") from None


def _question(stored: Any) -> Question:
    form = str(stored["form"])
    if form not in FORMS:
        raise ValueError(form)
    figures = tuple(_figure(value) for value in stored.get("figures", ()))
    mistakes = tuple(str(name) for name in stored.get("mistakes", ()))
    if max(len(figures), len(mistakes)) > MOST_OPTIONS or (form == "spot") != ("plan" in stored):
        raise ValueError(form)
    if (form == "choice") != bool(figures) or (form == "spot") != bool(mistakes):
        raise ValueError(form)
    return Question(
        lesson=str(stored["lesson"]),
        version=int(stored["version"]),
        task=int(stored["task"]),
        form=next(known for known in FORMS if known == form),
        body=int(stored["body"]),
        draw=int(stored["draw"]),
        generator=int(stored["generator"]),
        values=values_of(stored["values"]),
        difficulty=_figure(stored["difficulty"]),
        figures=figures,
        mistakes=mistakes,
        plan=plan_from(stored["plan"]) if "plan" in stored else None,
    )


def values_of(values: Mapping[str, Any]) -> tuple[tuple[str, float], ...]:
    """What was drawn, by name, in the order of the names. Raises ValueError for figures beyond all bodies."""
    return tuple(sorted((str(name), _figure(value)) for name, value in values.items()))


def _figure(value: Any) -> float:
    figure = float(value)
    if not abs(figure) < TOO_MUCH:
        raise ValueError(value)
    return figure
