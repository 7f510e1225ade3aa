"""Findings as people write them: "b", "2", "b by 1 and 4", "cap-high by pinch, walk"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from tutor.faults import Fault
from tutor.marking.finding import BY, Finding
from tutor.practice.options import WHERE, Option
from tutor.practice.signs_told import SignRow

_BETWEEN = re.compile(r"\s*(?:,|;|\+|&|:|\band\b|\bby\b|\bfrom\b|\bsigns?\b)\s*|\s+", re.IGNORECASE)
LONGEST = 40


def read_finding(text: str, finding: Finding, causes: Sequence[Option], signs: Sequence[SignRow]) -> Finding:
    """The finding with what ``text`` adds to it: a cause named, by letter, name or words; signs, by number or name.

    Signs asked for before stay so. Raises Fault for words that are neither, and for more than one cause.
    """
    named = _cause_in_words(text, causes)
    if named is not None:
        return replace(finding, cause=named)
    found: list[str] = []
    for word in filter(None, (each.strip(" .()") for each in _BETWEEN.split(text.strip()))):
        sign = sign_named(word, signs)
        if sign is not None:
            finding = finding.asking(sign.name)
            continue
        found.append(_cause(word, causes, signs))
    if len(set(found)) > 1:
        raise Fault(WHERE, f"names {len(set(found))} causes", "name one of them")
    if not found and not finding.asked:
        raise Fault(WHERE, "names no cause and no sign", _right(causes, signs))
    return replace(finding, cause=found[0]) if found else finding


def check_names_a_cause(text: str, causes: Sequence[Option], signs: Sequence[SignRow]) -> None:
    """Raises Fault, at no cost, for an answer in which no cause is named, as where only a number of a sign stands."""
    if not read_finding(text, Finding((signs[0].name,)), causes, signs).cause:
        what = f'"{text.strip()[:LONGEST]}" is no cause' if text.strip() else "names no cause"
        right = f"write a letter from {causes[0].letter} to {causes[-1].letter}; sign and a number looks for a sign"
        raise Fault(WHERE, what, right)


def sign_named(word: str, signs: Sequence[SignRow]) -> SignRow | None:
    """The sign of a number, a name, or the words that say what is done; None where there is none such."""
    bare = " ".join(word.split()).casefold().rstrip(".")
    return next((sign for sign in signs if bare in (str(sign.number), sign.name, sign.words.casefold())), None)


def _cause_in_words(text: str, causes: Sequence[Option]) -> str | None:
    """The cause whose words are all of the text."""
    bare = " ".join(text.split()).casefold().rstrip(".")
    return next((cause.name for cause in causes if bare == cause.words.casefold()), None)


def _cause(word: str, causes: Sequence[Option], signs: Sequence[SignRow]) -> str:
    for cause in causes:
        if word.casefold() in (cause.letter, cause.name):
            return cause.name
    raise Fault(WHERE, f'"{word[:LONGEST]}" is none of the causes and none of the signs', _right(causes, signs))


def _right(causes: Sequence[Option], signs: Sequence[SignRow]) -> str:
    first, last, most = causes[0].letter, causes[-1].letter, signs[-1].number
    return f"write a letter from {first} to {last} for the cause, {BY} and numbers up to {most} for the signs"
