"""The commands of a diagnosis: folds told in words, signs asked for, and what has been found out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tutor.faults import Fault
from tutor.fit.causes import CAUSES
from tutor.lesson.task import DiagnoseTask
from tutor.practice.finding_text import sign_named
from tutor.practice.plain_talk import Talk
from tutor.practice.signs_told import SignRow

NOT_YET = "not looked for"
_NUMBERS = re.compile(r"\d+(?:(?:\W|\band\b)+\d+)*\W*", re.IGNORECASE)


def are_numbers(words: str) -> bool:
    """Whether a line is the number of a sign, or several of them: "2", "2 and 3", "1, 2"."""
    return _NUMBERS.fullmatch(words) is not None


def sign(talk: Talk, rest: str) -> list[str]:
    """Looks for a sign, and tells what shows; lists all of them where none is named."""
    if not isinstance(talk.session.task, DiagnoseTask):
        raise Fault("sign", "this task has no signs to ask for", "ask tells what it asks for")
    if not rest:
        return signs_lines(talk)
    if are_numbers(rest) and len(re.findall(r"\d+", rest)) > 1:
        raise Fault("sign", "one sign is looked for at a time", "write one number, such as sign 2")
    named = _without_number(rest.casefold().removeprefix("the "), talk.session.signs)
    return talk.lines(told(talk.session.ask_sign(named)))


def _without_number(words: str, signs: Sequence[SignRow]) -> str:
    """What is left of a line of the table of signs once the number before its words is taken off."""
    number, _, more = words.partition(" ")
    number = number.rstrip(").,")
    if not number.isdecimal():
        return words
    same = sign_named(more, signs) if more else None
    return number if not more or (same is not None and same == sign_named(number, signs)) else words


def told(row: SignRow) -> str:
    """A sign that was looked for, with its figure: "2. Walk the cap round the armhole. ... Off by 1.8 cm."."""
    return f"{row.number}. {row.words}. {row.shows} Off by {row.figure}."


def signs_lines(talk: Talk) -> list[str]:
    """All signs as a table with their figures, and in sentences what showed of those that were looked for."""
    signs = talk.session.signs
    rows = [("sign", "off by"), *((f"{row.number}. {row.words}", row.figure or NOT_YET) for row in signs)]
    return [*talk.page.table(rows), *talk.lines(*(told(row) for row in signs if row.asked))]


def folds_lines(talk: Talk) -> list[str]:
    """The folds in sentences."""
    if not isinstance(talk.session.task, DiagnoseTask):
        return talk.lines("This task shows no folds.")
    return talk.lines("The sleeve as it is worn:", *talk.session.folds_told())


def found_out(talk: Talk) -> list[str]:
    """What has been found out so far, a sentence each."""
    finding = talk.session.finding
    said = [told(row) for row in talk.session.signs if row.asked]
    if finding.cause:
        said.append(f"Named: {CAUSES[finding.cause].words}.")
    return said or ["No sign looked for yet, and no cause named."]
