"""How long it takes from a key to the repainted frame, headless, at 120 x 40, the crossed slashes open.

Run it as a script. It prints the median and the 95th percentile in ms, and the first frame against that of an empty
Textual app in the same run.
"""

from __future__ import annotations

import tutor.tui  # noqa: F401  (before Textual, as in the program: it says how often Textual paints)

# isort: split
import asyncio
import gc
import statistics
import time
from typing import Any

from textual import events
from textual.app import App
from tutor_driving import driven

SIZE = (120, 40)
KEYS = 80
CROSSED = "s enter n n n n n h left_square_bracket s N N N h n n n n n h up up up up up plus"


async def key_times() -> list[float]:
    """Seconds from each of many keys, each opening a little more, to the end of its repaint."""
    async with driven("4", SIZE) as tutor:
        await tutor.press("n enter")
        await tutor.press(CROSSED)
        gc.collect()
        gc.freeze()
        painted = asyncio.Event()
        display = tutor.app._display

        def shown(*arguments: Any) -> None:
            display(*arguments)
            painted.set()

        # Where Textual hands a finished frame to the terminal.
        setattr(tutor.app, "_display", shown)  # noqa: B010
        driver = tutor.app._driver
        assert driver is not None
        times = []
        # A millimetre more each time, so that no plan has been worked out before.
        for _ in range(KEYS):
            painted.clear()
            begun = time.perf_counter()
            driver.send_message(events.Key("plus", "+"))
            await painted.wait()
            times.append(time.perf_counter() - begun)
        return times


async def first_frame(make: Any) -> float:
    """Seconds from the making of an app to its first frame."""
    begun = time.perf_counter()
    async with make() as pilot:
        del pilot
        return time.perf_counter() - begun


async def empty() -> float:
    return await first_frame(lambda: App[None]().run_test(size=SIZE))


async def ours() -> float:
    return await first_frame(lambda: driven("4", SIZE, brief_closed=False))


def main() -> None:
    """Measures and prints."""
    times = sorted(1000 * seconds for seconds in asyncio.run(key_times()))
    print(f"key to frame: median {statistics.median(times):.1f} ms, p95 {times[int(0.95 * len(times))]:.1f} ms")
    asyncio.run(empty()), asyncio.run(ours())
    plain, first = (min(asyncio.run(each()) for _ in range(5)) for each in (empty, ours))
    print(f"first frame: {1000 * first:.0f} ms, an empty app {1000 * plain:.0f} ms, {first / plain:.2f} times")


if __name__ == "__main__":
    main()
