"""Progress over time: by lesson and by kind of mistake, as a table, a plot, a spreadsheet's table and JSON."""

import csv
import io
import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

import pytest

from tutor import cli
from tutor.picture.graph import LOOKS, Line, graph
from tutor.record.attempts import KeptAttempt
from tutor.record.weeks import mistakes_made, monday, weeks

NOW = datetime(2027, 3, 11, 18, 0, tzinfo=UTC)
"""A Thursday."""
DAY = timedelta(days=1)


def attempt(ago: float, passed: bool, mistake: str | None = None, lesson: str = "a") -> KeptAttempt:
    mark = 1.0 if passed else 0.25
    return KeptAttempt(lesson, None, 1, 1, "1", "cm", mark, passed, mistake, 0, False, NOW - ago * DAY)


@pytest.fixture(autouse=True)
def _in_utc(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "UTC")


def test_weeks_begin_on_mondays() -> None:
    # ISO 8601 counts weeks from Monday; 8 March 2027 is one, by the standard library's calendar.
    assert monday(NOW) == date(2027, 3, 8)
    assert date(2027, 3, 8).isoweekday() == 1


def test_what_was_done_is_counted_week_by_week() -> None:
    made = [
        attempt(30, True),
        attempt(9, False, "no-ease"),
        attempt(9, True, lesson="b"),
        attempt(1, False, "no-ease"),
        attempt(0, True),
    ]
    found = weeks(made, NOW, 8)
    assert [week.start.isoformat() for week in found] == [
        f"2027-0{m}-{d}" for m, d in ((2, "08"), (2, "15"), (2, "22"), (3, "01"), (3, "08"))
    ]
    assert [(week.all.tries, week.all.right) for week in found] == [(1, 1), (0, 0), (0, 0), (2, 1), (2, 1)]
    assert found[-1].all.mean == pytest.approx((1 + 0.25) / 2)
    assert found[1].all.mean is None
    assert [week.mistakes for week in found] == [{}, {}, {}, {"no-ease": 1}, {"no-ease": 1}]
    assert set(found[3].lessons) == {"a", "b"}
    assert len(weeks(made, NOW, 2)) == 2


def test_a_clock_that_was_wrong_makes_no_week_of_its_own() -> None:
    (week,) = weeks([attempt(-4000, True)], NOW, 8)
    assert (week.start, week.all.tries) == (date(2027, 3, 8), 1)


def test_mistakes_come_with_how_often_and_when() -> None:
    made = [attempt(9, False, "no-ease"), attempt(5, False, "per-side", "b"), attempt(1, False, "no-ease", "b")]
    first, second = mistakes_made(made)
    assert (first.name, first.times, first.lessons) == ("no-ease", 2, ("a", "b"))
    assert (first.last - first.first) / DAY == pytest.approx(8)
    assert second.name == "per-side"


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("figures", [[0.0], [0.0, 100.0], [None, 50.0, None], [10.0, None, 90.0, 20.0]])
def test_a_graph_keeps_to_its_size_and_shows_highs_above_lows(figures: Sequence[float | None], ascii: bool) -> None:
    places = [f"w{k}" for k in range(len(figures))]
    rows = graph([Line("share", figures)], places, 100, 50, 9, ascii=ascii)
    assert max(map(len, rows)) <= 50
    assert rows[0].startswith(" 100 |")
    assert rows[8].startswith("   0 |")
    assert "share" in rows[-1]
    drawn = [row[6:] for row in rows[:9]]
    lit = [k for k, row in enumerate(drawn) if row.strip(" ⠀")]
    known = [figure for figure in figures if figure is not None]
    assert (lit[0], lit[-1]) == pytest.approx((8 - max(known) / 100 * 8, 8 - min(known) / 100 * 8), abs=1)


def test_a_rising_line_rises() -> None:
    rows = graph([Line("share", [0.0, 100.0])], ["a", "b"], 100, 60, 9, ascii=True)
    first = [row.index("*") for row in rows[:9] if "*" in row]
    assert first == sorted(first, reverse=True)
    assert len(first) == 9


def test_more_lines_than_can_be_told_apart_are_refused() -> None:
    with pytest.raises(ValueError, match="too many"):
        graph([Line("x", [1.0])] * (len(LOOKS) + 1), ["a"], 100, 40, 5, ascii=True)


def answered(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """One wrong answer, kept."""
    monkeypatch.setattr("sys.stdin", io.StringIO("answer 2.17 cm\n"))
    cli.main(["learn", "4", "--plain", "--units", "cm"])
    capsys.readouterr()


def test_the_command_shows_it_in_every_form(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for about in ((), ("lessons",), ("mistakes",), ("weeks",)):
        for form in ((), ("--csv",), ("--json",), ("--plot",), ("--plot", "--ascii")):
            assert cli.main(["progress", *about, *form]) == 0
    capsys.readouterr()
    answered(capsys, monkeypatch)
    assert cli.main(["progress"]) == 0
    shown = capsys.readouterr().out
    assert "right of answered, week from" in shown
    assert "0/1" in shown
    assert cli.main(["progress", "--json"]) == 0
    tables = json.loads(capsys.readouterr().out)
    assert set(tables) == {"lessons", "mistakes", "weeks"}
    assert tables["weeks"][0]["all"] == {"answers": 1, "right": 0, "mean-mark": 0.0}
    assert cli.main(["progress", "weeks", "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [(row["of"], row["name"], row["answers"]) for row in rows[:2]] == [
        ("all", "", "1"),
        ("lesson", "04-cap-seam-kept", "1"),
    ]
    assert cli.main(["progress", "--plot", "--ascii"]) == 0
    plotted = capsys.readouterr().out
    assert plotted.isascii()
    assert "of 100 answers right" in plotted


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--weeks", "0"], "--weeks: 0 is no number of weeks"),
        (["--plot", "--csv"], "--plot: can't be given with --csv"),
        (["--ascii"], "--ascii: is for the plot"),
        (["everything"], 'progress: "everything" is not known; write lessons, mistakes or weeks'),
    ],
)
def test_wrong_use_is_one_clear_line(arguments: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["progress", *arguments]) == 2
    printed = capsys.readouterr()
    assert told in printed.err
    assert (printed.out, len(printed.err.splitlines())) == ("", 1)
