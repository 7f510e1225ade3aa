"""Learners who practise what is due for sixty days, and forget as the model of the library says.

    python tests/schedule_simulated.py [LEARNERS [DAYS]]

Each learner meets two new tasks in the first class of every week, six in ten of which go right at once, and practises
in the evening whatever is due. A task then goes right as likely as the library takes it to be recalled. Printed is
when each task of one learner came back, how many tasks were due day by day, and how long a mistake took to come back.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from tutor.practice.due import due, scheduled

FIRST = datetime(2027, 1, 4, 19, 0, tzinfo=UTC)
WEEKLY = 2
AT_FIRST = 0.6
"""How likely a task goes right that was never met: invented, as nobody has measured it."""
TASKS = 14
BARS = 60


@dataclass(frozen=True, slots=True)
class Go:
    """An attempt as the schedule looks at it."""

    lesson: str
    task: int
    time: datetime
    passed: bool
    hints: int = 0
    shown: bool = False
    mistake: str | None = None


@dataclass
class Learner:
    """What one learner has done."""

    chance: random.Random
    goes: list[Go] = field(default_factory=list)
    due_on: Counter[int] = field(default_factory=Counter)

    def evening(self, day: int) -> None:
        """Practises what is due, and in a class what is new."""
        now = FIRST + timedelta(days=day, minutes=self.chance.randrange(-90, 90))
        waiting = due(self.goes, now)
        self.due_on[day] = len(waiting)
        for each in waiting:
            self._try(each.task, now, each.recall)
        met = len({go.task for go in self.goes})
        if day % 7 == 0:
            for task in range(met + 1, min(met + WEEKLY, TASKS) + 1):
                self._try(task, now, AT_FIRST)

    def _try(self, task: int, now: datetime, likely: float) -> None:
        self.goes.append(Go("lesson", task, now, self.chance.random() < likely))

    def of_task(self, task: int) -> list[Go]:
        return [go for go in self.goes if go.task == task]


def simulate(learners: int, days: int, seed: int = 1) -> list[Learner]:
    """So many learners over so many days."""
    found = [Learner(random.Random(f"{seed}/{number}")) for number in range(learners)]
    for learner in found:
        for day in range(days):
            learner.evening(day)
    return found


def returns(learners: list[Learner], *, passed: bool) -> list[float]:
    """The days from each go, right or wrong, to the next of the same task."""
    found = []
    for learner in learners:
        for task in range(1, TASKS + 1):
            for first, second in pairwise(learner.of_task(task)):
                if first.passed == passed:
                    found.append((second.time - first.time) / timedelta(days=1))
    return found


def still_waiting(learners: list[Learner], days: int) -> float:
    """The longest that any mistake near the end has still to wait, days; it has had no time to come back."""
    end = FIRST + timedelta(days=days)
    waits = [0.0]
    for learner in learners:
        waits += [(each.due - each.last) / timedelta(days=1) for each in scheduled(learner.goes, end) if each.missed]
    return max(waits)


def calendar(learner: Learner, days: int) -> list[str]:
    """A row for each task: o where it went right, x where it went wrong."""
    rows = [f"{'task':>6} " + "".join(f"{day:<10}" for day in range(0, days, 10))]
    for task in range(1, TASKS + 1):
        cells = ["."] * days
        for go in learner.of_task(task):
            cells[min(round((go.time - FIRST) / timedelta(days=1)), days - 1)] = "o" if go.passed else "x"
        rows.append(f"{task:>6} {''.join(cells)}")
    return rows


def bars(learners: list[Learner], days: int) -> list[str]:
    """For each day the mean number of tasks that were due."""
    means = [sum(learner.due_on[day] for learner in learners) / len(learners) for day in range(days)]
    most = max(means) or 1.0
    return [f"{day:>6} {mean:5.2f} {'#' * round(BARS * mean / most)}" for day, mean in enumerate(means)]


def main(arguments: list[str]) -> None:
    learners, days = int((arguments[:1] or ["100"])[0]), int((arguments[1:2] or ["60"])[0])
    found = simulate(learners, days)
    print(f"one learner, day by day from {FIRST:%d %B %Y}: o right, x wrong")
    print("\n".join(calendar(found[0], days)))
    print("\ntasks due on a day, mean of all learners")
    print("\n".join(bars(found, days)))
    wrong, right = returns(found, passed=False), sorted(returns(found, passed=True))
    goes = [go for learner in found for go in learner.goes]
    print(f"\n{learners} learners, {days} days, {len(goes)} goes, {sum(go.passed for go in goes)} of them right")
    print(f"a mistake came back after {min(wrong):.2f} to {max(wrong):.2f} days ({len(wrong)} mistakes);")
    print(f"  the longest that one near the end has to wait is {still_waiting(found, days):.2f} days")
    middle = right[len(right) // 2]
    print(f"what went right came back after {right[0]:.1f} to {right[-1]:.1f} days, half of it within {middle:.1f}")


if __name__ == "__main__":
    main(sys.argv[1:])
