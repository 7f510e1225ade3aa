"""How fast the engine is: run as a script, ``python tests/engine_bench.py``; its status is 1 when a target is missed.

Medians of many runs, every run with another opening. Arc lengths are timed beside svgpathtools, which works them out by
scipy's quadrature, and both are held against mpmath at 30 digits.
"""

from __future__ import annotations

import statistics
import sys
import time
import xml.etree.ElementTree as ET
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import cycle
from typing import Any

import numpy as np
from bench_table import Table
from blocks import crossed, pattern, symmetric
from exact import exact_length
from lessons_for_tests import own_lessons
from simulated_plans import rounded, wrong_plans
from svgpathtools import CubicBezier

from tutor.alteration.alter import alter, altered_once
from tutor.alteration.cutting import cut_paper
from tutor.alteration.outline import whole
from tutor.alteration.solving import solve
from tutor.alteration.truing import true
from tutor.fit.causes import CAUSES
from tutor.fit.diagnosis import Complaint
from tutor.fit.folds import folds
from tutor.fit.strain import Worn
from tutor.geometry.arclength import lengths
from tutor.geometry.cubic import Complexes
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import NumberTask
from tutor.marking.answers import mark_figure, mark_result
from tutor.marking.case import NumberCase, PlanCase
from tutor.pattern.measures import measure
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.picture.chart import draw
from tutor.picture.scene import Window
from tutor.picture.sheet import scene_of
from tutor.practice.session import Session
from tutor.practice.variants import variant_of
from tutor.practice.worked import case_of
from tutor.units import Unit

PLANS = cycle([crossed(opening) for opening in range(8, 44, 3)])
LEVELS = (0.0, -206.0)


