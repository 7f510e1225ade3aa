"""The line-by-line quiz, for a screen reader, a slow link or a pipe."""

from __future__ import annotations

from collections.abc import Callable
from typing import TextIO

from tutor.faults import Fault
from tutor.practice.console import Console
from tutor.practice.page import Page
from tutor.quiz.outcome import outcome_of
from tutor.quiz.plain_commands import QuizTalk, obey
from tutor.quiz.plain_text import opening_lines, outcome_lines, question_lines
from tutor.quiz.sitting import Sitting

PASSED, NOT_PASSED = 0, 1


def run_quiz(
    sitting: Sitting,
    input: TextIO,
    output: TextIO,
    width: int = 80,
    *,
    ascii: bool | None = None,
    keep: Callable[[Sitting], str] | None = None,
    resumed: bool = False,
) -> int:
    """Talks a quiz through until it is handed in, "quit" or the end of the input; 0 when it is passed, else 1.

    ``keep`` is called with the sitting at the start, after every line, and once it is over; what it gives is told,
    unless that is "". A line that can't be read costs nothing. Where somebody types, they are asked
    once more before a quiz with open questions is handed in.
    """
    talk = QuizTalk(sitting, Page.on(output, width, ascii), asks=input.isatty())
    console = Console(input, output, talk.page)

    def kept() -> list[str]:
        notice = "" if keep is None else keep(sitting)
        return talk.lines(f"Note: {notice}") if notice else []

    said = opening_lines(sitting, talk.page, resumed)
    if not sitting.is_over:
        said += question_lines(sitting, talk.page)
    console.say([*kept(), *said, ""])
    while not talk.leaving and not sitting.is_over and (line := console.read()) is not None:
        said = _obeyed(talk, line)
        console.say([*kept(), *said])
    return _end(talk, console, kept)


def _obeyed(talk: QuizTalk, line: str) -> list[str]:
    if talk.sitting.is_over:
        return talk.lines("The time is up. What was typed since is not counted.")
    try:
        return obey(talk, line)
    except Fault as fault:
        return talk.page.wrapped(f"Not read, and nothing lost: {fault}.")


def _end(talk: QuizTalk, console: Console, kept: Callable[[], list[str]]) -> int:
    """What is said at the end, whichever it is, and the exit status."""
    if not talk.sitting.is_over:
        console.say(["", *talk.lines("Not handed in. sleeve-tutor quiz goes on with it.")])
        return NOT_PASSED
    outcome = outcome_of(talk.sitting)
    console.say([*kept(), *outcome_lines(talk.sitting, outcome, talk.page)])
    return PASSED if outcome.passed else NOT_PASSED
