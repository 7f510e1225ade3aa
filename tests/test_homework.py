"""Homework files, class lists and tables as spreadsheets write them: what is read, and every fault with its place."""

from __future__ import annotations

import codecs
import csv
import io
import unicodedata
from pathlib import Path

import pytest
from class_for_tests import HOMEWORK
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL

from tutor.classwork.class_list import ClassFaults, read_class
from tutor.classwork.csv_table import read_table, safe_cell, written_table
from tutor.classwork.homework import Homework
from tutor.classwork.homework_reading import HomeworkFaults, read_homework
from tutor.classwork.learner import file_names
from tutor.faults import Fault
from tutor.lesson.goal import Reach
from tutor.lesson.task import NumberTask, PlanTask
from tutor.units import Unit


def homework(folder: Path, text: str = HOMEWORK) -> Homework:
    (folder / "small.toml").write_text(SMALL, encoding="utf-8")
    (folder / "homework.toml").write_text(text, encoding="utf-8")
    return read_homework(folder / "homework.toml")


def faults(folder: Path, text: str) -> list[str]:
    with pytest.raises(HomeworkFaults) as raised:
        homework(folder, text)
    return list(map(str, raised.value.faults))


def test_tasks_come_from_lessons_beside_the_file_and_from_the_programs_own(tmp_path: Path) -> None:
    found = homework(
        tmp_path, HOMEWORK + '[[tasks]]\nlesson = 4\ntask = 1\n[[tasks]]\nlesson = "07-armhole-answers"\ntask = 2\n'
    )
    assert [q.title for q in found.questions] == [
        "A small lesson: Say it",
        "A small lesson: Open it",
        "Room with the cap seam kept: Predict the cap height",
        "The armhole answers: Let the armhole answer",
    ]
    assert [q.points for q in found.questions] == [1, 3, 1, 1]
    assert found.questions[0].lesson is found.questions[1].lesson


def test_tolerances_are_set_for_the_class_and_for_one_task(tmp_path: Path) -> None:
    text = HOMEWORK.replace("points = 3", 'points = 3\npass-mark = 0.9\ntolerances = { bicep-girth = "1/2 in" }')
    found = homework(tmp_path, 'tolerances = { cap-height = 0.7, cap-seam = "1 mm" }\n' + text)
    marked = found.as_marked(found.questions[0].lesson)
    plan, number = marked.tasks
    assert isinstance(number, NumberTask)
    assert isinstance(plan, PlanTask)
    assert number.tolerance == 7.0
    assert plan.pass_mark == 0.9
    reach, keep = plan.goals
    assert isinstance(reach, Reach)
    assert reach.tolerance == 12.7
    assert getattr(keep, "tolerance", None) == 1.0


def test_a_fingerprint_changes_with_what_a_mark_hangs_on_and_with_nothing_else(tmp_path: Path) -> None:
    first = homework(tmp_path)
    same = homework(tmp_path, HOMEWORK.replace("Small homework", "Another title").replace("points = 3", "points = 2"))
    other = homework(tmp_path, "tolerances = { cap-height = 0.1 }\n" + HOMEWORK)
    prints = [[each.fingerprint(q) for q in each.questions] for each in (first, same, other)]
    assert prints[0] == prints[1]
    assert prints[2][0] != prints[0][0]
    assert prints[2][1] == prints[0][1]


