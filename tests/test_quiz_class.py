"""A quiz for a class: written by a teacher, given out, taken, and marked again from a file that shows changes."""

import io
import json
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from quiz_driving import SMALL, small_quiz
from test_quiz_sitting import answer_all
from test_readme import quoted, table

from tutor import cli
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.quiz.class_quiz import ClassQuizFaults, read_class_quiz
from tutor.quiz.handout import Handout, handout_text, read_handout
from tutor.quiz.outcome import outcome_of
from tutor.quiz.results import changed_lessons, marked_again, read_results, results_text
from tutor.quiz.sitting import Sitting
from tutor.toml_reading import Document, read_toml
from tutor.toml_writing import toml_text
from tutor.units import Unit

CLASS = 'title = "Evenings"\nlessons = ["small"]\ncount = 4\nseed = 1\nminutes = 30\nvariants = "each"\n'

PLAIN = st.recursive(
    st.booleans() | st.integers(-(2**60), 2**60) | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


def document(text: str) -> Document:
    return read_toml(text.encode("utf-8", "surrogatepass"), "file.toml")


@pytest.fixture
def lessons(tmp_path: Path) -> dict[str, Lesson]:
    return small_quiz(tmp_path)[1]


@settings(max_examples=150)
@given(st.dictionaries(st.text(), PLAIN, max_size=5))
def test_tables_written_as_toml_read_back(table: dict[str, object]) -> None:
    # Read by the standard library's reader of TOML 1.0.
    encodable = json.dumps(table, ensure_ascii=False).encode("utf-8", "ignore").decode()
    assert tomllib.loads(toml_text(json.loads(encodable))) == json.loads(encodable)


def test_a_class_quiz_is_read(lessons: dict[str, Lesson]) -> None:
    quiz = read_class_quiz(document(CLASS), lessons)
    assert quiz.for_each
    assert (quiz.spec.count, quiz.spec.minutes, quiz.spec.marks, quiz.spec.title) == (4, 30, "end", "Evenings")
    assert quiz.of("Anouk") == quiz.of(" anouk ") != quiz.of("Odd")
    same = read_class_quiz(document(CLASS.replace("each", "same")), lessons)
    assert same.of("Anouk") == same.of("Odd")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('title = "Evenings"\n', "", "file.toml: title: is missing"),
        ('"Evenings"', '" "', "line 1, title: is empty"),
        ('["small"]', '["large"]', 'line 2, lessons 1: "large" is no lesson'),
        ('["small"]', "[]", "line 2, lessons: names none"),
        ('["small"]', '"small"', "line 2, lessons: is"),
        ("count = 4", "count = 0", "line 3, count: 0 is no number of questions"),
        ("count = 4", 'count = "4"', "line 3, count: is"),
        ("seed = 1", "seed = -1", "line 4, seed: -1 is no number of a seed"),
        ("minutes = 30", "minutes = 0.5", "line 5, minutes: is"),
        ("each", "mine", 'line 6, variants: "mine" is not known'),
        ("seed = 1", "sede = 1", "line 4, sede: is no key here"),
        ("seed = 1", "pass-mark = nan", "line 4, pass-mark: nan is no pass mark"),
    ],
)
def test_every_fault_of_a_class_quiz_has_its_place(old: str, new: str, told: str, lessons: dict[str, Lesson]) -> None:
    assert old in CLASS
    with pytest.raises(ClassQuizFaults) as raised:
        read_class_quiz(document(CLASS.replace(old, new)), lessons)
    assert any(told in str(fault) for fault in raised.value.faults), list(map(str, raised.value.faults))


def test_all_faults_are_told_at_once(lessons: dict[str, Lesson]) -> None:
    with pytest.raises(ClassQuizFaults) as raised:
        read_class_quiz(document('lessons = [4]\ncount = "x"\nhm = 1\n'), lessons)
    assert len(raised.value.faults) >= 3


