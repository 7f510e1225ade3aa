"""A program in a real terminal: keys typed into it, and what its screen shows.

Where tmux is installed the program runs in it, and the screen is what tmux says it is. Without tmux it runs on a bare
pseudo terminal, and the screen is all that was ever printed, control sequences taken out.

Run as a script it passes lesson 4 at 80 x 24, by keys alone, and prints the screens on the way.
"""

from __future__ import annotations

import errno
import fcntl
import os
import pty
import re
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
_CONTROL = re.compile(
    r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[PX^_].*?\x1b\\|\][^\x07\x1b]*(?:\x07|\x1b\\)|[@-Z\\-_])|[\x00-\x09\x0b-\x1f]"
)
NOT_OURS = ("NO_COLOR", "TMUX", "COLUMNS", "LINES")
"""Variables of the terminal that the tests run in."""


class Terminal:
    """A program at work in a terminal of so many columns and rows."""

    def __init__(self, program: Sequence[str], columns: int, rows: int, env: Mapping[str, str], folder: Path) -> None:
        self.status_file = folder / "status"
        self._socket = f"tutor-{os.getpid()}-{id(self)}" if shutil.which("tmux") else ""
        self._printed = ""
        script = 'status=$1; shift; "$@"; echo $? >"$status"'
        command = ["sh", "-c", script, "sh", str(self.status_file), *program]
        if self._socket:
            plain = ("set", "-g", "status", "off", ";", "set", "-s", "escape-time", "0", ";")
            command = [*self._tmux, *plain, "new-session", "-x", str(columns), "-y", str(rows), *command]
        self._pid, self._master = pty.fork()
        if self._pid == 0:
            os.chdir(ROOT)
            os.execvpe(command[0], command, dict(env))
        fcntl.ioctl(self._master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

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

    def screen(self) -> str:
        """What the terminal shows."""
        self._listen(0)
        if not self._socket:
            return self._printed
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
                self._printed += _CONTROL.sub(" ", printed.decode(errors="replace"))
            seconds = 0


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


def pid_of(terminal: Terminal) -> int:
    """The process of the program in a terminal: the child of the shell that will write down its status."""
    listed = subprocess.run(["ps", "-ww", "-eo", "pid=,ppid=,args="], capture_output=True, text=True, check=True).stdout
    rows = [line.split(None, 2) for line in listed.splitlines()]
    shells = {pid for pid, _, words in rows if str(terminal.status_file) in words and words.startswith("sh ")}
    return next(int(pid) for pid, parent, _ in rows if parent in shells)


def pass_lesson_4(terminal: Terminal) -> Iterator[str]:
    """Passes lesson 4 by keys alone, task by task; gives the screens worth looking at."""
    yield terminal.wait_for("A minute's walk round the tutor")
    terminal.press("Enter")
    yield terminal.wait_for("Room with the cap seam kept")
    terminal.press("Enter Enter")
    terminal.wait_for("your answer, in cm")
    terminal.write("12.3\r")
    yield terminal.wait_for("Passed: 100 of 100")
    terminal.press("n Enter s Enter g")
    terminal.wait_for("Go to which place?")
    terminal.write("hem at\r")
    yield terminal.wait_for("From the crown to the hem at the grain")
    terminal.press("h [ s g")
    terminal.wait_for("Go to which place?")
    terminal.write("back under\rh")
    terminal.wait_for("Starts at the back underarm point")
    terminal.press("g")
    terminal.wait_for("Go to which place?")
    terminal.write("front under\r")
    yield terminal.wait_for("From the back underarm point to the front underarm point")
    terminal.press("h k k k k Enter")
    terminal.wait_for("open by")
    terminal.write("3.1\r")
    yield terminal.wait_for("A at B, hem side is +3.1 cm")
    terminal.press("c")
    yield terminal.wait_for("Every goal is met.")
    terminal.press("n")
    yield terminal.wait_for("passed, 100 of 100")
    terminal.press("q")


def main() -> None:
    """Passes the lesson and prints the screens."""
    with tutor_in_terminal(["learn", "4"]) as terminal:
        for screen in pass_lesson_4(terminal):
            print(screen, end=f"\n{'=' * 80}\n")
        print(f"exit status {terminal.status()}")


if __name__ == "__main__":
    main()
