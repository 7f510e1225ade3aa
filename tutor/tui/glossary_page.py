"""The words of the trade as a page: those that are used in the task at hand, then all of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from tutor.lesson.glossary import Word, glossary, words_in
from tutor.tui.pages import Part


def glossary_parts(texts: Iterable[str]) -> list[Part]:
    """The words that ``texts`` use, where there are any, and all words from a to z."""
    here = words_in(texts)
    parts: list[Part] = []
    if here:
        parts += [("In this task\n", "bold $strong"), *_listed(here), ("\nAll words\n", "bold $strong")]
    return [*parts, *_listed(glossary())]


def _listed(words: Sequence[Word]) -> list[Part]:
    parts: list[Part] = []
    for word in words:
        parts += [(word.heading, "bold $text"), (f"\n  {word.meaning}\n", "$text")]
    return parts
