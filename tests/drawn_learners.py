"""How well drawn answers are read and understood: run as a script, ``python tests/drawn_learners.py [HOW MANY]``.

Sleeves are altered as the lessons' worked plans and every usual mistake would have them, over variants of the lessons;
a hand draws each anew with 0.3 mm of unsteadiness, an editor rewrites it, and it is read back, measured and marked.
Beside how well it is measured stands how well anybody could (``drawn_limit``). The status is 1 when a target is missed.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from drawn_answers import NOISE, Hand, as_editors_write, lines_of, redrawn
from drawn_limit import best_read
from lessons_for_tests import own_lessons
from msgspec import structs

from tutor.classwork.drawn_answer import marked_drawing
from tutor.classwork.outline_mistake import outlines
from tutor.classwork.outline_points import apart, outline_points
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import PlanTask
from tutor.marking.mistake import PlanAnswer
from tutor.pattern.measures import Kind, kind_of, measure
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session
from tutor.units import Unit

HANDS = (Hand(NOISE, 0.0), Hand(NOISE, 5.0))
"""One that is off at the points by which an editor draws curves, and one that traces points every 5 mm."""
DIFFERENCES = ("mismatch", "ease", "balance", "taper", "shift")
"""What the names of measures hold that are the difference of two others, and have the unsteadiness of both."""
SHOWN = 0.06
"""mm between the outlines of a mistake and of the worked plan, in the root of the mean square. Below that a hand that
is off by 0.3 mm draws the one as well as the other: nobody could tell which, so such a mistake is not asked for."""
SEEDS = 3
RIGHT = "right"


@dataclass(slots=True)
class Tally:
    """What came of many drawings."""

    plain: list[float] = field(default_factory=list)
    between: list[float] = field(default_factory=list)
    curves: dict[str, list[float]] = field(default_factory=lambda: {"plain": [], "between": []})
    """Of what was drawn in curves, by whether a measure is a difference."""
    best: dict[str, list[float]] = field(default_factory=lambda: {"plain": [], "between": []})
    """Of the same, as the best of readers would measure it."""
    right: Counter[bool] = field(default_factory=Counter)
    named: Counter[str] = field(default_factory=Counter)
    made: Counter[str] = field(default_factory=Counter)
    taken: Counter[tuple[str, str]] = field(default_factory=Counter)
    times: list[float] = field(default_factory=list)

    def share(self, mistake: str) -> float:
        return self.named[mistake] / self.made[mistake]


def strict(lesson: Lesson) -> Lesson:
    """The lesson with every goal one that must be met, so that what only spoils one of them is a mistake too."""
    tasks = tuple(
        structs.replace(task, goals=tuple(structs.replace(goal, must=True) for goal in task.goals))
        if isinstance(task, PlanTask)
        else task
        for task in lesson.tasks
    )
    return structs.replace(lesson, tasks=tasks)


def sessions(seeds: int = SEEDS) -> Iterator[Session]:
    """A session at every task that asks for an alteration, as written and in a few variants."""
    for lesson in own_lessons():
        for number, task in enumerate(lesson.tasks, 1):
            if isinstance(task, PlanTask):
                for seed in range(seeds):
                    whole = strict(lesson)
                    session = Session(whole, Unit.CM, seed or None)
                    session.go_to_task(number)
                    yield session


def altered(session: Session) -> dict[str, list[Pattern]]:
    """What the worked plan makes of the pattern, and what each usual mistake would have made of it."""
    case = session.plan_case()
    right = case.altered(case.plan) if case.plan is not None else None
    found: dict[str, list[Pattern]] = {} if right is None else {RIGHT: [right.after]}
    wanted = None if right is None else outline_points(right.after)
    for each in outlines(case, PlanAnswer(case, session.unit, case.before)):
        if wanted is None or apart(each.points, wanted) >= SHOWN:
            found.setdefault(each.mistake, []).append(each.pattern)
    return found


def draw(tally: Tally, session: Session, name: str, pattern: Pattern, hand: Hand, rng: random.Random) -> None:
    """Has one pattern drawn, read, measured and marked."""
    svg = as_editors_write(redrawn(lines_of(pattern), hand, rng), rng)
    start = time.process_time()
    marked, _, after = marked_drawing(session, svg)
    tally.times.append(time.process_time() - start)
    true = measure(pattern)
    best = measure(best_read(pattern, session.pattern, hand.noise, random.Random(svg))) if hand.curves else {}
    for measured, value in true.items():
        if kind_of(measured) is not Kind.LENGTH:
            continue
        kind = "between" if any(word in measured for word in DIFFERENCES) else "plain"
        off = abs(after[measured] - value)
        (tally.between if kind == "between" else tally.plain).append(off)
        if hand.curves:
            tally.curves[kind].append(off)
            tally.best[kind].append(abs(best[measured] - value))
    if name == RIGHT:
        tally.right[marked.passed] += 1
        return
    tally.made[name] += 1
    tally.named[name] += marked.mistake == name
    if marked.mistake != name:
        tally.taken[name, str(marked.mistake)] += 1


def drawn(count: int, seeds: int = SEEDS) -> Tally:
    """Has every mistake drawn about so many times, and as many right answers."""
    tally = Tally()
    work: dict[str, list[tuple[Session, Pattern]]] = {}
    for session in sessions(seeds):
        try:
            for name, patterns in altered(session).items():
                work.setdefault(name, []).extend((session, pattern) for pattern in patterns)
        except Fault:
            continue
    for name, each in work.items():
        rng = random.Random(name)
        for k in range(count):
            session, pattern = each[k % len(each)]
            draw(tally, session, name, pattern, HANDS[k % len(HANDS)], rng)
    return tally


def _within(off: list[float]) -> str:
    return f"within 0.5 mm {sum(each <= 0.5 for each in off) / len(off):.2%}, at worst {max(off):.2f} mm"


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    tally = drawn(count)
    for words, kind, off in (
        ("girths, heights and seams", "plain", tally.plain),
        ("differences of two of them", "between", tally.between),
    ):
        print(f"{words}: {_within(off)}, in {len(off)} measures")
        print(f"  drawn in curves: {_within(tally.curves[kind])}")
        print(f"  the same by one who knew every seam's shape: {_within(tally.best[kind])}")
    print(f"right answers passed: {tally.right[True]} of {tally.right.total()}")
    for name in sorted(tally.made):
        others = {taken: n for (made, taken), n in tally.taken.items() if made == name}
        print(f"  {name}: {tally.named[name]} of {tally.made[name]} {others or ''}")
    print(f"read and marked in {1e3 * statistics.median(tally.times):.1f} ms of processor time, median")
    poor = [name for name in tally.made if tally.share(name) < 0.9]
    return int(bool(poor) or tally.right[False] > 0)


if __name__ == "__main__":
    sys.exit(main())