@pytest.mark.parametrize(
    ("old", "new", "place", "what"),
    [
        ("task = 2", "task = 3", "tasks 1, task", "small has no task 3"),
        ("task = 2", "task = 0", "tasks 1, task", "small has no task 0"),
        ("task = 2", "task = 1", "tasks 2", "is task 1 again"),
        ('"small.toml"', '"none.toml"', "none.toml", "there is no such file"),
        ('"small.toml"', '"99"', "tasks 1, lesson", '"99" is no lesson'),
        ("points = 3", "points = 0", "tasks 2, points", "is no number of points"),
        ("points = 3", "points = inf", "tasks 2, points", "is no number of points"),
        ("points = 3", "points = nan", "tasks 2, points", "is no number of points"),
        ("points = 3", "pass-mark = 1.5", "tasks 2, pass-mark", "is no pass mark"),
        (
            "points = 3",
            "tolerances = { cap-height = 1 }",
            "tasks 2, tolerances, cap-height",
            "is a measure that no goal",
        ),
        ("points = 3", "tolerances = { bicep-girth = 0 }", "tasks 2, tolerances, bicep-girth", "is not above 0"),
        ("points = 3", "tolerances = { bicep = 1 }", "tasks 2, tolerances, bicep", '"bicep" is no measure'),
        ("points = 3", "weight = 3", "tasks 2, weight", "is no key here"),
        ("due = 2026-11-20", 'due = "tomorrow"', "line 2, due", "is a text"),
        ("due = 2026-11-20", "variants = 0", "line 2, variants", "says nothing known here"),
        ("due = 2026-11-20", 'variants = "some"', "line 2, variants", "says nothing known here"),
        ("due = 2026-11-20", "variants = true", "line 2, variants", "is true or false"),
        ("due = 2026-11-20", "seed = -1", "line 2, seed", "is no number of a variant"),
        ('"Small homework"', '" "', "line 1, title", "is no title"),
        ('"Small homework"', '"a\\u001bb"', "line 1, title", "has letters that can't be shown"),
        ('units = "cm"', 'units = "ell"', "line 3, units", '"ell" is not known'),
    ],
)
def test_each_fault_has_its_place(tmp_path: Path, old: str, new: str, place: str, what: str) -> None:
    assert old in HOMEWORK
    lines = faults(tmp_path, HOMEWORK.replace(old, new, 1))
    assert any(place in line and what in line for line in lines), lines


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    text = HOMEWORK.replace("task = 2", "task = 9").replace("points = 3", "points = -3")
    assert len(faults(tmp_path, text)) == 2


def test_faults_of_keys_hide_none_of_the_others(tmp_path: Path) -> None:
    """What can't be read at all, beside what reads and is wrong: each has its line, in one round."""
    text = HOMEWORK.replace("due = 2026-11-20", 'due = "tomorrow"\nvariants = "every"\ncount = 3')
    text = text.replace("task = 2", "task = 55").replace("points = 3", 'points = "three"\nweight = 1')
    text += '[[tasks]]\nlesson = 99\ntask = 1\n[[tasks]]\nlesson = "small.toml"\n[[tasks]]\ntask = 1\n'
    text += "[tolerances]\ncap-ease = 1\nbicep = 2\n"
    told = [
        "line 4, count: is no key here",
        "line 2, due: is a text",
        "points: is a text; write a number",
        "weight: is no key here",
        "tasks 4, task: is missing",
        "tasks 5, lesson: is missing",
        'line 3, variants: says nothing known here; write "same", "each" or a number',
        "tasks 1, task: small has no task 55; write 1 to 2",
        'tasks 3, lesson: "99" is no lesson',
        'tolerances, bicep: "bicep" is no measure',
    ]
    lines = faults(tmp_path, text)
    assert len(lines) == len(told), lines
    for part in told:
        assert sum(part in line for line in lines) == 1, (part, lines)


# Class lists.

AS_SPREADSHEETS_WRITE = {
    "plain": b"name\nAnouk\nBeatriz, the second\n".replace(b"Beatriz, the second", b'"Beatriz, the second"'),
    "byte order mark and semicolons": b'\xef\xbb\xbfName;Room\r\nAnouk;3,5\r\n"Beatriz, the second";4\r\n',
    "tabs in UTF-16": codecs.BOM_UTF16_LE
    + 'Name\tRoom\r\nAnouk\t1\r\n"Beatriz, the second"\t2\r\n'.encode("utf-16-le"),
    "the sign named first": b"sep=;\r\nName;Room\r\nAnouk;1\r\nBeatriz, the second;2\r\n",
    "all quoted": b'"Name","Room"\r\n"Anouk","1"\r\n"Beatriz, the second","2"\r\n',
    "old line ends": b'Name,Room\rAnouk,1\r"Beatriz, the second",2\r',
    "empty rows and columns": b'\n;;;\nRoom;NAME ;;\n\n3;Anouk;;\n;;;\n4;"Beatriz, the second";;\n;;;\n',
    "spaces": b'name\n  Anouk\n"  Beatriz,   the second "\n',
}


@pytest.mark.parametrize("content", AS_SPREADSHEETS_WRITE.values(), ids=AS_SPREADSHEETS_WRITE.keys())
def test_class_lists_are_read_as_spreadsheets_write_them(content: bytes) -> None:
    learners = read_class(content, "class.csv", Unit.CM)
    assert [learner.name for learner in learners] == ["Anouk", "Beatriz, the second"]
    assert [learner.file for learner in learners] == ["anouk", "beatriz-the-second"]


def test_learners_may_work_in_units_of_their_own() -> None:
    learners = read_class(b"name,units\nAnouk,in\nTove,\nOdd,CM\n", "class.csv", Unit.MM)
    assert [learner.unit for learner in learners] == [Unit.INCH, Unit.MM, Unit.CM]


