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
    """One thing to choose: the letter it stands under, its name in the lesson, its words, and whether it is chosen."""

    letter: str
    name: str
    words: str
    chosen: bool = False


def options_of(
    task: ChoiceTask | DiagnoseTask, key: str, worded: Callable[[str], str], chosen: Sequence[str]
) -> tuple[Option, ...]:
    """The options in an order that hangs on ``key`` alone, so that it tells nothing and stays the same."""
    words = _words_of(task, worded)
    order = sorted(words, key=lambda name: hashlib.sha256(f"{key}/{name}".encode()).digest())
    letters = zip(string.ascii_lowercase, order, strict=False)
    return tuple(Option(letter, name, words[name], name in chosen) for letter, name in letters)


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
        raise Fault(WHERE, "names none of the options", f"write {_letters(options)}")
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
        raise Fault(WHERE, f'"{wrong[:40]}" is none of the options', f"write {_letters(options)}")
    return {option.name for option in found if option is not None}


def _one(word: str, options: Sequence[Option]) -> Option | None:
    for number, option in enumerate(options, 1):
        if word.casefold() in (option.letter, str(number), option.name.casefold()):
            return option
    return None


def _letters(options: Sequence[Option]) -> str:
    *most, last = [option.letter for option in options]
    return f"{', '.join(most)} or {last}"
