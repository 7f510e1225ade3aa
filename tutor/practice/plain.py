"""The line-by-line tutor: a lesson talked through in lines, for a screen reader, a slow link or a pipe."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TextIO

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.practice.console import Console
from tutor.practice.page import Page
from tutor.practice.plain_commands import obey
from tutor.practice.plain_looking import opening_lines, resuming_lines, standing_lines
from tutor.practice.plain_talk import Talk
from tutor.practice.session import Session
from tutor.units import Unit

PASSED, NOT_PASSED = 0, 1


def run_plain(
    lesson: Session | Lesson,
    input: TextIO,
    output: TextIO,
    width: int = 80,
    *,
    unit: Unit | None = None,
    ascii: bool | None = None,
    keep: Callable[[Session], str] | None = None,
    resumed: bool = False,
    unit_changed: Callable[[Unit], None] | None = None,
    progress: Callable[[], Sequence[Sequence[str]]] | None = None,
) -> int:
    """Talks a lesson through until its end, "quit" or the end of the input; 0 when every task is passed, else 1.

    ``unit`` is the learner's, the lesson's own if left out; a session keeps its own. ``ascii`` prints ASCII alone;
    left out, it does so where the output's encoding asks for it. Where the input is no terminal, the lines read are
    printed too, so that the output can be read by itself. A line that can't be read costs nothing.

    ``keep`` is called with the session after every line, before its effect is told, and with it once at the start;
    what it gives is told, unless that is "". ``resumed`` says where a session goes on that was begun before.
    ``unit_changed`` is told when another unit is chosen; ``progress`` gives how the lessons stand, as rows of a table.
    """
    session = lesson if isinstance(lesson, Session) else Session(lesson, unit or lesson.unit)
    talk = Talk(session, Page.on(output, width, ascii), unit_changed=unit_changed, progress=progress)
    console = Console(input, output, talk.page)

    def kept() -> list[str]:
        notice = "" if keep is None else keep(talk.session)
        return talk.lines(f"Note: {notice}") if notice else []

    said = opening_lines(talk, resuming_lines(talk) if resumed else [])
    console.say([*kept(), *said, ""])
    while not talk.leaving and (line := console.read()) is not None:
        said = _obeyed(talk, line)
        console.say([*kept(), *said])
    console.say(_closing_lines(talk))
    return PASSED if talk.session.passed else NOT_PASSED


def _obeyed(talk: Talk, line: str) -> list[str]:
    try:
        return obey(talk, line)
    except Fault as fault:
        return talk.page.wrapped(f"Not read, and nothing lost: {fault}.")


def _closing_lines(talk: Talk) -> list[str]:
    session = talk.session
    passed = "passed" if session.passed else "not passed"
    return ["", *standing_lines(talk), f"Lesson {session.lesson.number} {passed}."]