@pytest.mark.parametrize(
    ("content", "places"),
    [
        (b"name\nAnouk\nTove\nanouk\n", ["line 4: anouk is on the list already, in line 2"]),
        (b"name\nAnouk\nANOUK\nTove\ntove\n", ["line 3", "line 5"]),
        ("name\nJosé\nJose\u0301\n".encode(), ["line 3"]),
        (b"name,room\n,3\nTove,4\n", ["line 2, name: has no name"]),
        ("name\nAn\u202eouk\n".encode(), ["line 2, name: has a name with letters that can't be shown"]),
        (b"name\nAn\x1b[31mouk\n", ["line 2, name"]),
        (b"name\n" + b"x" * 61 + b"\n", ["has a name of 61 letters"]),
        (b"name,units\nAnouk,ell\n", ['line 2, units: "ell" is no unit']),
        (b"name\n", ["names no learner"]),
    ],
)
def test_every_row_that_is_wrong_is_told(content: bytes, places: list[str]) -> None:
    with pytest.raises(ClassFaults) as raised:
        read_class(content, "class.csv", Unit.CM)
    lines = list(map(str, raised.value.faults))
    assert len(lines) == len(places)
    assert all(place in line for place, line in zip(places, lines, strict=True)), lines


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"", "is empty"),
        (b"room\n3\n", "has no column called name; write that heading; there are room"),
        (b"name,name\nAnouk,Tove\n", 'has two columns called "name"'),
        (b'name\n"Anouk\n' + b"x" * 200_000, "is no row of a table"),
        (b"name,room\nAnouk,1,Tove\n", "has more cells than there are headings"),
        (b"\xff\xfe\xfa", "is not UTF-8 text"),
        (b"name\nAn\xe9s\n", "line 2: is not UTF-8 text"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is no text, and no table; save it as"),
        (b"PK\3\4\x14\xff", "is no text, and no table; save it as"),
        (b"name\nAn\0ouk\n", "is no text: it holds zero bytes"),
        (b"x" * 8_000_001, "is over 8 MB"),
        (b"name\n" + b"a\n" * 20_001, "has more than 20,000 rows"),
        (b"," * 300 + b"name\n", "has 301 columns"),
        (b"name,b\nAnouk," + b"x" * 20_000, "has a cell of 20000 letters"),
    ],
)
def test_what_is_no_table_is_told_in_one_line(content: bytes, what: str) -> None:
    with pytest.raises(Fault) as raised:
        read_class(content, "class.csv", Unit.CM)
    assert str(raised.value).startswith("class.csv")
    assert what in str(raised.value)


LETTERS = ("Ll", "Lo", "Lm", "Lu", "Lt", "Nd", "Mn", "Mc")
"""Categories of letters, figures, and the marks that are vowels in many scripts (Unicode Standard, chapter 4.5)."""


@given(st.lists(st.text(max_size=20), min_size=1, max_size=12))
def test_files_of_learners_are_named_alike_on_all_systems_and_no_two_the_same(names: list[str]) -> None:
    found = file_names(names)
    # Systems that take capitals for small letters, or store accents apart, keep them all apart all the same.
    folded = {unicodedata.normalize("NFD", unicodedata.normalize("NFD", name).casefold()) for name in found}
    assert len(folded) == len(names)
    assert len({name.upper() for name in found}) == len(names)
    for name in found:
        assert name == unicodedata.normalize("NFC", name).lower()
        assert len(f"{name}-sheet-10.svg".encode()) <= 255
        for letter in name:
            assert letter == "-" or unicodedata.category(letter) in LETTERS
            assert letter.isascii() or not unicodedata.name(letter).startswith("LATIN SMALL LETTER A WITH")
        # Names of devices, by Microsoft's "Naming Files, Paths, and Namespaces".
        assert name not in {"con", "prn", "aux", "nul", "com1", "lpt9"}


