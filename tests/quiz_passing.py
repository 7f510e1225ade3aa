"""A whole quiz taken by keys alone in a real terminal, and the same answers line by line.

Run as a script it does both at 80 x 24, and prints the screens on the way and the marks of both.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from lessons_for_tests import own_lessons
from terminal import ROOT, Terminal, environment, tutor_in_terminal

from tutor.quiz.asked import LETTERS
from tutor.quiz.chosen import Chosen
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.units import Unit

LESSON, COUNT, SEED = 7, 4, 6
ARGUMENTS = ["quiz", "--lessons", str(LESSON), "--count", str(COUNT), "--seed", str(SEED), "--units", "cm"]
SIDES = (("back", "widen"), ("back", "lower"), ("front", "widen"), ("front", "lower"))


@dataclass(frozen=True, slots=True)
class Answer:
    """What is answered to one question: a letter, a figure, or the four amounts of the armholes, in cm."""

    number: int
    title: str
    letter: str = ""
    figure: str = ""
    amounts: tuple[str, ...] = ()


def answers() -> list[Answer]:
    """The quiz answered: the first question wrong, the others right."""
    lessons = {lesson.name: lesson for lesson in own_lessons()}
    names = tuple(name for name, lesson in lessons.items() if lesson.number == LESSON)
    sitting = Sitting(draw_quiz(QuizSpec(names, COUNT, SEED), lessons), lessons, Unit.CM)
    return [_answer(sitting, number) for number in sitting.numbers]


def _answer(sitting: Sitting, number: int) -> Answer:
    asked = sitting.question(number)
    if isinstance(asked, Chosen):
        right = asked.right()
        assert right is not None
        letters = LETTERS[: len(asked.options)]
        return Answer(number, asked.title, letter=letters[right if number > 1 else (right + 1) % len(letters)])
    if not asked.is_built:
        return Answer(number, asked.title, figure=asked.right_answer())
    plan = asked.session.solution().plan
    assert plan is not None
    amounts = (plan.back.widen, plan.back.lower, plan.front.widen, plan.front.lower)
    return Answer(number, asked.title, amounts=tuple(f"{mm / 10:.2f}" for mm in amounts))


def by_keys(terminal: Terminal, given: list[Answer]) -> Iterator[str]:
    """Takes the quiz by keys, the second question left and come back to; gives the screens worth looking at."""
    yield terminal.wait_for(f"{COUNT} without an answer")
    terminal.press("Enter")
    for answer in given:
        yield terminal.wait_for(f"Question {answer.number} of {COUNT}, lesson {LESSON}")
        terminal.press("Enter")
        terminal.wait_for(f"question {answer.number} of {COUNT}")
        if answer.number == 2:
            # Left, and come back to.
            terminal.press("N")
            terminal.wait_for(f"question 1 of {COUNT}")
            terminal.press("n")
            terminal.wait_for(f"question 2 of {COUNT}")
        _give(terminal, answer)
        yield terminal.screen()
        terminal.press("n" if answer.number < COUNT else "Esc")
    terminal.wait_for("Every question has an answer.")
    terminal.press("F")
    terminal.wait_for("Hand the quiz in?")
    terminal.press("y")
    yield terminal.wait_for("70 needed")
    terminal.press("q")


def _give(terminal: Terminal, answer: Answer) -> None:
    if answer.letter:
        terminal.press(answer.letter)
        terminal.wait_for(f"Your answer is {answer.letter},")
    elif answer.figure:
        terminal.press("Enter")
        terminal.wait_for("It is marked at the end.")
        terminal.write(f"{answer.figure}\r")
        terminal.wait_for(f"Your answer is {answer.figure}.")
    for k, amount in enumerate(answer.amounts):
        terminal.press("Enter")
        terminal.wait_for("Enter take it")
        terminal.write(f"{amount}\r")
        shown = f"{float(amount):+.1f} cm"
        terminal.wait_for(shown if float(shown[:-3]) else "u takes the last step back")
        if k < len(SIDES) - 1:
            terminal.press("Down")


def marks_on(screen: str) -> list[str]:
    """The marks of the questions on the screen of the results, and of the whole."""
    each = re.findall(r"^ [ >] ?\d+ +(\d+) of 100 ", screen, re.MULTILINE)
    return [*each, *re.findall(r"assed: (\d+) of 100", screen)]


def line_by_line(given: list[Answer], home: Path) -> str:
    """What the line-by-line quiz prints for the same answers."""
    lines = []
    for answer in given:
        lines.append(f"question {answer.number}")
        lines += [answer.letter or answer.figure] if not answer.amounts else []
        lines += [f"{way} {side} {amount} cm" for (side, way), amount in zip(SIDES, answer.amounts, strict=False)]
    words = [sys.executable, "-m", "tutor", *ARGUMENTS, "--plain"]
    text = "\n".join([*lines, "finish", ""])
    ran = subprocess.run(
        words, input=text, env=environment(home), cwd=ROOT, capture_output=True, text=True, check=False
    )
    return ran.stdout


def marks_in(printed: str) -> list[str]:
    """The marks of the questions that the line-by-line quiz ends with, and of the whole."""
    ending = " ".join(printed[printed.index("> finish") :].split())
    each = re.findall(r" \d+ [^.]*?: (\d+) of 100\. Your answer", ending)
    return [*each, *re.findall(r"Mark: (\d+) of 100", ending)]


def main() -> None:
    """Takes the quiz both ways."""
    given = answers()
    with tutor_in_terminal(ARGUMENTS) as terminal:
        for screen in by_keys(terminal, given):
            print(screen, end=f"\n{'=' * 80}\n")
        print(f"exit status {terminal.status()}, marks {marks_on(screen)}")
    with tempfile.TemporaryDirectory() as home:
        print(f"line by line: {marks_in(line_by_line(given, Path(home)))}")


if __name__ == "__main__":
    main()
