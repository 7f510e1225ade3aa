"""The end that comes in any case, where the one that is asked for does not."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from threading import Timer
from typing import Any

SHOWN_AGAIN = b"\x1b[?1000l\x1b[?1003l\x1b[?1006l\x1b[?1015l\x1b[?2004l\x1b[?1004l\x1b[<u\x1b[?7h\x1b[?1049l\x1b[?25h"
"""What takes back mouse, pastes, focus reports, keys and lines, and shows the first screen and the cursor."""


def end_after(seconds: float, status: int, driver: Any) -> None:
    """Ends the process with a status when it has not ended by itself by then.

    A terminal that takes nothing any more can hold up an end in good order for ever. All that was done is kept
    already, so that nothing is lost. ``driver`` has the terminal's attributes from before, if anything has.
    """
    timer = Timer(seconds, _end, (status, driver))
    timer.daemon = True
    timer.start()


def _end(status: int, driver: Any) -> None:
    try:
        _restore(getattr(driver, "attrs_before", None))
    finally:
        os._exit(status)


def _restore(attributes: Any) -> None:
    """Puts the terminal in order as far as that goes without waiting for it."""
    if attributes is None or sys.__stdin__ is None or sys.__stderr__ is None:
        return
    import termios

    with suppress(OSError, ValueError, termios.error):
        termios.tcsetattr(sys.__stdin__.fileno(), termios.TCSANOW, attributes)
        os.set_blocking(sys.__stderr__.fileno(), False)
        os.write(sys.__stderr__.fileno(), SHOWN_AGAIN)
