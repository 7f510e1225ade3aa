"""How fast the tutor answers: run as a script, ``python tests/tutor_bench.py``; its status is 1 when a bound is missed.

All of it headless, at 120 x 40. Keys open the crossed slashes of lesson 4 by a millimetre each, so that no plan has
been worked out before: once as a key that is held down repeats, 30 times a second, and once each with the frame of the
one before, so that there is no pause in which anything could be worked out ahead.
First frames are those of new processes, from the start of Python; an empty Textual app takes its turn with each of
them, as does the first frame of an app in a process that has loaded everything.
"""

from __future__ import annotations

import tutor.tui  # noqa: F401  (before Textual, as in the program: it says how often Textual paints)

# isort: split
import asyncio
import gc
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from bench_table import Table
from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Static
from tutor_driving import driven

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.lesson.listing import whole_listing
from tutor.pattern.pattern import Pattern
from tutor.practice import ground
from tutor.tui.app import TutorApp
from tutor.tui.desk import Desk

SIZE = (120, 40)
KEYS = 60
HELD = 1 / 30
"""Seconds from one key to the next while a key is held down."""
STARTS = 7
CROSSED = "s enter n n n n n h left_square_bracket s N N N h n n n n n h up up up up up plus"
MEDIAN, P95, TIMES = 16.0, 33.0, 2.0
"""The bounds: ms from key to frame, and how many times an empty app's first frame ours may take."""

START = """
import sys, time
begun = float(sys.argv[1])
{setting_up}
display, taken = app._display, []
def shown(screen, frame):
    display(screen, frame)
    if frame is not None and {whole}:
        taken.append(1000 * (time.monotonic() - begun))
        app.exit()
app._display = shown
app.run(headless=True, size=(120, 40))
print(taken[0])
"""
EMPTY = START.format(setting_up="from textual.app import App\napp = App()", whole="True")
WHOLE = "any({word!r} in strip.text for strip in screen._compositor.render_strips())"
LIST = START.format(
    setting_up="import tutor.cli\nimport tutor.tui.app\napp = tutor.tui.app.TutorApp()",
    whole=WHOLE.format(word="Tasks"),
)
LESSON = START.format(
    setting_up="""
import tutor.cli
from tutor.lesson.reading import find_lesson
from tutor.tui.app import TutorApp
app = TutorApp(find_lesson("4"))
""",
    whole=WHOLE.format(word="Room with"),
)
HELP = "import sys, time, io, contextlib\nbegun = float(sys.argv[1])\nfrom tutor.cli import main\n" + (
    "with contextlib.redirect_stdout(io.StringIO()): main(['--help'])\nprint(1000 * (time.monotonic() - begun))"
)
BARE = "import sys, time\nprint(1000 * (time.monotonic() - float(sys.argv[1])))"


@dataclass(slots=True)
class Keys:
    """Milliseconds from each key to its frame, and of them in the engine."""

    whole: list[float] = field(default_factory=list)
    engine: list[float] = field(default_factory=list)

    @property
    def without(self) -> list[float]:
        return [whole - engine for whole, engine in zip(self.whole, self.engine, strict=True)]


class Letter(App[None]):
    """Shows the number of keys pressed, and nothing else: the least that a key can come to."""

    def compose(self) -> ComposeResult:
        self.count = 0
        yield Static("0")

    def on_key(self) -> None:
        self.count += 1
        self.query_one(Static).update(str(self.count))


async def least_times() -> list[float]:
    """Milliseconds from each key to its frame, for an app that shows one letter."""
    app, times = Letter(), list[float]()
    async with app.run_test(size=SIZE):
        painted = _painted(app)
        for _ in range(KEYS):
            times.append(await _to_frame(app, painted))
    return times


def _painted(app: App[Any]) -> asyncio.Event:
    """Is set whenever the app has handed a finished frame to the terminal."""
    painted, display = asyncio.Event(), app._display

    def shown(*arguments: Any) -> None:
        display(*arguments)
        painted.set()

    setattr(app, "_display", shown)  # noqa: B010
    return painted


async def _to_frame(app: App[Any], painted: asyncio.Event) -> float:
    """Milliseconds from a key to the frame after it."""
    driver = app._driver
    assert driver is not None
    painted.clear()
    begun = time.perf_counter()
    driver.send_message(events.Key("plus", "+"))
    await painted.wait()
    return 1000 * (time.perf_counter() - begun)


