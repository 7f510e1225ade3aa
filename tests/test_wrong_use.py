"""Command lines that are wrong: one line each that says where, what, and what would be right, and status 2."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor import cli
from tutor.lesson.number_spans import spans

HELP = "--help shows what it takes"
WRONG = {
    # Commands.
    "sew": '"sew" is no command; there are learn, quiz, lessons, measure, alter, draft, sheet, mark, progress and '
    "completion",
    "lern 4": '"lern" is no command; did you mean learn?',
    "Quiz": '"Quiz" is no command; did you mean quiz?',
    "4": '"4" is no command; sleeve-tutor learn 4 opens a lesson',
    "my.toml": '"my.toml" is no command; sleeve-tutor learn my.toml opens a lesson',
    "help learn": '"help" is no command; did you mean --help?',
    "version": '"version" is no command; did you mean --version?',
    # Options that there are not, or not there.
    "--nope": f"takes no --nope; sleeve-tutor {HELP}",
    "--unit cm": "takes no --unit; did you mean --units?",
    "--unit cm learn 4": "takes no --unit; did you mean --units?",
    "learn --unts cm 4": "learn: takes no --unts; did you mean --units?",
    "learn 4 -plain": "learn: takes no -plain; did you mean --plain?",
    "learn 4 –plain": "learn: takes no –plain; did you mean --plain?",
    "learn -help": "learn: takes no -help; did you mean --help?",
    "learn 4 -x": f"learn: takes no -x; sleeve-tutor learn {HELP}",
    "draft --armhol-front 22cm": "draft: takes no --armhol-front; did you mean --armhole-front?",
    "draft --cuff=2": f"draft: takes no --cuff; sleeve-tutor draft {HELP}",
    "progress --units": f"progress: takes no --units; sleeve-tutor progress {HELP}",
    "lessons new a --out b": f"lessons: takes no --out; sleeve-tutor lessons {HELP}",
    "--ascii learn 4": "--ascii: stands before the command; write it after, as in sleeve-tutor learn --ascii",
    "--seed 7 learn": "--seed: stands before the command; write it after, as in sleeve-tutor learn --seed 7",
    "--seed 7 learn 4": "--seed: stands before the command; write it after, as in sleeve-tutor learn --seed 7",
    "--count 7": "--count: belongs after a command; write quiz before it",
    "--count 7 learn": f"takes no --count; sleeve-tutor {HELP}",
    "--plain": "--plain: belongs after a command; write learn or quiz before it",
    # Words too many, and too few.
    "learn 4 5": f'learn: "5" is one word too many; write sleeve-tutor learn [LESSON]; sleeve-tutor learn {HELP}',
    "learn 4 -- --plain": 'learn: "--plain" is one word too many; write sleeve-tutor learn [LESSON]; '
    f"sleeve-tutor learn {HELP}",
    "alter a.svg b.toml c": 'alter: "c" is one word too many; write sleeve-tutor alter PATTERN PLAN; '
    f"sleeve-tutor alter {HELP}",
    "measure": f"PATTERN: is missing; write sleeve-tutor measure PATTERN; sleeve-tutor measure {HELP}",
    "alter": f"PATTERN and PLAN: are missing; write sleeve-tutor alter PATTERN PLAN; sleeve-tutor alter {HELP}",
    "sheet": "HOMEWORK and --out: are missing; write sleeve-tutor sheet HOMEWORK [CLASS] --out FOLDER; "
    f"sleeve-tutor sheet {HELP}",
    "mark": "HOMEWORK: is missing; write sleeve-tutor mark HOMEWORK [ANSWERS ...]; sleeve-tutor mark --help shows what "
    "it takes",
    "completion": f"shell: is missing; write sleeve-tutor completion bash, zsh or tcsh; sleeve-tutor completion {HELP}",
    "quiz results a": "quiz results: takes no file; leave out what comes after it",
    # Values.
    "--units": "--units: has nothing after it; write --units cm or in",
    "learn 4 --units --plain": "--units: has nothing after it; write --units cm or in",
    "learn 4 --seed": f"--seed: has nothing after it; write --seed N; sleeve-tutor learn {HELP}",
    "draft --out": f"--out: has nothing after it; write --out FILE; sleeve-tutor draft {HELP}",
    "draft --cap-ease -2cm": "--cap-ease: -2cm begins with a minus; write --cap-ease=-2cm",
    "learn 4 --plain=yes": "--plain: takes no value; write --plain alone",
    "learn 4 --seed x": '--seed: "x" is no whole number; write one, such as 7',
    "learn 4 --seed 1.5": '--seed: "1.5" is no whole number; write one, such as 7',
    "learn 4 --seed=": '--seed: "" is no whole number; write one, such as 7',
    "learn 4 --seed -1": "--seed: -1 is no number of a variant; write 0 to 2147483647",
    "lessons --seeds 3": "--seeds: is for lessons check; write lessons check first",
    "quiz --count ten": '--count: "ten" is no whole number; write one, such as 7',
    "quiz --pass-mark high": '--pass-mark: "high" is no number; write one, such as 0.7',
    # Choices.
    "learn 4 --units ell": '--units: "ell" is not known; write cm or in',
    "quiz --pauses maybe": '--pauses: "maybe" is not known; write count or stop',
    "sheet a.toml c.csv --out x --paper a5": '--paper: "a5" is not known; write a4 or letter',
    "lessons chek x.toml": 'lessons: "chek" is not known; write check, new or names',
    "progress week": 'progress: "week" is not known; write lessons, mistakes or weeks',
    "completion csh": 'completion: "csh" is not known; write bash, zsh or tcsh',
    "quiz mark a --csv --json": "--json: can't be given with --csv; leave one of them out",
    # Lessons.
    "quiz 4-7 --plain": "4-7: is no file of a quiz; write --lessons 4-7 for one over these lessons",
    "learn 99 --plain": 'lesson: "99" is no lesson; there are 1-28; or give the path of a lesson file',
    "learn cap-seem-kept --plain": 'lesson: "cap-seem-kept" is no lesson; did you mean 04-cap-seam-kept?',
    "quiz --lessons 4,99 --plain": '--lessons: "99" is no lesson; there are 1-28',
    # What others look after is told with the options as they are written.
    "measure a.svg --arm long": '--arm: "long" is not a length; write a length such as 1 1/2 in, 3.8 cm or 38 mm',
    "measure a.svg --arm 1cm": "--arm: 1 cm is not the girth of an arm; give one from 5 to 150 cm",
}


@pytest.mark.parametrize("line", WRONG)
def test_wrong_use_is_one_line(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(line.split()) == 2
    assert capsys.readouterr() == ("", f"sleeve-tutor: {WRONG[line]}\n")


def test_every_command_has_a_line_for_what_it_does_not_know(capsys: pytest.CaptureFixture[str]) -> None:
    for command in cli.COMMANDS:
        needed = {"measure": ["a"], "alter": ["a", "b"], "sheet": ["a", "--out", "x"], "mark": ["a"]}
        more = ["bash"] if command == "completion" else needed.get(command, [])
        assert cli.main([command, *more, "--zzz"]) == 2
        line = f"sleeve-tutor: {command}: takes no --zzz; sleeve-tutor {command} --help shows what it takes\n"
        assert capsys.readouterr() == ("", line)


def test_a_word_is_not_quoted_beyond_what_a_line_holds(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["x" * 5000]) == 2
    assert len(capsys.readouterr().err) < 250
    assert cli.main(["learn", "4", "--seed", "9" * 5000]) == 2
    assert len(capsys.readouterr().err) < 250


def test_nothing_but_commands_gets_a_word_of_argparse_itself(capsys: pytest.CaptureFixture[str]) -> None:
    """What argparse would say is in its own words, which come with each release of Python anew."""
    lines = [*WRONG, "", "learn", "quiz --", "-", "--", "-- learn", "--version=3", "--help=x", "learn 4 --units="]
    for line in lines:
        cli.main([*line.split()])
        printed = capsys.readouterr().err
        assert not [word for word in ("argument", "invalid", "expected", "required") if word in printed], line


@given(st.sets(st.integers(1, 60), min_size=1))
def test_spans_are_read_back_as_the_numbers_they_tell(numbers: set[int]) -> None:
    told: set[int] = set()
    for part in spans(numbers).split(", "):
        first, _, last = part.partition("-")
        told |= set(range(int(first), int(last or first) + 1))
    assert told == numbers


def test_spans_are_for_three_and_more() -> None:
    assert spans([28, 1, 2, 101, 3, 27]) == "1-3, 27, 28, 101"
