"""Figures of a class: how marks are spread, how hard each task is, and whether it tells who knows the rest."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from tutor.classwork.homework import Homework, Question
from tutor.classwork.standing import Standing
from tutor.marking.points import out_of_100

LEAST_LEARNERS = 3
"""With fewer no discrimination is worth telling."""
HARD = 0.6
"""A task whose mean mark is below this is to be taught again (this program's own limit)."""
OFTEN = 0.2
"""A mistake made by this share of those who answered, and by two at least, is to be taught again (our own limit)."""
MOST_NAMES = 12


@dataclass(slots=True)
class TaskFigures:
    """What the class did with one task: ``answered`` also counts marks of the teacher's without an answer."""

    question: Question
    answered: int = 0
    blank: int = 0
    passed: int = 0
    unread: int = 0
    mistakes: Counter[str] = field(default_factory=Counter)
    near: list[str] = field(default_factory=list)
    mean: float | None = None
    discrimination: float | None = None

    @property
    def often(self) -> list[tuple[str, int]]:
        """The mistakes that many made, the commonest first."""
        least = max(2, math.ceil(OFTEN * self.answered))
        return [(name, count) for name, count in self.mistakes.most_common() if count >= least]

    @property
    def mean_words(self) -> str:
        """The mean mark in words, and how many left the task out, which is in it with 0; "" where there is none."""
        if self.mean is None:
            return ""
        left = f", as {self.blank} left it out, which counts 0" if self.blank else ""
        return f"the mean mark is {out_of_100(self.mean)} of 100{left}"

    @property
    def is_hard(self) -> bool:
        return self.mean is not None and self.mean < HARD

    @property
    def teach_again(self) -> bool:
        return self.is_hard or bool(self.often)

    @property
    def why_again(self) -> str:
        """What makes the task be taught again, in words."""
        alike = f"{self.often[0][1]} made the same mistake" if self.often else ""
        return "; ".join(filter(None, [self.mean_words if self.is_hard else "", alike]))


class ClassFigures:
    """Gathers the figures of a class, learner by learner; of each only the marks are kept.

    ``by_hand`` are those who handed nothing in and have marks of the teacher's.
    """

    def __init__(self, homework: Homework) -> None:
        self.tasks = [TaskFigures(question) for question in homework.questions]
        self.totals: list[float] = []
        self.learners = 0
        self.handed_in = 0
        self.by_hand = 0
        self.late = 0
        self._marks: list[list[float]] = []

    def add(self, standing: Standing) -> None:
        """Takes one learner in."""
        self.learners += 1
        if not standing.counts:
            return
        self.handed_in += standing.handed_in
        self.by_hand += not standing.handed_in
        self.late += standing.late
        total = standing.total
        if total is not None:
            self.totals.append(total)
        row = [standing.mark(task.question.number) for task in self.tasks]
        self._marks.append([math.nan if mark is None else mark for mark in row])
        for task in self.tasks:
            _add(task, standing)

    def finish(self) -> None:
        """Works out the figures that need the whole class."""
        for k, task in enumerate(self.tasks):
            known = [row[k] for row in self._marks if not math.isnan(row[k])]
            task.mean = math.fsum(known) / len(known) if known else None
            task.discrimination = self._discrimination(k)

    def _discrimination(self, k: int) -> float | None:
        """The correlation of a task's mark with the mean mark of the other tasks, over learners whose marks are known.

        None for a single task, for fewer than three learners, or where either is the same for all. (The corrected
        item-total correlation of classical test theory, common practice.)
        """
        weights = [task.question.points for task in self.tasks]
        pairs = [
            (row[k], sum(w * mark for j, (w, mark) in enumerate(zip(weights, row, strict=True)) if j != k))
            for row in self._marks
            if not any(map(math.isnan, row))
        ]
        return correlation(pairs) if len(self.tasks) > 1 and len(pairs) >= LEAST_LEARNERS else None

    def spread(self, bins: int = 10) -> list[int]:
        """How many marks for the whole fall into each of so many equal spans; full marks into the last."""
        counts = [0] * bins
        for total in self.totals:
            counts[min(int(total * bins + 1e-9), bins - 1)] += 1
        return counts


def _add(task: TaskFigures, standing: Standing) -> None:
    number = task.question.number
    if number not in standing.answers and number not in standing.overrides:
        task.blank += not standing.is_unread(number)
        return
    task.answered += 1
    result = standing.results.get(number)
    if standing.mark(number) is None:
        task.unread += 1
    if standing.passed(number):
        task.passed += 1
    elif result is not None:
        if result.mistake is not None:
            task.mistakes[result.mistake] += 1
        if result.near:
            task.near.append(standing.learner.name)


def correlation(pairs: Sequence[tuple[float, float]]) -> float | None:
    """Pearson's correlation of pairs, from -1 to 1; None where one of both never changes."""
    xs, ys = zip(*pairs, strict=True)
    mean_x, mean_y = math.fsum(xs) / len(xs), math.fsum(ys) / len(ys)
    xx = math.fsum((x - mean_x) ** 2 for x in xs)
    yy = math.fsum((y - mean_y) ** 2 for y in ys)
    if xx < 1e-12 or yy < 1e-12:
        return None
    return math.fsum((x - mean_x) * (y - mean_y) for x, y in pairs) / math.sqrt(xx * yy)
