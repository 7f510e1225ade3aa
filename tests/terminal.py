"""A program in a real terminal: keys typed into it, and what its screen shows.

Where tmux is installed the program runs in it, and the screen is what tmux says it is. Without tmux it runs on a bare
pseudo terminal, and what it prints is laid out by a terminal emulator written in Python (emulator.py).
"""

from __future__ import annotations

import errno
import fcntl
import os
import pty
import select
import shutil
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from emulator import Emulator

ROOT = Path(__file__).resolve().parent.parent
KEYS = {
    "Enter": "\r",
    "Esc": "\x1b",
    "Tab": "\t",
    "Up": "\x1b[A",
    "Down": "\x1b[B",
    "Right": "\x1b[C",
    "Left": "\x1b[D",
}
PATIENCE = 30.0
"""Seconds to wait for a text; a loaded machine may take a few."""
STILL = 0.1
"""Seconds without a change after which the screen counts as still."""
NOT_OURS = ("NO_COLOR", "TMUX", "COLUMNS", "LINES")
"""Variables of the terminal that the tests run in."""


Cell = tuple[int, int]
"""Column and row, from 0."""


class Terminal:
    """A program at work in a terminal of so many columns and rows."""

    def __init__(self, program: Sequence[str], columns: int, rows: int, env: Mapping[str, str], folder: Path) -> None:
        self.status_file = folder / "status"
        self._socket = f"tutor-{os.getpid()}-{id(self)}" if shutil.which("tmux") else ""
        self._emulator = Emulator(columns, rows)
        script = 'status=$1; shift; "$@"; echo $? >"$status"'
        command = ["sh", "-c", script, "sh", str(self.status_file), *program]
        if self._socket:
            plain = ("set", "-g", "status", "off", ";", "set", "-s", "escape-time", "0", ";")
            command = [*self._tmux, *plain, "new-session", "-x", str(columns), "-y", str(rows), *command]
        self._pid, self._master = pty.fork()
        if self._pid == 0:
            os.chdir(ROOT)
            os.execvpe(command[0], command, dict(env))
        self.resize(columns, rows)

    @property
    def _tmux(self) -> list[str]:
        return ["tmux", "-L", self._socket, "-f", os.devnull]

    def press(self, keys: str) -> None:
        """Presses keys, separated by blanks."""
        for key in keys.split():
            self.write(KEYS.get(key, key))

    def write(self, text: str) -> None:
        """Types a text."""
        os.write(self._master, text.encode())

    def resize(self, columns: int, rows: int) -> None:
        """Makes the window another size."""
        fcntl.ioctl(self._master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self._emulator.resize(columns, rows)

    def click(self, place: Cell, *, drag_to: Cell | None = None) -> None:
        """Presses the mouse's first button at a cell and lets it go there, or at another that it is dragged to."""
        end = drag_to or place
        self.write(_mouse(0, place) + (_mouse(32, end) if drag_to else "") + _mouse(0, end, released=True))

    def wheel(self, place: Cell, turns: int) -> None:
        """Turns the wheel over a cell: up, or down where ``turns`` is negative."""
        self.write(abs(turns) * _mouse(64 if turns > 0 else 65, place))

    def place_of(self, text: str) -> Cell:
        """The cell where a text begins on the screen as it is, and of several the one furthest to the left."""
        found = [(row.find(text), k) for k, row in enumerate(self.screen().split("\n")) if text in row]
        if not found:
            raise AssertionError(f"{text!r} does not stand on\n{self.screen()}")
        return min(found)

    def click_on(self, text: str) -> None:
        """Clicks on a text as soon as it is there, and nothing on the screen moves any more: a hand is not faster."""
        self.wait_for(text)
        self.settled()
        self.click(self.place_of(text))

    def settled(self) -> str:
        """The screen, once nothing on it moves any more."""
        before, now = None, self.screen()
        while now != before:
            self.rest(STILL)
            before, now = now, self.screen()
        return now

    def screen(self) -> str:
        """What the terminal shows."""
        self._listen(0)
        if not self._socket:
            return self._emulator.text
        shown = subprocess.run([*self._tmux, "capture-pane", "-p"], capture_output=True, text=True, check=False)
        return shown.stdout

    def wait_for(self, text: str) -> str:
        """The screen, as soon as the text stands on it, however it is broken into lines."""
        until = time.monotonic() + PATIENCE
        while text not in " ".join((screen := self.screen()).split()):
            if time.monotonic() > until:
                raise AssertionError(f"{text!r} never came to stand on\n{screen}")
            self._listen(0.2)
        return screen

    def status(self) -> int:
        """The exit status of the program, once it has ended."""
        until = time.monotonic() + PATIENCE
        while not (self.status_file.is_file() and (text := self.status_file.read_text(encoding="ascii")).strip()):
            if time.monotonic() > until:
                raise AssertionError(f"the program does not end\n{self.screen()}")
            self._listen(0.1)
        return int(text)

    def rest(self, seconds: float) -> None:
        """Lets the program work for so long."""
        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0:
            select.select([], [], [], left)

    def close(self) -> None:
        """Ends the terminal, and the program with it."""
        if self._socket:
            subprocess.run([*self._tmux, "kill-server"], capture_output=True, check=False)
        with suppress(OSError):
            os.close(self._master)
        with suppress(ChildProcessError):
            os.waitpid(self._pid, 0)

    def _listen(self, seconds: float) -> None:
        """Reads what is printed, waiting at most so long for the first of it."""
        while select.select([self._master], [], [], seconds)[0]:
            try:
                printed = os.read(self._master, 65536)
            except OSError as error:
                if error.errno != errno.EIO:
                    raise
                return
            if not printed:
                return
            if not self._socket:
                self._emulator.feed(printed)
            seconds = 0


def _mouse(button: int, place: Cell, *, released: bool = False) -> str:
    """A report of the mouse as terminals send it in their SGR mode (ctlseqs of xterm, "SGR (1006)")."""
    return f"\x1b[<{button};{place[0] + 1};{place[1] + 1}{'m' if released else 'M'}"


def environment(home: Path, **variables: str) -> dict[str, str]:
    """The environment of a tutor whose records and settings lie in a folder of its own."""
    env = {name: value for name, value in os.environ.items() if name not in NOT_OURS}
    homes = {f"XDG_{kind}_HOME": str(home) for kind in ("DATA", "CONFIG", "STATE", "CACHE")}
    return env | {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8", "SLEEVE_TUTOR_DATA": str(home), **homes, **variables}


@contextmanager
def tutor_in_terminal(
    arguments: Sequence[str], columns: int = 80, rows: int = 24, **variables: str
) -> Iterator[Terminal]:
    """The tutor in a terminal, its records and settings in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        program = [sys.executable, "-m", "tutor", *arguments]
        terminal = Terminal(program, columns, rows, environment(home, **variables), home)
        try:
            yield terminal
        finally:
            terminal.close()


def begin(terminal: Terminal) -> None:
    """Ends the walk round that a new learner is shown, and waits for the brief of lesson 4."""
    terminal.wait_for("A minute's walk round the tutor")
    # Whatever follows Esc at once would be taken for a key pressed with Alt.
    terminal.press("Esc")
    terminal.wait_for("Mirjam's")


def pid_of(terminal: Terminal) -> int:
    """The process of the program in a terminal: the child of the shell that will write down its status."""
    listed = subprocess.run(["ps", "-ww", "-eo", "pid=,ppid=,args="], capture_output=True, text=True, check=True).stdout
    rows = [line.split(None, 2) for line in listed.splitlines()]
    shells = {pid for pid, _, words in rows if str(terminal.status_file) in words and words.startswith("sh ")}
    return next(int(pid) for pid, parent, _ in rows if parent in shells)