def median_ms(work: Callable[[], object], runs: int = 150) -> float:
    """The median time of a call in ms, after one call that doesn't count."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1e3 * statistics.median(times)


def bench_alteration(table: Table) -> None:
    before = pattern(symmetric())
    outline = whole(before.sleeve)
    paper = cut_paper(outline, crossed(1).slashes)
    solution = solve(paper, crossed(30).openings, LEVELS)

    def solved_trued_measured() -> None:
        found = solve(paper, next(PLANS).openings, LEVELS)
        trued = true(outline, paper.arcs, found.moves)
        measure(replace(before, sleeve=before.sleeve.with_seams(trued.seams, trued.marks)))

    print("Crossed slashes on the grain and the bicep line, with both armholes")
    table.row("cut", median_ms(lambda: cut_paper(outline, crossed(1).slashes)), "ms")
    table.row("solve", median_ms(lambda: solve(paper, next(PLANS).openings, LEVELS)), "ms")
    table.row("true", median_ms(lambda: true(outline, paper.arcs, solution.moves)), "ms")
    table.row("measure", median_ms(lambda: measure(before)), "ms")
    table.row("solve + true + measure", median_ms(solved_trued_measured), "ms", 3)
    table.row("alter (with cut) + measure", median_ms(lambda: measure(alter(before, next(PLANS)).after)), "ms")
    table.row("alter + all measures, areas too", median_ms(lambda: alter(before, next(PLANS)).measures_after), "ms")


def bench_picture(table: Table) -> None:
    print("The picture at 120 x 40")
    altered = [alter(pattern(), crossed(opening)) for opening in (10, 20, 30)]
    for each in altered:
        scene_of(each.before, each)
    turn = cycle(altered)

    def picture() -> None:
        current = next(turn)
        scene = scene_of(current.before, current)
        draw(scene, Window.fit(scene.bounds(), 10), 120, 40)

    table.row("before and after laid over each other", median_ms(picture, 60), "ms", 10)


def bench_lengths(table: Table) -> None:
    rng = np.random.default_rng(1)
    wild = 100 * (rng.normal(size=(1000, 4)) + 1j * rng.normal(size=(1000, 4)))
    seams = np.concatenate([alter(pattern(symmetric()), crossed(n / 3)).after.sleeve.rows() for n in range(20, 120)])
    for what, rows in (("cubics of altered sleeves' seams", seams), ("random cubics", wild)):
        print(f"Arc length of {len(rows)} {what}")
        sample = rows[:: len(rows) // 150]
        ours, theirs = [], []
        for _ in range(7):
            ours.append(median_ms(partial(lengths, rows), 7) / len(rows))
            theirs.append(median_ms(partial(_all_theirs, sample), 1) / len(sample))
        table.row("ours, in one batch, each", 1e3 * statistics.median(ours), "us")
        table.row("svgpathtools, each", 1e3 * statistics.median(theirs), "us")
        table.row("times as fast", statistics.median(theirs) / statistics.median(ours), "", 50, least=True)
        exact = [exact_length(row.tolist()) for row in sample]
        errors = [_worst(found, exact) for found in (lengths(sample).tolist(), _all_theirs(sample))]
        print(f"{'worst relative error against mpmath: ours':64}{errors[0]:10.1e}")
        print(f"{'worst relative error against mpmath: svgpathtools':64}{errors[1]:10.1e}")
        table.row("our worst error as a share of theirs", errors[0] / errors[1], "", 1)


def bench_marking(table: Table) -> None:
    """Marking wrong answers, every usual mistake derived afresh for each."""
    print("Wrong answers marked, none of their mistakes derived before")
    times = []
    for name, number in (("4", 2), ("5", 2), ("6", 1), ("7", 2)):
        session = Session(find_lesson(name), Unit.CM, 1)
        session.go_to_task(number)
        known = case_of(session.lesson, number)
        assert isinstance(known, PlanCase)
        assert known.plan is not None
        for _, plan in wrong_plans(session, known, rounded(known.plan, Unit.CM)):
            altered = alter(session.pattern, plan)
            fresh = PlanCase(known.pattern, known.arm, known.plan, known.recipe, known.allowance, task=known.task)
            measures = altered.measures_after
            altered_once.cache_clear()
            start = time.perf_counter()
            mark_result(fresh, Unit.CM, measures, altered.plan, altered)
            times.append(1e3 * (time.perf_counter() - start))
    table.row(f"a plan, median of {len(times)}", statistics.median(times), "ms", 40)
    case = case_of(variant_of(find_lesson("5"), 1).lesson, 1)
    assert isinstance(case, NumberCase)
    figures = cycle(range(-20, 80))
    table.row("a figure", median_ms(lambda: mark_figure(case, Unit.CM, float(next(figures)))), "ms", 2)
    table.row("a figure, the first of its pattern: all mistakes derived", _first_figures(), "ms")


def _first_figures() -> float:
    """The median time, ms, of a wrong figure where no mistake was derived before, over all tasks that ask for one."""
    times = []
    for lesson in own_lessons():
        for number, task in enumerate(lesson.tasks, 1):
            if isinstance(task, NumberTask):
                known = case_of(lesson, number)
                assert isinstance(known, NumberCase)
                fresh = NumberCase(known.pattern, known.arm, known.plan, known.recipe, known.allowance, task=known.task)
                altered_once.cache_clear()
                start = time.perf_counter()
                mark_figure(fresh, Unit.CM, 1.37 * known.right)
                times.append(1e3 * (time.perf_counter() - start))
    return statistics.median(times)


def bench_folds(table: Table) -> None:
    """A complaint worked out from nothing but the sleeve's grid: its folds, and what all other causes would show."""
    print("Folds of a complaint, and the looks of all causes beside it")
    sleeve = pattern().sleeve
    amounts = cycle(range(14, 26))

    def worked_out() -> None:
        complaint = Complaint(sleeve, "cap-low", float(next(amounts)))
        _ = complaint.folds, complaint.alike

    table.row(
        "folds", median_ms(lambda: folds(Worn(sleeve, CAUSES["arm-forward"].made(float(next(amounts))))), 40), "ms"
    )
    table.row("folds, and the causes that look alike", median_ms(worked_out, 20), "ms", 100)


def bench_reading(table: Table) -> None:
    """A pattern read from SVG, beside the bare parse of the same text."""
    print("A pattern with both armholes, read from SVG")
    data = write_svg(pattern()).encode()
    table.row("read", median_ms(lambda: read_svg(data, "sleeve.svg"), 40), "ms", 15)
    table.row("bare parse of its XML", median_ms(lambda: ET.fromstring(data)), "ms")


def _all_theirs(rows: Complexes) -> list[float]:
    return [float(CubicBezier(*row).length()) for row in rows.tolist()]


def _worst(found: Sequence[float], exact: Sequence[Any]) -> float:
    return max(abs(float((a - b) / b)) for a, b in zip(found, exact, strict=True))


def main() -> int:
    table = Table()
    bench_alteration(table)
    bench_picture(table)
    bench_lengths(table)
    bench_marking(table)
    bench_folds(table)
    bench_reading(table)
    return 0 if table.met else 1


if __name__ == "__main__":
    sys.exit(main())
