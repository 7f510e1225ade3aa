"""A quiz killed with SIGKILL while answers are given: the next start has what was last shown, or what came after.

    python tests/quiz_kill.py [ROUNDS]

Half of the rounds answer by keys in a terminal, where the process is stopped and its screen read before it is killed;
half line by line through a pipe, where what has come out of it by then counts as shown.
"""

from __future__ import annotations

import os
import random
import re
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

from terminal import ROOT, Terminal, environment, pid_of

ROUNDS = 100
LETTERS = "ABCD"
BEGIN = ("--lessons", "7", "--count", "1", "--seed", "11", "--units", "cm")
"""A quiz whose only question is to be answered by a letter."""
_SHOWN = re.compile(r"Your answer (?:to question 1 )?is ([A-D]),")
_READY = re.compile(r"Your answer is|Type the letter of your answer")
PROGRAM = (sys.executable, "-m", "tutor", "quiz")


def kill(rounds: int, seed: int) -> int:
    """Does all rounds and gives the number of answers sent. AssertionError where one that was shown was lost."""
    chance = random.Random(seed)
    sent = 0
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        possible = [""]
        for number in range(rounds):
            by = by_keys if number % 2 else line_by_line
            letters = "".join(chance.choices(LETTERS, k=chance.randrange(1, 12)))
            found, shown = by(home, BEGIN if not number else (), letters, chance.uniform(0, 0.3))
            assert found in possible, f"round {number}: {possible} may have been kept, {found!r} came back"
            possible = ([found, *letters])[shown:]
            sent += len(letters)
    return sent


def line_by_line(home: Path, begin: tuple[str, ...], letters: str, after: float) -> tuple[str, int]:
    """The answer that came back, and how many of the letters typed since were shown before it was killed."""
    words = [*PROGRAM, *begin, "--plain"]
    env = environment(home) | {"PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        words, env=env, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        before = ""
        while not _READY.search(before):
            line = process.stdout.readline()
            assert line, before
            before += line
        process.stdin.write("".join(f"{letter}\n" for letter in letters))
        try:
            process.wait(after)
        except subprocess.TimeoutExpired:
            process.kill()
        rest = process.stdout.read()
    assert process.returncode == -signal.SIGKILL, rest
    kept = _SHOWN.findall(before)
    shown = _SHOWN.findall(rest)
    assert shown == list(letters[: len(shown)]), rest
    return (kept[-1] if kept else ""), len(shown)


def by_keys(home: Path, begin: tuple[str, ...], letters: str, after: float) -> tuple[str, int]:
    """The same on the screen."""
    with tempfile.TemporaryDirectory() as folder:
        terminal = Terminal([*PROGRAM, *begin], 80, 24, environment(home), Path(folder))
        try:
            terminal.wait_for("70 of 100 passes")
            terminal.press("Enter")
            terminal.wait_for("Question 1 of 1, lesson 7")
            terminal.press("Enter")
            terminal.wait_for("question 1 of 1")
            before = terminal.settled()
            pid = pid_of(terminal)
            for letter in letters:
                terminal.write(letter)
            terminal.rest(after)
            os.kill(pid, signal.SIGSTOP)
            now = _SHOWN.findall(_flat(terminal.screen()))
            os.kill(pid, signal.SIGKILL)
            assert terminal.status() == 128 + signal.SIGKILL
        finally:
            terminal.close()
    kept = _SHOWN.findall(_flat(before))
    start = kept[-1] if kept else ""
    last = now[-1] if now else ""
    # The same letter may have been shown at several moments: no more is known to be kept than at the first of them.
    return start, [start, *letters].index(last)


def _flat(screen: str) -> str:
    return " ".join(screen.split())


if __name__ == "__main__":
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    print(f"killed {rounds} times, {kill(rounds, 1)} answers sent, nothing lost")
