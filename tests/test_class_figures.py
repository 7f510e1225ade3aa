"""Figures of a class: spread, difficulty, discrimination, mistakes."""

from __future__ import annotations

import json

import numpy as np
import pytest
from class_for_tests import PLAN, Classroom, filled
from hypothesis import given
from hypothesis import strategies as st
from test_readme import quoted, table

from tutor.classwork.class_figures import correlation


@given(st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=3, max_size=30))
def test_correlation_is_pearsons(pairs: list[tuple[float, float]]) -> None:
    """Held against numpy's."""
    found = correlation(pairs)
    xs, ys = np.array(pairs).T
    if found is None:
        assert min(np.var(xs), np.var(ys)) * len(pairs) < 1e-11
    else:
        assert found == pytest.approx(float(np.corrcoef(xs, ys)[0, 1]), abs=1e-6)


def test_the_class_page_tells_spread_difficulty_discrimination_and_mistakes(room: Classroom) -> None:
    filled(room)
    room.hand_in("mirjam.toml", room.form("Mirjam", "31.8 cm", "mirjam-2.toml"))
    room.hand_in("mirjam-2.toml", PLAN.replace("2.05", "4.1"))
    _status, out, _ = room.mark(more=("--json",))
    figures = json.loads(out)
    keys = {
        key: quoted(row[2])
        for row in table("command | key | what it holds")
        if row[0] == "mark"
        for key in quoted(row[1])
    }
    assert list(figures) == list(keys)
    tasks = figures["tasks"]
    assert list(tasks[0]) == keys["tasks"]
    assert [task["answered"] for task in tasks] == [4, 3]
    assert [task["passed"] for task in tasks] == [2, 2]
    assert tasks[1]["mistakes"] == {"per-side": 1}
    assert tasks[0]["mean"] == pytest.approx(0.5)
    # Marks of task 1 are 1, 0, 1, 0 and those of the other 1, 1, 0 and what Mirjam has.
    rest = [1, 1, 0, float(room.marks("Mirjam")["task 2"]) / 100]
    assert tasks[0]["discrimination"] == pytest.approx(float(np.corrcoef([1, 0, 1, 0], rest)[0, 1]), abs=0.01)
    page = (room.out / "class.html").read_text()
    assert "One side&#x27;s amount given for the whole, or each side counted for both." in page
    assert "What to teach again" in page
    assert page.count("<rect") == 10


def test_marks_on_the_class_page_are_in_whole_points_as_everywhere_and_never_rounded_up(room: Classroom) -> None:
    filled(room).mark()
    rows = "Tove,1,50,why\nTove,2,0,why\nAnouk,1,90,why\nAnouk,2,58,why\nOdd,1,90,why\nOdd,2,57.9,why\n"
    (room.out / "overrides.csv").write_text(f"learner,task,mark,reason\n{rows}")
    room.run("mark", room.folder / "homework.toml", "--out", room.out)
    # By points, 1 to 3: 12.5, 66 and 65.925 of 100.
    page = (room.out / "class.html").read_text()
    assert [room.marks(name)["mark"] for name in ("Tove", "Anouk", "Odd")] == ["12", "66", "65"]
    assert "3 marked as a whole: mean 48, median 65, from 12 to 66 of 100." in page


def test_a_task_that_many_left_out_says_so_where_it_is_to_be_taught_again(room: Classroom) -> None:
    room.hand_in("table.csv", "name,1,2\nAnouk,12.5 cm,\nTove,12.5 cm,\nOdd,,\n")
    room.hand_in("anouk-2.toml", PLAN)
    _, out, _ = room.mark()
    why = "1 of 1 passed; the mean mark is 50 of 100, as 1 left it out, which counts 0"
    assert why in out
    assert why.partition("; t")[2] in (room.out / "class.html").read_text()