async def key_times(pause: float) -> Keys:
    """The times of many keys, each ``pause`` seconds after the last, or as soon as that has its frame."""
    keys, engine, work = Keys(), [0.0], ground._altered

    def timed(pattern: Pattern, plan: Plan) -> Altered | Refusal:
        begun = time.perf_counter()
        try:
            return work(pattern, plan)
        finally:
            engine[0] += 1000 * (time.perf_counter() - begun)

    async with driven("4", SIZE) as tutor:
        await tutor.press("n enter")
        await tutor.press(CROSSED)
        gc.collect()
        gc.freeze()
        painted = _painted(tutor.app)
        setattr(ground, "_altered", timed)  # noqa: B010
        for _ in range(KEYS):
            engine[0] = 0.0
            taken = await _to_frame(tutor.app, painted)
            keys.whole.append(taken)
            keys.engine.append(engine[0])
            await asyncio.sleep(max(pause - taken / 1000, 0.0))
    setattr(ground, "_altered", work)  # noqa: B010
    gc.unfreeze()
    return keys


def started(program: str) -> float:
    """Milliseconds from the start of a new process to what the program waits for."""
    command = [sys.executable, "-c", program, repr(time.monotonic())]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    return float(done.stdout.split()[0])


def opened(make: Callable[[], App[Any]]) -> float:
    """Milliseconds to the first frame of an app in this process."""
    begun, frames, app = time.perf_counter(), list[float](), make()
    display = app._display

    def shown(screen: Any, frame: Any) -> None:
        display(screen, frame)
        if frame is not None:
            frames.append(1000 * (time.perf_counter() - begun))
            app.exit()

    setattr(app, "_display", shown)  # noqa: B010
    app.run(headless=True, size=SIZE)
    return frames[0]


def in_turn(works: Mapping[str, Callable[[], float]]) -> dict[str, list[float]]:
    """The times of each work, which take turns, after one turn that doesn't count."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for turn in range(STARTS + 1):
        for name, work in works.items():
            taken = work()
            if turn:
                times[name].append(taken)
    return times


def bench_keys(table: Table) -> None:
    least = statistics.median(asyncio.run(least_times()))
    print("Key to frame, an app that shows one letter")
    table.row("median", least, "ms")
    for words, pause in (("held down, 30 a second", HELD), ("sent with the frame before it", 0.0)):
        keys = asyncio.run(key_times(pause))
        print(f"Key to frame, {words}: of {KEYS} keys")
        # No hand sends a key with a frame; but a key of which nothing was worked out ahead takes as long.
        table.row("median", statistics.median(keys.whole), "ms", MEDIAN)
        table.row("95th percentile", sorted(keys.whole)[int(0.95 * KEYS)], "ms", P95)
        table.row("least", min(keys.whole), "ms")
        table.row("median, times that of one letter", statistics.median(keys.whole) / least, "")
        table.row("median without the engine", statistics.median(keys.without), "ms")


def bench_starts(table: Table) -> None:
    programs = {"an empty Textual app": EMPTY, "the list of lessons": LIST, "lesson 4 at once": LESSON}
    works = {name: partial(started, program) for name, program in programs.items()}
    print(f"First frame, from the start of the process: median of {STARTS}")
    empty, lessons, lesson = in_turn(works).values()
    _rows(table, empty, {"the list of lessons": (lessons, TIMES), "lesson 4 opened at once": (lesson, None)})
    print(f"First frame, everything loaded before: median of {STARTS}")
    listed = whole_listing()[0]
    empty, lessons = in_turn(
        {"empty": lambda: opened(App), "list": lambda: opened(lambda: TutorApp(None, Desk(listed)))}
    ).values()
    _rows(table, empty, {"the list of lessons": (lessons, TIMES)})
    print(f"--help, from the start of the process: median of {STARTS}")
    bare, shown = in_turn({"bare": lambda: started(BARE), "help": lambda: started(HELP)}).values()
    table.row("Python alone", statistics.median(bare), "ms")
    table.row("sleeve-tutor --help", statistics.median(shown), "ms")


def _rows(table: Table, empty: list[float], ours: dict[str, tuple[list[float], float | None]]) -> None:
    floor = statistics.median(empty)
    table.row("an empty Textual app", floor, "ms")
    for words, (times, bound) in ours.items():
        taken = statistics.median(times)
        table.row(words, taken, "ms")
        table.row(f"{words}, times the empty app", taken / floor, "", bound)


def main() -> int:
    """Measures and prints; 1 when a bound is missed."""
    table = Table()
    bench_keys(table)
    bench_starts(table)
    return 0 if table.met else 1


if __name__ == "__main__":
    sys.exit(main())
