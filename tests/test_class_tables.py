"""Tables of a class: a row a learner, one bad row alone, days as spreadsheets write them."""

from __future__ import annotations

import pytest
from class_for_tests import Classroom


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("Tove;62;2,4;x", "line 4: has more cells than there are headings; part cells as the headings are"),
        ("Tove;" + "6" * 10_001 + ";", "line 4: has a cell of 10001 letters; a short answer is enough"),
        ('Tove;"12,5;', "line 4: has a quote that is not closed; close it, or take it away"),
    ],
)
def test_one_bad_row_leaves_the_other_rows_of_a_table_alone(room: Classroom, row: str, what: str) -> None:
    room.hand_in("table.csv", f"Name;1;2\nAnouk;12,5;\nOdd;3;\n{row}\nMirjam;12,5;\n")
    status, out, err = room.mark()
    assert status == 1
    assert err == f"sleeve-tutor: table.csv: {what}\n"
    assert "3 answers marked" in out
    assert [room.marks(name)["task 1"] for name in ("Anouk", "Odd", "Mirjam", "Tove")] == ["100", "0", "100", ""]
    assert room.marks("Tove")["note"] == "table.csv: line 4 could not be marked"


def test_a_cell_may_hold_several_lines_and_the_last_quote_may_be_missing(room: Classroom) -> None:
    room.hand_in("table.csv", 'name,note,1\nTove,"one\ntwo",12.5\nOdd,"one\n""two""",12.5\nMirjam,,"12.5\n')
    assert room.mark()[::2] == (0, "")
    assert [room.marks(name)["task 1"] for name in ("Tove", "Odd", "Mirjam")] == ["100", "100", "100"]


@pytest.mark.parametrize("text", ["2025-11-18", "18-11-2025", "18.11.2025", "18/11/2025", "11/18/2025", "2025/11/18"])
def test_a_day_is_read_as_spreadsheets_rewrite_it(room: Classroom, text: str) -> None:
    room.hand_in("table.csv", f"name,1,handed-in\nTove,12.5,{text}\n")
    assert room.mark()[0] == 0
    assert room.marks("Tove")["handed in"] == "2025-11-18"


def test_a_day_that_is_its_own_mirror_is_plain(room: Classroom) -> None:
    room.hand_in("table.csv", "name,1,handed-in\nTove,12.5,11/11/2025\n")
    assert room.mark()[0] == 0
    assert room.marks("Tove")["handed in"] == "2025-11-11"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("05/11/2025", '"05/11/2025" can mean two days, 2025-11-05 and 2025-05-11; write year, month and day'),
        ("31/11/2025", '"31/11/2025" is no date; write it as 2026-11-18'),
        ("18-11.2025", '"18-11.2025" is no date'),
        ("18-11-25", '"18-11-25" is no date'),
        ("yesterday", '"yesterday" is no date'),
    ],
)
def test_a_day_that_is_not_plain_is_told(room: Classroom, text: str, what: str) -> None:
    room.hand_in("table.csv", f"name,1,handed-in\nTove,12.5,{text}\nOdd,12.5,\n")
    status, _, err = room.mark()
    assert status == 1
    assert f"table.csv: line 2, handed-in: {what}" in err
    assert [room.marks(name)["task 1"] for name in ("Tove", "Odd")] == ["", "100"]


def test_only_a_bare_number_or_a_task_by_name_heads_a_task(room: Classroom) -> None:
    room.hand_in("table.csv", "name,2nd name,3.5 hours,1 more,Task 1: cap height\nTove,Maria,x,y,12.5\n")
    status, out, err = room.mark()
    assert (status, err) == (0, "")
    assert "1 answer marked" in out
    assert room.marks("Tove")["task 1"] == "100"
