"""The tutor in a real terminal."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from terminal import ROOT, Terminal, begin, environment, pid_of, tutor_in_terminal
from tutor_kill import kill
from tutor_passing import SIZES, pass_by_keys, pass_by_mouse

Passing = Callable[[Terminal], Iterator[str]]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("lesson", "passing"), [("4", pass_by_keys), ("6", pass_by_mouse)])
def test_a_lesson_is_passed_by_keys_alone_and_another_by_mouse_alone(
    lesson: str, passing: Passing, size: tuple[int, int]
) -> None:
    with tutor_in_terminal(["learn", lesson], *size) as terminal:
        for screen in passing(terminal):
            rows = screen.rstrip("\n").split("\n")
            assert len(rows) <= size[1]
            assert max(map(len, rows)) <= size[0]
        assert terminal.status() == 0


def test_done_wrongly_it_is_told_what_fell() -> None:
    with tutor_in_terminal(["learn", "4"]) as terminal:
        begin(terminal)
        # One slash from crown to hem, hinged at the hem, opened at the crown: the cap seam is torn open.
        terminal.press("Enter n Enter s Enter g")
        terminal.wait_for("Go to which place?")
        terminal.write("hem at\r")
        terminal.wait_for("From the crown to the hem")
        terminal.press("h Enter")
        terminal.wait_for("open by")
        terminal.write("3\r")
        terminal.wait_for("+3.0 cm")
        terminal.press("c")
        terminal.wait_for("Not passed yet")
        terminal.wait_for("The cap seam grew by")
        terminal.press("Enter")
        terminal.wait_for("not passed yet")
        terminal.press("q")
        assert terminal.status() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_told_to_end_it_ends_with_the_terminal_whole(number: signal.Signals) -> None:
    with tutor_in_terminal(["learn", "4"]) as terminal:
        terminal.wait_for("A minute's walk round the tutor")
        os.kill(pid_of(terminal), number)
        assert terminal.status() == 128 + number


AT_ONCE = ("_side", "render_lines")
"""What is needed for the very first screen."""
FAILING = """
from tutor.tui.{module} import {name}

def fail(*_):
    raise RuntimeError("a fault put in by the test")

{name}.{method} = fail
"""
TELLING = """
import sys, termios
from tutor.cli import main

status = main(["learn", "4"])
echo = termios.tcgetattr(0)[3] & termios.ECHO
print("ended with", status, "and echo", "on" if echo else "off", file=sys.stderr)
input()
sys.exit(status)
"""
"""Says how the tutor ended, and whether the terminal shows what is typed again."""


@pytest.mark.parametrize(
    ("module", "name", "method"),
    [
        ("marking_keys", "MarkingKeys", "do_hint"),
        ("lesson_face", "LessonFace", "_side"),
        ("picture", "Picture", "render_lines"),
        ("reader", "Reader", "action_done"),
    ],
)
def test_a_fault_of_its_own_leaves_the_terminal_whole(module: str, name: str, method: str, tmp_path: Path) -> None:
    script = FAILING.format(module=module, name=name, method=method) + TELLING
    terminal = Terminal([sys.executable, "-c", script], 80, 24, environment(tmp_path), tmp_path)
    try:
        if method not in AT_ONCE:
            begin(terminal)
            terminal.press("Enter h Enter")
        shown = " ".join(terminal.wait_for("ended with 2 and echo on").split())
        assert "sleeve-tutor: this is a fault of the program, at tutor/tui/" in shown
        assert "RuntimeError:afaultputinbythetest" in shown.replace(" ", "")
        assert "Traceback" not in shown
        # The lesson's own screen is gone from the terminal.
        assert "? Help" not in shown
        terminal.press("Enter")
        assert terminal.status() == 2
    finally:
        terminal.close()


@pytest.mark.parametrize(
    ("left_by", "status"),
    [("q", 0), ("\x03", 0), (signal.SIGTERM, 128 + signal.SIGTERM), (signal.SIGHUP, 128 + signal.SIGHUP)],
)
def test_however_it_is_left_the_terminal_is_whole(left_by: str | signal.Signals, status: int, tmp_path: Path) -> None:
    terminal = Terminal([sys.executable, "-c", TELLING], 80, 24, environment(tmp_path), tmp_path)
    try:
        begin(terminal)
        if isinstance(left_by, signal.Signals):
            os.kill(pid_of(terminal), left_by)
        else:
            terminal.press("Enter")
            terminal.write(left_by)
        screen = terminal.wait_for(f"ended with {status} and echo on")
        # The lesson's own screen is gone from the terminal.
        assert "? Help" not in screen
    finally:
        terminal.close()


def test_killed_while_keys_are_pressed_it_comes_back_to_what_was_shown() -> None:
    # The script does this 200 times.
    assert kill(3, seed=7) > 3


STUCK = """
import sys
from textual.drivers import _writer_thread
from tutor.cli import main

_writer_thread.MAX_QUEUED_WRITES = {waiting}
sys.exit(main(["learn", "4"]))
"""


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
@pytest.mark.parametrize("waiting", [2, 1000])
def test_a_terminal_that_takes_nothing_any_more_does_not_keep_it(waiting: int, number: signal.Signals) -> None:
    # With room for two frames the tutor itself has to wait for the terminal; with room for many it does not.
    master, slave = pty.openpty()
    # In so large a window a frame is more than the system keeps for a terminal that is not read.
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 200, 400, 0, 0))
    with tempfile.TemporaryDirectory() as home:
        words = [sys.executable, "-c", STUCK.format(waiting=waiting)]
        env = environment(Path(home))
        process = subprocess.Popen(words, stdin=slave, stdout=slave, stderr=slave, cwd=ROOT, env=env)
        try:
            seen = b""
            while b"minute" not in seen:
                assert select.select([master], [], [], 60)[0]
                seen = seen[-100:] + os.read(master, 65536)
            # From here on nothing is read: the rest of the screen stays unwritten.
            for _ in range(20):
                os.write(master, b"d")
                select.select([], [], [], 0.05)
            process.send_signal(number)
            assert process.wait(60) == 128 + number
        finally:
            process.kill()
            process.wait()
            os.close(master)
            os.close(slave)


def test_in_a_plain_locale_the_screen_is_plain_as_well() -> None:
    with tutor_in_terminal(["learn", "4"], LC_ALL="C") as terminal:
        begin(terminal)
        screen = terminal.wait_for("+-----")
        assert screen.isascii()
        terminal.press("Enter n Enter s Enter g")
        terminal.wait_for("Go to which place?")
        terminal.write("hem at\r")
        terminal.wait_for("From the crown to the hem")
        terminal.press("h")
        # The signs of a cut end and of a hinge, in plain letters.
        assert terminal.wait_for("A x crown - hem o").isascii()
        terminal.press("q")
        assert terminal.status() == 0


def test_a_terminal_that_hangs_up_without_a_signal_ends_it() -> None:
    master, slave = pty.openpty()
    with tempfile.TemporaryDirectory() as home:
        words = [sys.executable, "-m", "tutor", "learn", "4"]
        env = environment(Path(home))
        # It is no session of its own, so that nobody sends it a signal.
        process = subprocess.Popen(words, stdin=slave, stdout=slave, stderr=slave, cwd=ROOT, env=env)
        try:
            os.close(slave)
            assert select.select([master], [], [], 60)[0]
            while select.select([master], [], [], 2)[0]:
                os.read(master, 65536)
            os.close(master)
            assert process.wait(30) != 0
        finally:
            process.kill()
            process.wait()
