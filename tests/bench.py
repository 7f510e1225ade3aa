"""What everything takes, beside a fair floor in the same run, and how it grows: ``python tests/bench.py [fewer]``.

Each figure stands beside the least that could do the like: Python alone, an empty Textual app, an app that shows one
letter, a bare parse of the same files, another library over the same curves. Then alterations of 1 to 64 slashes, and
classes that hand in 10 to 10,000 answers, up to 1,000 with ``fewer``. ``engine_bench.py``, ``tutor_bench.py`` and
``class_bench.py`` hold each part against its bounds.
"""

from __future__ import annotations

import tutor.tui  # noqa: F401  (before Textual, as in the program: it says how often Textual paints)

# isort: split
import asyncio
import statistics
import sys
import tempfile
import tomllib
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from functools import partial
from itertools import cycle
from pathlib import Path

import class_bench
from blocks import crossed, pattern
from engine_bench import median_ms
from svgpathtools import CubicBezier
from tutor_bench import BARE, EMPTY, HELD, HELP, LESSON, LIST, in_turn, key_times, least_times, started

from tutor.alteration.alter import Altered, alter, altered_once
from tutor.alteration.plan import Landmark, Opening, Plan, Share, Slash
from tutor.lesson.reading import find_lesson
from tutor.marking.answers import mark_result
from tutor.marking.case import PlanCase
from tutor.pattern.pattern import Pattern
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.picture.chart import draw
from tutor.picture.scene import Window
from tutor.picture.sheet import scene_of
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.units import Unit

SLASHES = (1, 2, 4, 8, 16, 32, 64)
LEARNERS = (3, 25, 250, 2500)
"""Four answers each."""
GATHERED = 40.0
"""mm that a cap is spread by, by however many slashes."""


def row(what: str, ours: float, beside: str, floor: float) -> None:
    """A figure and its floor, both in ms, and how many times the floor it is."""
    print(f"{what:46}{ours:10.2f} ms   {beside:42}{floor:10.2f} ms  x {ours / floor:.2f}")


def gathered(count: int) -> Plan:
    """A cap spread by so many slashes from its edge, all hinged at the hem."""
    names = [f"slash {k}" for k in range(count)]
    slashes = tuple(
        Slash(name, *ends, end_hinge=True) for name, ends in zip(names, map(_ends, _shares(count)), strict=True)
    )
    return Plan(slashes, tuple(Opening(name, GATHERED / count, share=0.0) for name in names))


def _shares(count: int) -> list[float]:
    return [(k + 0.5) / count for k in range(count)]


def _ends(share: float) -> tuple[Landmark | Share, Share]:
    """Where the slash at this share of the cap seam's way from back to front begins and ends."""
    top = Share("cap-back", 2 * share) if share < 0.5 else Share("cap-front", 2 * share - 1)
    return (Landmark("crown") if share == 0.5 else top), Share("hem", 1 - share)


def bench_starts() -> None:
    programs = {"bare": BARE, "help": HELP, "empty": EMPTY, "list": LIST, "lesson": LESSON}
    times = in_turn({name: partial(started, program) for name, program in programs.items()})
    taken = {name: statistics.median(each) for name, each in times.items()}
    row("--help, from the start of the process", taken["help"], "Python alone", taken["bare"])
    row("first frame of the list of lessons", taken["list"], "an empty Textual app's", taken["empty"])
    row("first frame of lesson 4", taken["lesson"], "an empty Textual app's", taken["empty"])


def bench_keys() -> None:
    least = statistics.median(asyncio.run(least_times()))
    for words, pause in (("key to frame, held down", HELD), ("key to frame, the next key with the frame", 0.0)):
        row(words, statistics.median(asyncio.run(key_times(pause)).whole), "an app's that shows one letter", least)


def bench_engine() -> None:
    block, plans = pattern(), cycle([crossed(opening) for opening in range(8, 44, 3)])
    altered = [alter(block, crossed(opening)) for opening in (10, 20, 30)]
    rows = altered[0].after.sleeve.rows()
    # Made anew each time, as it remembers a length it has worked out.
    theirs = median_ms(lambda: [CubicBezier(*each).length() for each in rows.tolist()], 20)
    beside = "the new seams' lengths by svgpathtools"
    row("an alteration, all its measures", median_ms(lambda: alter(block, next(plans)).measures_after), beside, theirs)
    turn = cycle(altered)
    row("a picture, 120 x 40", median_ms(lambda: _picture(next(turn)), 60), beside, theirs)
    data = write_svg(block).encode()
    parse = median_ms(lambda: ET.fromstring(data))
    row("a pattern read from SVG", median_ms(lambda: read_svg(data, "sleeve.svg"), 40), "bare parse of its XML", parse)


def _picture(altered: Altered) -> None:
    scene = scene_of(altered.before, altered)
    draw(scene, Window.fit(scene.bounds(), 10), 120, 40)


def bench_marking() -> None:
    session = Session(find_lesson("4"), Unit.CM, 1)
    session.go_to_task(2)
    known = case_of(session.lesson, 2)
    assert isinstance(known, PlanCase)
    assert known.plan is not None
    right = known.plan
    plans = cycle([right.with_amounts(*(share * o.amount for o in right.openings)) for share in (0.5, 0.7, 1.2, 2.0)])

    def marked() -> None:
        altered = alter(session.pattern, next(plans))
        altered_once.cache_clear()
        fresh = PlanCase(known.pattern, known.arm, right, known.recipe, known.allowance, task=known.task)
        mark_result(fresh, Unit.CM, altered.measures_after, altered.plan, altered)

    alone = median_ms(lambda: alter(session.pattern, next(plans)).measures_after, 60)
    row("a wrong plan marked, all mistakes derived", median_ms(marked, 60), "the plan carried out and measured", alone)


def bench_slashes() -> None:
    print(f"\nA cap spread by {GATHERED:g} mm: cut, solved, trued, measured")
    block, first = pattern(), 0.0
    for count in SLASHES:
        taken = median_ms(partial(_measured, block, gathered(count)), 15)
        first = first or taken
        print(f"{count:6} slashes {taken:10.2f} ms   x {taken / first:.2f}")


def _measured(block: Pattern, plan: Plan) -> None:
    _ = alter(block, plan).measures_after


def bench_class(sizes: Sequence[int]) -> None:
    print("\nA class marked: figures, plans, drawings; processor time for each answer, mean")
    for learners in sizes:
        with tempfile.TemporaryDirectory() as name:
            figures = class_bench.marked(Path(name), learners)
            forms = sorted((Path(name) / "answers").iterdir())
            parse = median_ms(partial(_parsed, forms), 1) / figures["answers"]
        row(f"{figures['answers']:.0f} answers, {figures['memory']:.0f} MB", figures["mean"], "bare parse", parse)


def _parsed(files: Sequence[Path]) -> None:
    for file in files:
        data = file.read_bytes()
        if file.suffix == ".svg":
            ET.fromstring(data)
        else:
            tomllib.loads(data.decode())


def main() -> None:
    bench_starts()
    bench_keys()
    bench_engine()
    bench_marking()
    bench_slashes()
    bench_class(LEARNERS[:-1] if "fewer" in sys.argv[1:] else LEARNERS)


if __name__ == "__main__":
    main()
