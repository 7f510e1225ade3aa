"""The tutor in a real terminal."""

import os
import signal

import pytest
from terminal import pass_lesson_4, pid_of, tutor_in_terminal
from tutor_kill import kill


def test_lesson_4_is_passed_by_keys_alone_at_80_x_24() -> None:
    with tutor_in_terminal(["learn", "4"]) as terminal:
        for screen in pass_lesson_4(terminal):
            rows = screen.rstrip("\n").split("\n")
            assert len(rows) <= 24
            assert max(map(len, rows)) <= 80
        assert terminal.status() == 0


def test_done_wrongly_it_is_told_what_fell() -> None:
    with tutor_in_terminal(["learn", "4"]) as terminal:
        terminal.wait_for("A minute's walk round the tutor")
        # One slash from crown to hem, hinged at the hem, opened at the crown: the cap seam is torn open.
        terminal.press("Enter Enter n Enter s Enter g")
        terminal.wait_for("Go to which place?")
        terminal.write("hem at\r")
        terminal.wait_for("From the crown to the hem")
        terminal.press("h Enter")
        terminal.wait_for("open by")
        terminal.write("3\r")
        terminal.wait_for("+3.0 cm")
        terminal.press("c")
        screen = " ".join(terminal.wait_for("Not passed yet").split())
        assert "The cap seam grew by" in screen
        terminal.press("Enter")
        terminal.wait_for("u takes the last step back")
        terminal.press("q")
        assert terminal.status() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_told_to_end_it_ends_with_the_terminal_whole(number: signal.Signals) -> None:
    with tutor_in_terminal(["learn", "4"]) as terminal:
        terminal.wait_for("A minute's walk round the tutor")
        os.kill(pid_of(terminal), number)
        assert terminal.status() == 128 + number


def test_killed_while_keys_are_pressed_it_comes_back_to_what_was_shown() -> None:
    # The script does this 200 times.
    assert kill(3, seed=7) > 3


@pytest.mark.parametrize(("columns", "rows"), [(60, 20), (120, 40)])
def test_lesson_4_is_passed_at_other_sizes(columns: int, rows: int) -> None:
    with tutor_in_terminal(["learn", "4"], columns, rows) as terminal:
        screens = list(pass_lesson_4(terminal))
        assert terminal.status() == 0
    for screen in screens:
        lines = screen.rstrip("\n").split("\n")
        assert len(lines) <= rows
        assert max(map(len, lines)) <= columns
