"""What a task gives to choose among, in an order drawn by the variant, and choices as people write them."""

from __future__ import annotations

import hashlib
import re
import string
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tutor.faults import Fault
from tutor.fit.causes import CAUSES
from tutor.lesson.task import ChoiceTask, DiagnoseTask
from tutor.pattern.measures import words_for

WHERE = "answer"
JOIN = ", "
_BETWEEN = re.compile(r"\s*(?:,|;|\+|&|\band\b)\s*|\s+")


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to choose: its letter, its name in the lesson, its words, whether it is chosen, and its number.

    On sheets options stand under their letters, as spreadsheets make dates of numbers; in the tutor under their
    numbers, as letters are commands there.
    """

    letter: str
    name: str
    words: str
    chosen: bool = False
    number: str = ""


def options_of(
    task: ChoiceTask | DiagnoseTask, key: str, worded: Callable[[str], str], chosen: Sequence[str]
) -> tuple[Option, ...]:
    """The options in an order that hangs on ``key`` alone, so that it tells nothing and stays the same."""
    words = _words_of(task, worded)
    order = sorted(words, key=lambda name: hashlib.sha256(f"{key}/{name}".encode()).digest())
    letters = enumerate(zip(string.ascii_lowercase, order, strict=False), 1)
    return tuple(Option(letter, name, words[name], name in chosen, str(k)) for k, (letter, name) in letters)


def _words_of(task: ChoiceTask | DiagnoseTask, worded: Callable[[str], str]) -> dict[str, str]:
    """Everything to choose among in words, by its name."""
    if isinstance(task, DiagnoseTask):
        return {cause: CAUSES[cause].words for cause in task.names}
    words = {option.plan: worded(option.title) for option in task.options}
    return words or {name: words_for(name) for name in task.measures}


def read_choice(text: str, options: Sequence[Option], task: ChoiceTask) -> tuple[str, ...]:
    """The names of the options that are meant, by letter, number, name or words, in the lesson's order.

    Raises Fault.
    """
    found = _whole(text, options)
    names = {found.name} if found is not None else _listed(text, options)
    if not names:
        raise Fault(WHERE, "names none of the options", _labels(options))
    if task.pick == "one" and len(names) > 1:
        raise Fault(WHERE, f"names {len(names)} options", "choose one of them")
    return tuple(name for name in task.names if name in names)


def _whole(text: str, options: Sequence[Option]) -> Option | None:
    """The option whose words are all of the text."""
    bare = " ".join(text.split()).casefold().rstrip(".")
    return next((option for option in options if bare in (option.name.casefold(), option.words.casefold())), None)


def _words(text: str) -> list[str]:
    return [word.strip(" .()") for word in _BETWEEN.split(text.strip()) if word.strip(" .()")]


def _listed(text: str, options: Sequence[Option]) -> set[str]:
    """The names of the options that the words of a text mean, each one. Raises Fault for a word that means none."""
    words = _words(text)
    found = [_one(word, options) for word in words]
    if None in found:
        # Of words none of which is an option no single one is wrong.
        wrong = words[found.index(None)] if any(found) else " ".join(text.split())
        raise Fault(WHERE, f'"{wrong[:40]}" is none of the options', _labels(options))
    return {option.name for option in found if option is not None}


def _one(word: str, options: Sequence[Option]) -> Option | None:
    for option in options:
        if word.casefold() in (option.letter, option.number, option.name.casefold()):
            return option
    return None


def _labels(options: Sequence[Option]) -> str:
    """What an option can be named by: its number in the tutor, its letter on a sheet."""
    count = len(options)
    return f"write a number from 1 to {count}, or a letter from {options[0].letter} to {options[-1].letter}"
