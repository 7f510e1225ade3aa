"""The tutor killed with SIGKILL while keys are pressed: the next start shows what was last shown, or what came after.

Each round the process is stopped, its screen is read, it is killed, and the next one is opened. The amount of an
opening counts the keys: a millimetre each. Run as a script it does so 200 times.
"""

from __future__ import annotations

import os
import random
import re
import signal
import sqlite3
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from terminal import Terminal, begin, environment, pid_of

ROUNDS = 200
CHOSEN = "> at the crown +"
_AMOUNT = re.compile(re.escape(CHOSEN) + r"(\d+\.\d) cm")


def opened(terminal: Terminal) -> float:
    """A tutor of its own, at lesson 4's task on the pattern, with one slash opened a little; the amount in cm."""
    begin(terminal)
    terminal.press("Enter n Enter s Enter n n n n n h +")
    return amount_in(terminal.wait_for(CHOSEN))


def amount_in(screen: str) -> float:
    """The amount of the chosen opening in cm, as the plan says it."""
    found = _AMOUNT.search(" ".join(screen.split()))
    assert found is not None, screen
    return float(found[1])


def killed(terminal: Terminal, keys: int, after: float) -> float:
    """Presses + so often, waits, stops the tutor, reads the amount on its screen in cm, and kills it."""
    pid = pid_of(terminal)
    for _ in range(keys):
        terminal.write("+")
    terminal.rest(after)
    os.kill(pid, signal.SIGSTOP)
    shown = amount_in(terminal.screen())
    os.kill(pid, signal.SIGKILL)
    assert terminal.status() == 128 + signal.SIGKILL
    return shown


def kill(rounds: int, seed: int, program: Sequence[str] = (sys.executable, "-m", "tutor", "learn", "4")) -> int:
    """Does all rounds and gives the number of keys pressed. AssertionError where anything shown was lost."""
    chance = random.Random(seed)
    pressed = 0
    with tempfile.TemporaryDirectory() as home:
        sent = low = 0.1
        for number in range(rounds):
            with tempfile.TemporaryDirectory() as folder:
                terminal = Terminal(program, 80, 24, environment(Path(home)), Path(folder))
                try:
                    found = opened(terminal) if not number else amount_in(terminal.wait_for(CHOSEN))
                    assert low - 1e-9 <= found <= sent + 1e-9, f"{low} was shown, {sent} sent, {found} came back"
                    keys = chance.randrange(1, 12)
                    low = killed(terminal, keys, chance.uniform(0, 0.25))
                    sent = found + keys / 10
                    pressed += keys
                    if sent > 8:
                        _start_over(Path(home))
                        sent = low = 0.1
                finally:
                    terminal.close()
        _whole(Path(home))
    return pressed


def _start_over(home: Path) -> None:
    """Shuts the opening to a millimetre again, by keys, and leaves the tutor as one does."""
    with tempfile.TemporaryDirectory() as folder:
        program = (sys.executable, "-m", "tutor", "learn", "4")
        terminal = Terminal(program, 80, 24, environment(home), Path(folder))
        try:
            terminal.wait_for(CHOSEN)
            terminal.press("Enter")
            terminal.wait_for("open by")
            terminal.write("0.1\r")
            terminal.wait_for("+0.1 cm. + and -")
            terminal.press("q")
            terminal.status()
        finally:
            terminal.close()


def _whole(home: Path) -> None:
    """Every database left behind is whole."""
    files = [path for path in home.rglob("*") if path.suffix in (".db", ".sqlite", ".sqlite3")]
    assert files, list(home.rglob("*"))
    for path in files:
        connection = sqlite3.connect(path)
        try:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        finally:
            connection.close()


if __name__ == "__main__":
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    print(f"killed {rounds} times, {kill(rounds, 1)} keys pressed, nothing lost")
