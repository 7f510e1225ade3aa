"""Practice when it is due: what went wrong comes back at once, the rest before it is forgotten; the reason is told."""

import io
from datetime import UTC, timedelta
from pathlib import Path

import pytest
import schedule_simulated
from lessons_for_tests import small_lesson
from quiz_driving import small_sitting
from schedule_simulated import FIRST, Go

from tutor import cli
from tutor.practice.due import LONGEST, due, scheduled
from tutor.practice.due_words import due_reason
from tutor.practice.offers import nothing_due, offers
from tutor.practice.session import Session
from tutor.record import open_record
from tutor.units import Unit

DAY = timedelta(days=1)


def intervals(outcomes: str) -> list[float]:
    """The days until a task comes back, tried each time on the day it is due: r for right, w for wrong."""
    goes: list[Go] = []
    now, found = FIRST, []
    for outcome in outcomes:
        goes.append(Go("a", 1, now, outcome == "r"))
        (each,) = scheduled(goes, now)
        found.append((each.due - now) / DAY)
        now = each.due
    return found


def test_what_goes_right_comes_back_later_each_time_and_at_last_after_the_longest_time() -> None:
    found = intervals("rrrrrr")
    assert found == sorted(found)
    assert found[0] >= 1
    assert found[-1] == LONGEST


@pytest.mark.parametrize("before", ["", "r", "rrr", "rrrrrr", "w", "wrw"])
def test_a_mistake_comes_back_the_next_day_whatever_came_before(before: str) -> None:
    assert intervals(before + "w")[-1] == 1


def test_it_comes_back_when_one_in_ten_would_have_forgotten() -> None:
    # By the definition of stability in FSRS, recall is 0.9 when as many days have gone by (py-fsrs, README); intervals
    # are whole days.
    goes = [Go("a", 1, FIRST, True)]
    for _ in range(3):
        now = scheduled(goes, goes[-1].time)[0].due
        assert scheduled(goes, now)[0].recall == pytest.approx(0.9, abs=0.03)
        goes.append(Go("a", 1, now, True))


def test_tries_of_one_sitting_are_one_go_and_anything_wrong_in_it_counts() -> None:
    minutes = [Go("a", 1, FIRST + timedelta(minutes=k), k == 3) for k in range(4)]
    (each,) = scheduled(minutes, FIRST + DAY)
    assert (each.goes, each.missed, each.due - FIRST) == (1, True, DAY)
    hinted = [Go("a", 1, FIRST, True, hints=1)]
    assert scheduled(hinted, FIRST)[0].due - FIRST < 2 * DAY
    shown = [Go("a", 1, FIRST, True, shown=True)]
    assert scheduled(shown, FIRST)[0].due - FIRST == DAY


def test_it_is_due_for_all_of_the_day() -> None:
    goes = [Go("a", 1, FIRST, False)]
    assert not due(goes, FIRST + timedelta(hours=3))
    assert due(goes, FIRST + timedelta(hours=21))


def test_a_clock_that_was_wrong_puts_nothing_off_for_years() -> None:
    now = FIRST + DAY
    goes = [Go("a", 1, FIRST + 3000 * DAY, False), Go("a", 1, FIRST - 3000 * DAY, False)]
    assert scheduled(goes[:1], now)[0].due <= now + 2 * DAY
    assert scheduled(goes, now)[0].due <= now + 2 * DAY


def test_what_went_wrong_comes_first_and_then_what_is_most_forgotten() -> None:
    goes = [Go("a", 1, FIRST, True), Go("a", 2, FIRST + DAY, False), Go("a", 3, FIRST - 20 * DAY, True)]
    assert [each.task for each in due(goes, FIRST + 4 * DAY)] == [2, 3, 1]


def test_the_reason_is_told(tmp_path: Path) -> None:
    now = FIRST + 2 * DAY
    wrong, right, shown = (
        scheduled([each], now)[0]
        for each in (
            Go("a", 1, FIRST + DAY, False, mistake="no-ease"),
            Go("a", 1, FIRST, True),
            Go("a", 1, FIRST, True, shown=True),
        )
    )
    assert due_reason(wrong, now) == "It went wrong yesterday: the wearing ease left out."
    assert due_reason(right, now).startswith("You did it right 2 days ago; of 100 people 9 ")
    assert due_reason(shown, now) == "You had the worked solution shown 2 days ago."


def test_only_tasks_that_are_there_are_offered(tmp_path: Path) -> None:
    lessons = {"small": small_lesson(tmp_path)}
    goes = [Go("small", 2, FIRST, False), Go("small", 9, FIRST, False), Go("gone", 1, FIRST, False)]
    (offer,) = offers(goes, lessons, FIRST + DAY)
    assert (offer.task, offer.seed) == (2, 2)
    assert "comes back tomorrow" in nothing_due(goes[:1], lessons, FIRST)
    assert nothing_due([], lessons, FIRST) == "Nothing is due: nothing was practised yet."


def test_a_mistake_made_comes_back_within_two_days_for_simulated_learners() -> None:
    # The script simulates a hundred learners.
    learners = schedule_simulated.simulate(4, 60)
    wrong = schedule_simulated.returns(learners, passed=False)
    assert len(wrong) > 20
    assert max(wrong) < 2
    assert schedule_simulated.still_waiting(learners, 60) <= 2
    assert max(schedule_simulated.returns(learners, passed=True)) > 7


def test_learn_without_a_lesson_offers_what_is_due(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from tutor.lesson.reading import find_lesson

    with open_record() as record:
        session = Session(find_lesson("7"), Unit.CM)
        session.answer("99 cm")
        record.save(session)
        made = record.attempts()[-1].time
    assert cli.main(["learn", "--plain"]) == 0
    assert "Nothing is due. Lesson 7, The armhole answers, comes back tomorrow." in capsys.readouterr().out

    monkeypatch.setattr("tutor.commands.learn.now", lambda: made + DAY)
    monkeypatch.setattr("sys.stdin", io.StringIO("7\n1\nquit\n"))
    assert cli.main(["learn", "--plain", "--units", "cm"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "1. Lesson 7, The armhole answers: What width and depth add up to. It went wrong yesterday." in said
    assert '"7" is no number of these' in said
    assert "Lesson 7: The armhole answers, variant 2" in said
    assert UTC is made.tzinfo


def test_line_by_line_an_open_quiz_is_told_until_it_is_handed_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = small_sitting(tmp_path)
    told = "A quiz is open: sleeve-tutor quiz goes on with it."
    for over in (False, True):
        with open_record() as record:
            left = record.resume_quiz(sitting.lessons) or sitting
            if over:
                left.hand_in()
            record.save_quiz(left)
        for command in (["learn", "--plain"], ["progress"]):
            assert cli.main(command) == 0
            assert (told in capsys.readouterr().out) is not over
