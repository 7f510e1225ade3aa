"""The clock of a quiz: even within a start of the computer, by the date from one to the next, and never backwards."""

import pytest
from quiz_driving import Hands

from tutor.quiz.clock import Clock, Times, spell
from tutor.quiz.spec import Pauses


def test_time_goes_by_an_even_clock_whatever_the_date_is_set_to() -> None:
    hands = Hands()
    clock = Clock.started(30, "count", hands.times)
    hands.go(60)
    hands.date -= 3600
    clock.look()
    assert (clock.elapsed, clock.open, clock.set_back, clock.left) == (60, 60, 3600, 29 * 60)
    hands.date += 7200
    hands.go(60)
    clock.look()
    assert (clock.elapsed, clock.left) == (120, 28 * 60)


def test_sleep_is_a_pause() -> None:
    hands = Hands()
    clock = Clock.started(30, "count", hands.times)
    hands.go(10)
    hands.sleep(600)
    clock.look()
    assert (clock.elapsed, clock.open) == (610, 10)


@pytest.mark.parametrize(("pauses", "left"), [("count", 30 * 60 - 1060), ("stop", 30 * 60 - 60)])
@pytest.mark.parametrize("start", ["one", "two", ""])
def test_a_pause_between_two_runs_counts_as_the_limit_says(pauses: Pauses, left: float, start: str) -> None:
    hands = Hands(start=start)
    clock = Clock.started(30, pauses, hands.times)
    hands.go(60)
    clock.look()
    stored = clock.stored()
    hands.sleep(1000)
    if start == "two":
        # The computer was started anew, and its even clock with it.
        hands.start, hands.even = "three", 3.0
    again = Clock.started(30, pauses, hands.times)
    again.resume(stored)
    assert (again.elapsed, again.open, again.left) == (1060, 60, left)
    assert again.begun == clock.begun


def test_a_date_set_back_between_two_starts_counts_as_no_time_and_is_told() -> None:
    hands = Hands()
    clock = Clock.started(30, "count", hands.times)
    hands.go(60)
    clock.look()
    stored = clock.stored()
    hands.start, hands.even, hands.date = "two", 3.0, hands.date - 86400
    again = Clock.started(30, "count", hands.times)
    again.resume(stored)
    assert (again.elapsed, again.set_back) == (60, 86400)


def test_the_time_is_up_and_not_before() -> None:
    hands = Hands()
    clock = Clock.started(1, "count", hands.times)
    for seconds, is_up in ((59, False), (1, True), (500, True)):
        hands.go(seconds)
        clock.look()
        assert clock.is_up is is_up
    assert clock.left == 0
    assert Clock.started(None, "count", hands.times).left is None


def test_the_computers_own_clocks_run_forward() -> None:
    times = Times()
    assert times.even() <= times.even()
    assert abs(times.date() - Clock.started(None, "count").begun) < 60
    assert times.start() == times.start()


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0, "0 s"), (59.9, "59 s"), (61, "1 min 1 s"), (1799, "29 min"), (3600, "1 h"), (3900, "1 h 5 min")],
)
def test_time_in_words(seconds: float, words: str) -> None:
    assert spell(seconds) == words