@pytest.mark.parametrize("name", ["../../etc/passwd", "CON", "a/b\\c", ".", "..", "~", "$(rm)", "\x00", "C:", "\u3164"])
def test_no_name_leads_out_of_its_folder(name: str) -> None:
    (file,) = file_names([name])
    assert file.strip("abcdefghijklmnopqrstuvwxyz0123456789-") == ""
    assert file


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Łukasz Żółć", "lukasz-zolc"),
        ("Øyvind Ås", "oyvind-as"),
        ("Þórður Æ.", "thordur-ae"),
        ("Đặng Thị Hà", "dang-thi-ha"),
        ("İbrahim Işık", "ibrahim-isik"),
        ("Groß", "gross"),
        ("Ŋũgĩ", "ngugi"),
        ("Ǿre", "ore"),
        ("d\u2019Arc", "d-arc"),
        ("Иван Йорк", "иван-йорк"),
        ("Ιωάννης", "ιωάννης"),
        ("王小明", "王小明"),
        ("日本 太郎", "日本-太郎"),
        ("김철수", "김철수"),
        ("हिंदी देवी", "हिंदी-देवी"),
        ("محمد علي", "محمد-علي"),
    ],
)
def test_names_of_files_stay_readable(name: str, file: str) -> None:
    """Accents and letters as Unicode's names of them tell: L WITH STROKE, O WITH STROKE, ETH, THORN, AE, DOTLESS I."""
    assert file_names([name]) == [file]
    assert file_names([unicodedata.normalize("NFD", name)]) == [file]


@pytest.mark.parametrize(
    "names",
    [
        ("Иван", "ИВАН", "иван 2"),
        ("Ιωάννης", "ΙΩΆΝΝΗΣ"),
        ("Łukasz", "Lukasz", "lukasz-2"),
        ("x" * 60, "X" * 50, "x" * 40),
        ("é", "e", "e\u0301"),
    ],
)
def test_no_two_learners_share_a_file(names: tuple[str, ...]) -> None:
    found = file_names(names)
    assert len({file.upper() for file in found}) == len(names)
    assert len({unicodedata.normalize("NFD", file).casefold() for file in found}) == len(names)


# Tables that are written.


@given(st.lists(st.lists(st.text(), min_size=1, max_size=4), min_size=1, max_size=5))
def test_no_cell_that_is_written_is_a_formula(rows: list[list[str]]) -> None:
    """What begins a formula: OWASP, "CSV Injection": =, +, -, @, tab and carriage return."""
    text = written_table([*rows]).removeprefix("\ufeff")
    for row in csv.reader(io.StringIO(text, newline="")):
        for cell in row:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
            assert cell.isprintable()


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-2", "@SUM(A1)", " =1", "\t=1", "\u200b=1", "＝1+1", "\r\n=1"])
def test_formulas_are_written_as_text(cell: str) -> None:
    assert str(safe_cell(cell)).startswith("'")


def test_figures_stay_figures_and_names_stay_names() -> None:
    assert safe_cell(-3.5) == -3.5
    assert safe_cell('d\'Arc, "Jo"') == 'd\'Arc, "Jo"'
    # Spreadsheets that expect semicolons read a decimal point as a day and a month, or as text.
    for sign, figure in ((",", "1.5"), (";", "1,5"), ("\t", "1.5")):
        text = written_table([["a,b", 'c"d'], ["e;f", 1.5]], sign).removeprefix("\ufeff")
        assert list(csv.reader(io.StringIO(text), delimiter=sign)) == [["a,b", 'c"d'], ["e;f", figure]]


@given(st.lists(st.lists(st.from_regex(r"[a-zA-Z ,;'\"]{0,8}", fullmatch=True), min_size=2, max_size=2), max_size=6))
def test_what_is_written_reads_back(rows: list[list[str]]) -> None:
    for sign in ",;\t":
        table = read_table(written_table([["a", "b"], *rows], sign).encode(), "t.csv")
        expected = [[str(safe_cell(cell)) for cell in row] for row in rows if any(cell.strip() for cell in row)]
        assert [list(row.cells.values()) for row in table.rows] == expected


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("other", [",", ";", "\t"])
@given(
    rows=st.lists(
        st.lists(st.text(alphabet="ab =+-@;,\t\"'\uff1d|!", max_size=9), min_size=2, max_size=2), min_size=1, max_size=4
    )
)
def test_no_cell_is_a_formula_by_whichever_sign_a_row_is_parted(sign: str, other: str, rows: list[list[str]]) -> None:
    """Parted by the standard library's reader, as a spreadsheet set to another sign would."""
    text = written_table(rows, sign).removeprefix("\ufeff")
    for row in csv.reader(io.StringIO(text, newline=""), delimiter=other):
        assert not any(cell.lstrip().startswith(("=", "+", "-", "@", "\uff1d")) for cell in row)


def test_a_cell_with_any_sign_that_parts_cells_is_quoted() -> None:
    text = written_table([["x;=cmd|'/c calc'!A1;y", "a,b", "c", "2, -3 cm", 1.5]], ",")
    assert text == '\ufeff"x;\'=cmd|\'/c calc\'!A1;y","a,b",c,"2, \'-3 cm",1.5\r\n'
    assert written_table([["a,b", "c;d", "e"]], ";") == '\ufeff"a,b";"c;d";e\r\n'