def test_a_handout_reads_back_and_a_changed_one_does_not(tmp_path: Path, lessons: dict[str, Lesson]) -> None:
    quiz, _ = small_quiz(tmp_path, replace(SMALL, title='"Width" — later\t'.strip()))
    text = handout_text(Handout(quiz, "Anouk"))
    assert read_handout(document(text)) == Handout(quiz, "Anouk")
    for old, new in (
        ("count = 4", "count = 3"),
        ('form = "choice"', 'form = "task"'),
        ("figures = [", "figures = [1.0, "),
    ):
        assert old in text
        with pytest.raises(Fault, match=r"changed|read"):
            read_handout(document(text.replace(old, new, 1)))


@pytest.fixture
def taken(tmp_path: Path) -> Sitting:
    """A quiz taken by Anouk, everything right."""
    quiz, lessons = small_quiz(tmp_path)
    sitting = Sitting(quiz, lessons, Unit.CM, "Anouk")
    answer_all(sitting)
    sitting.hand_in()
    return sitting


def test_results_are_marked_again_to_the_same_mark(taken: Sitting, lessons: dict[str, Lesson]) -> None:
    results = read_results(document(results_text(taken, outcome_of(taken))))
    assert (results.intact, results.learner, results.stated) == (True, "Anouk", 1)
    assert marked_again(results, lessons).mark == 1


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("mark = 1.0", "mark = 0.9", 1),
        lambda text: text.replace("passed = true", "passed = false", 1),
        lambda text: text.replace('learner = "Anouk"', 'learner = "Odd"'),
        lambda text: text.replace("elapsed = ", "elapsed = 1"),
        lambda text: text + 'extra = "x"\n',
        lambda text: text.replace("question = 2", "question = 3", 1),
    ],
)
def test_any_change_of_the_results_shows(change: Callable[[str], str], taken: Sitting) -> None:
    text = results_text(taken, outcome_of(taken))
    changed = change(text)
    assert changed != text
    assert not read_results(document(changed)).intact


def test_a_better_mark_written_into_the_file_is_not_the_mark(taken: Sitting, lessons: dict[str, Lesson]) -> None:
    text = results_text(taken, outcome_of(taken))
    empty = "\n".join(line for line in text.splitlines() if not line.startswith("given = "))
    results = read_results(document(empty))
    assert (results.intact, results.stated, marked_again(results, lessons).mark) == (False, 1, 0)


def test_results_of_a_lesson_corrected_since_are_marked_by_the_lesson_as_it_is(taken: Sitting, tmp_path: Path) -> None:
    from lessons_for_tests import small_lesson

    results = read_results(document(results_text(taken, outcome_of(taken))))
    now = {"small": small_lesson(tmp_path, ("number = 90", "number = 90\nversion = 2"))}
    assert changed_lessons(results, now) == ("small",)
    assert marked_again(results, now).mark == 1


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a = 1",
        'sleeve-tutor = "quiz results"',
        'answers = 3\nunits = "ell"',
        "answers = [1]",
        "a = nan\nanswers = []",
    ],
)
def test_what_is_no_results_file_is_told(text: str) -> None:
    with pytest.raises(Fault, match="can't be read as results"):
        read_results(document(text))


@pytest.mark.parametrize(
    "answer",
    [
        'given = { option = "Z" }',
        "given = { option = 1 }",
        "given = { plan = {} }",
        "given = {}",
        'given = { text = "wide" }',
        f'given = {{ text = "{"9" * 5000}" }}',
    ],
)
def test_an_answer_that_is_none_counts_as_not_given(answer: str, taken: Sitting, lessons: dict[str, Lesson]) -> None:
    text = results_text(taken, outcome_of(taken))
    lines = [answer if line.startswith("given = ") else line for line in text.splitlines()]
    assert marked_again(read_results(document("\n".join(lines))), lessons).mark == 0


# The commands.


