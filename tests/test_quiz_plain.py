"""The line-by-line quiz: lines in, lines out, a mark at the end; and the command that opens it."""

import io
from dataclasses import replace
from pathlib import Path

import pytest
from lessons_for_tests import own_lessons
from quiz_driving import SMALL, Hands, small_sitting

from tutor import cli
from tutor.lesson.reading import every_lesson
from tutor.quiz.lesson_names import lessons_named
from tutor.quiz.plain import run_quiz
from tutor.quiz.sitting import Sitting


def talk(sitting: Sitting, lines: str, resumed: bool = False) -> tuple[int, str]:
    """The exit status of a quiz, and what it printed."""
    output = io.StringIO()
    status = run_quiz(sitting, io.StringIO(lines), output, resumed=resumed)
    return status, output.getvalue()


def ordered(sitting: Sitting) -> dict[str, int]:
    """The numbers of the questions by form; a plan and a number are told apart."""
    asked = {n: sitting.question(n) for n in sitting.numbers}
    names = {
        n: a.question.form if a.question.form != "task" else "plan" if a.is_built else "number"
        for n, a in asked.items()
    }
    return {name: number for number, name in names.items()}


CROSSED = """\
slash crown to hem at the grain, hinge at both ends
slash back underarm to front underarm, hinge at both ends
open A at B, hem side {by}
"""


