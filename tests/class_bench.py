"""How fast a class is marked, and in how much memory: run as a script, ``python tests/class_bench.py [LEARNERS ...]``.

Every learner hands in four answers: two figures, a plan, and an altered pattern drawn or traced. Each number of
learners is marked by a process of its own; 250 and 2,500 if none is given, which is 1,000 and 10,000 answers. The
status is 1 when a target is missed: 40 ms of processor time for an answer, the median over learners, and no more memory
for ten times the learners than 1.25 times as much.
"""

from __future__ import annotations

import json
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from drawn_answers import Hand, as_editors_write, lines_of, redrawn
from drawn_learners import altered
from plan_text import write_plan

from tutor.alteration.plan import Plan
from tutor.classwork.enrolment import enrolled, handed_in
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.marker import Marker
from tutor.classwork.marking_run import MarkingRun
from tutor.classwork.report import Report
from tutor.classwork.store import Store
from tutor.marking.usual import MISTAKES
from tutor.marking.wrong_plans import scaled

TARGET = 40.0
GROWTH = 1.25
HOMEWORK = """\
title = "Bench"
variants = 4
seed = 20
[[tasks]]
lesson = 4
task = 1
[[tasks]]
lesson = 4
task = 2
[[tasks]]
lesson = 6
task = 1
[[tasks]]
lesson = 6
task = 2
"""
HANDS = (Hand(0.0), Hand(0.3), Hand(0.3, 6.0))


def prepare(folder: Path, learners: int) -> None:
    """A homework and a class list, and a form with four answers for each learner."""
    names = [f"Learner {k}" for k in range(learners)]
    (folder / "homework.toml").write_text(HOMEWORK)
    (folder / "class.csv").write_text("\n".join(["name", *names]) + "\n")
    (folder / "answers").mkdir()
    homework = read_homework(folder / "homework.toml")
    store = Store(folder / "out")
    register = enrolled(homework, store, folder / "class.csv", [])
    marker = Marker(homework)
    rng = random.Random(learners)
    plans: dict[str, list[Plan]] = {}
    drawings: dict[str, list[bytes]] = {}
    for code, deal in register.deals.items():
        second, third = (marker.session(homework.questions[k], code, deal, homework.unit) for k in (1, 2))
        right = second.plan_case().plan
        assert right is not None
        plans[code] = [scaled(right, 1 + k / 40) for k in range(-20, 21)]
        patterns = [pattern for each in altered(third).values() for pattern in each]
        drawings[code] = [
            as_editors_write(redrawn(lines_of(pattern), hand, rng), rng) for pattern in patterns for hand in HANDS
        ]
    for k, learner in enumerate(register.learners):
        head = f'homework = "Bench"\nlearner = "{learner.name}"\nvariant = "{learner.deal}"\n'
        answers = f'[[answers]]\ntask = 1\nanswer = "{rng.uniform(9, 17):.1f} cm"\n'
        answers += f'[[answers]]\ntask = 2\nplan = "{k}-plan.toml"\n[[answers]]\ntask = 3\npattern = "{k}-drawn.svg"\n'
        answers += f'[[answers]]\ntask = 4\nanswer = "{rng.uniform(1, 4):.1f} cm"\n'
        (folder / "answers" / f"{k}.toml").write_text(head + answers)
        (folder / "answers" / f"{k}-plan.toml").write_text(write_plan(rng.choice(plans[learner.deal])))
        (folder / "answers" / f"{k}-drawn.svg").write_bytes(rng.choice(drawings[learner.deal]))
    store.close()


def mark(folder: Path) -> None:
    """Marks it all, and prints the figures as JSON."""
    homework = read_homework(folder / "homework.toml")
    store = Store(folder / "out")
    register = enrolled(homework, store, None, [])
    run = MarkingRun(homework, register, store, date.today())
    times: list[float] = []
    last = time.process_time()

    def went_on(_: str) -> None:
        nonlocal last
        now = time.process_time()
        times.append((now - last) / len(homework.questions))
        last = now

    start = time.process_time()
    run.take(handed_in([folder / "answers"], register), went_on)
    marked = time.process_time()
    Report(homework, register, store).write()
    assert run.taken.lines == []
    figures = {
        "answers": run.taken.marked,
        "median": 1e3 * statistics.median(times),
        "worst": 1e3 * max(times),
        "mean": 1e3 * (marked - start) / run.taken.marked,
        "report": 1e3 * (time.process_time() - marked) / run.taken.marked,
        "memory": most_memory(),
    }
    print(json.dumps(figures))
    store.close()


def most_memory() -> float:
    """The most memory that this process took, MB. What the kernel hands on from the parent at a fork doesn't count."""
    try:
        status = Path("/proc/self/status").read_text()
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def marked(folder: Path, learners: int) -> dict[str, float]:
    """The answers of so many learners, marked by a process of its own, and what that took: ms an answer, and MB."""
    prepare(folder, learners)
    ran = subprocess.run([sys.executable, __file__, "--mark", folder], stdout=subprocess.PIPE, check=True, text=True)
    figures: dict[str, float] = json.loads(ran.stdout)
    return figures


def measured(learners: int) -> dict[str, float]:
    with tempfile.TemporaryDirectory() as name:
        figures = marked(Path(name), learners)
    each = f"{figures['median']:.1f} ms each, median over learners (mean {figures['mean']:.1f})"
    rest = f"reports {figures['report']:.1f} ms each, {figures['memory']:.0f} MB at the most"
    print(f"{figures['answers']} answers: {each}, worst {figures['worst']:.0f}, {rest}")
    return figures


def main() -> int:
    if sys.argv[1:2] == ["--mark"]:
        mark(Path(sys.argv[2]))
        return 0
    found = [measured(int(each)) for each in sys.argv[1:] or ("250", "2500")]
    grown = found[-1]["memory"] / found[0]["memory"]
    print(f"memory grows by {grown:.2f}; {len(MISTAKES)} usual mistakes are looked for")
    return int(max(each["median"] for each in found) > TARGET or grown > GROWTH)


if __name__ == "__main__":
    sys.exit(main())