def test_a_class_quiz_goes_out_and_its_results_come_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("evening.toml").write_text(
        'title = "Evening"\nlessons = [7]\ncount = 1\nvariants = "each"\n', encoding="utf-8"
    )
    assert cli.main(["quiz", "give", "evening.toml", "--out", "out", "--learner", "Anouk", "--learner", "Odd"]) == 0
    given_out = capsys.readouterr().out.split()
    assert [Path(path).name for path in given_out] == ["evening-anouk.toml", "evening-odd.toml"]
    monkeypatch.setattr("sys.stdin", io.StringIO("finish\n"))
    assert cli.main(["quiz", given_out[0], "--plain"]) == 1
    (results,) = Path().glob("anouk-*-results.toml")
    capsys.readouterr()
    assert cli.main(["quiz", "mark", str(results), "--of", "evening.toml"]) == 0
    assert capsys.readouterr().out.splitlines()[1].split() == ["Anouk", "0", "0", "no", "0"]
    Path("other.toml").write_text(
        Path("evening.toml").read_text(encoding="utf-8").replace("count = 1", "count = 1\nseed = 9"), encoding="utf-8"
    )
    assert cli.main(["quiz", "mark", str(results), "--of", "other.toml", "--json"]) == 1
    (row,) = json.loads(capsys.readouterr().out)["results"]
    assert row["notes"] == ["these are not the questions of that quiz"]
    assert cli.main(["quiz", "results", "--out", "again.toml"]) == 0
    capsys.readouterr()
    # The command that marks a class marks its quizzes as well.
    assert cli.main(["mark", "evening.toml", str(results), "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)["results"]
    assert (row["learner"], row["intact"], row["notes"]) == ("Anouk", True, [])
    assert list(row) == next(
        quoted(keys[2]) for keys in table("command | key | what it holds") if keys[0] == "quiz mark"
    )
    assert cli.main(["mark", "evening.toml", str(results), "--out", "x"]) == 2
    assert "is for a homework, and this is a quiz" in capsys.readouterr().err
    Path("class.csv").write_text("name;units\nMirjam;cm\nÖrn;in\n", encoding="utf-8-sig")
    assert cli.main(["quiz", "give", "evening.toml", "--class", "class.csv", "--out", "all"]) == 0
    assert sorted(path.name for path in Path("all").iterdir()) == ["evening-mirjam.toml", "evening-orn.toml"]
    capsys.readouterr()
    Path("broken.toml").write_text("x = [", encoding="utf-8")
    assert cli.main(["quiz", "mark", ".", "--csv"]) == 1
    rows = capsys.readouterr().out.splitlines()
    assert len(rows) == 4
    assert "broken.toml: end of document: is not TOML" in "".join(rows)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["give", "quiz.toml"], "--out: is missing"),
        (["give", "--out", "x"], "takes one file, not 0"),
        (["give", "quiz.toml", "--out", "x"], "no learner is named"),
        (["give", "quiz.toml", "--out", "x", "--learner", "A", "--learner", " a"], "names a twice"),
        (["give", "quiz.toml", "--out", "x", "--learner", ""], "is no name"),
        (["give", "nowhere.toml", "--out", "x"], "there is no such file"),
        (["mark"], "needs results"),
        (["quiz.toml", "--plain"], "does not say who takes it"),
        (["quiz.toml", "--plain", "--seed", "3"], "says itself what quiz it is"),
        (["quiz.toml", "more.toml", "--plain"], "takes one file, not 2"),
        (["results"], "there is no quiz that was handed in"),
        (["--plain", "--json"], "--json: is for quiz mark"),
        (["--plain", "--learner", "A"], "--learner: is for quiz give"),
    ],
)
def test_wrong_use_is_one_clear_line(
    arguments: list[str],
    told: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("quiz.toml").write_text('title = "Q"\nlessons = [7]\ncount = 1\nvariants = "each"\n', encoding="utf-8")
    assert cli.main(["quiz", *arguments]) == 2
    printed = capsys.readouterr()
    assert told in printed.err
    assert (printed.out, len(printed.err.splitlines())) == ("", 1)