def test_a_whole_quiz_is_taken_line_by_line(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    places = ordered(sitting)
    plan = sitting.question(places["plan"]).session
    solution = plan.solution().plan
    assert solution is not None
    right = {name: sitting.question(number).right_answer() for name, number in places.items()}
    lines = f"question {places['plan']}\n" + CROSSED.format(by=f"{solution.openings[0].amount:.1f} mm")
    for name in ("choice", "spot", "number"):
        lines += f"question {places[name]}\n{right[name].split(',')[0]}\n"
    status, said = talk(small_sitting(tmp_path), lines + "finish\n")
    assert "Mark: 100 of 100, passed (70 needed)." in said
    assert status == 0


def test_a_quiz_done_wrongly_names_the_mistake_and_what_to_practise(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    number = ordered(sitting)["choice"]
    asked = sitting.question(number)
    right = asked.right_answer()[0]
    wrong = next(letter for letter in "ABC" if letter != right)
    status, said = talk(small_sitting(tmp_path), f"question {number}\n{wrong}\nfinish\n")
    flat = " ".join(said.split())
    assert status == 1
    assert "Mistakes recognised: " in flat
    assert "Practise next: lesson 90, A small lesson, task 2" in flat
    assert f"Right is {right}, " in flat
    assert "Mark: 0 of 100, not passed" in flat


def test_there_are_no_hints_and_nothing_is_lost_to_a_slip(tmp_path: Path) -> None:
    status, said = talk(
        small_sitting(tmp_path), "hint\nsolution\nnonsense words\nquestion 77\nunits ell\nhelp me\n" + "x" * 500
    )
    flat = " ".join(said.split())
    assert status == 1
    assert flat.count("Not read, and nothing lost") == 7
    assert "there are no hints in a quiz" in flat
    assert "Not handed in. sleeve-tutor quiz goes on with it." in flat


def test_every_word_answers(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    places = ordered(sitting)
    words = (
        "places",
        "plan",
        "tape",
        "time",
        "list",
        "help",
        "help slash",
        "units in",
        "back",
        "next",
        "question",
        "quit",
    )
    lines = "\n".join((f"question {places['plan']}", *words, ""))
    _, said = talk(sitting, lines)
    assert "Not read" not in said
    assert "There is no time limit" in said
    assert "no answer yet" in said
    assert "slash PLACE to PLACE" in said


class Typed(io.StringIO):
    """Lines that somebody types at a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("lines", "over", "asked"),
    [
        ("finish\n", False, 1),
        ("finish\nlist\nfinish\n", False, 2),
        ("finish\n\nfinish\n", False, 2),
        ("finish\n# not yet\nfinish\n", False, 2),
        ("finish\nfinish\n", True, 1),
        ("finish anyway\n", True, 0),
    ],
)
def test_whoever_types_is_asked_before_questions_stay_unanswered(
    tmp_path: Path, lines: str, over: bool, asked: int
) -> None:
    sitting, output = small_sitting(tmp_path), io.StringIO()
    run_quiz(sitting, Typed(lines), output)
    assert sitting.is_over is over
    assert output.getvalue().count("have no answer yet. finish once more") == asked


def test_nobody_is_asked_where_nobody_types(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    _, said = talk(sitting, "finish\n")
    assert sitting.is_over
    assert "once more" not in said


def test_a_file_that_is_no_quiz_is_told_as_that_without_a_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawing = tmp_path / "block.svg"
    drawing.write_text("<svg/>", encoding="utf-8")
    assert cli.main(["quiz", str(drawing)]) == 2
    told = capsys.readouterr().err
    assert "is not TOML" in told
    assert "needs a terminal" not in told


@pytest.mark.parametrize(("mark", "known"), [("70", "0.7 is 70 of 100"), ("55", "0.55 is 55 of 100"), ("-1", "0.7 is")])
def test_a_pass_mark_out_of_100_is_told_what_it_is_from_0_to_1(
    mark: str, known: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["quiz", "--plain", f"--pass-mark={mark}"]) == 2
    told = f"--pass-mark: {mark} is no pass mark; it goes from 0 to 1, and {known}"
    assert told in capsys.readouterr().err


def test_a_mark_asked_for_settles_the_question(tmp_path: Path) -> None:
    number = ordered(small_sitting(tmp_path))["number"]
    status, said = talk(small_sitting(tmp_path), f"question {number}\n1 cm\nmark\n2 cm\nmark\n")
    assert said.count("of 100, not right") == 1
    assert said.count("is marked, and settled by that") == 2
    assert status == 1


def test_what_comes_after_the_time_is_not_counted(tmp_path: Path) -> None:
    hands = Hands()
    sitting = small_sitting(tmp_path, replace(SMALL, minutes=1), hands)
    number = ordered(sitting)["number"]

    class Slow(io.StringIO):
        def readline(self, *args: object) -> str:  # type: ignore[override]
            hands.go(25)
            return super().readline()

    output = io.StringIO()
    run_quiz(sitting, Slow(f"question {number}\n1 cm\n2 cm\n3 cm\n"), output)
    said = " ".join(output.getvalue().split())
    assert "Time left: 59 s" not in said
    assert "Time left: 1 min. It runs on while the quiz is closed." in said
    assert "The time is up. What was typed since is not counted." in said
    assert f"Your answer to question {number} is 1 cm." in said
    assert f"Your answer to question {number} is 2 cm." not in said
    assert "The time was up after 1 min; what was answered by then is marked." in said


QUIZ = ("quiz", "--plain", "--units", "cm", "--lessons", "4", "--count", "1", "--seed", "2")


@pytest.mark.parametrize("lines", ["quit\n", ""])
def test_the_command_goes_on_where_it_was_left(
    lines: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("a\n" + lines))
    assert cli.main(QUIZ) == 1
    assert "Your answer to question 1 is A" in capsys.readouterr().out
    monkeypatch.setattr("sys.stdin", io.StringIO("finish\n"))
    assert cli.main(["quiz", "--plain"]) in (0, 1)
    said = capsys.readouterr().out
    assert "You go on where you left off, at question 1." in said
    assert "Your answer is A" in said
    monkeypatch.setattr("sys.stdin", io.StringIO("quit\n"))
    cli.main(QUIZ)
    assert "Your answer is" not in capsys.readouterr().out


def test_a_lesson_of_ones_own_is_asked_about_and_all_are_those_that_come_along(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path))
    assert cli.main(["lessons", "new", "tight-cuff"]) == 0
    (tmp_path / "lessons" / "broken.toml").write_text("title = 3\n")
    for named in ("101", "tight-cuff", "Tight cuff"):
        monkeypatch.setattr("sys.stdin", io.StringIO("list\n"))
        assert cli.main(["quiz", "--plain", "--new", "--lessons", named, "--count", "1", "--seed", "2"]) == 1
        assert "(lesson 101)" in capsys.readouterr().out
    monkeypatch.setattr("sys.stdin", io.StringIO("finish\n"))
    cli.main(["quiz", "--plain"])
    assert "You go on where you left off" in capsys.readouterr().out
    assert lessons_named("all", every_lesson()) == tuple(lesson.name for lesson in own_lessons())


@pytest.mark.parametrize(
    "arguments",
    [
        ["--count", "0"],
        ["--count", "1000000000"],
        ["--seed", "-1"],
        ["--minutes", "0"],
        ["--pass-mark", "7"],
        ["--lessons", "99"],
        ["--lessons", ""],
        ["--pauses", "never"],
    ],
)
def test_what_can_be_no_quiz_is_one_clear_line(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["quiz", "--plain", *arguments]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert len(told.err.splitlines()) == 1
    assert arguments[0] in told.err
