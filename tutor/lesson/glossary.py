"""The words of the trade, each with its meaning and with what other places call it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from msgspec import Struct

from tutor.faults import Fault
from tutor.resources import assets_folder
from tutor.toml_reading import read_toml
from tutor.toml_tables import convert

FILE = "glossary.toml"


class Word(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A word of the trade, what it means, and what the same is called elsewhere."""

    name: str
    meaning: str
    also: tuple[str, ...] = ()

    @property
    def heading(self) -> str:
        """The word with its other names: "armhole (also armscye)"."""
        return f"{self.name} (also {', '.join(self.also)})" if self.also else self.name


class _Glossary(Struct, frozen=True, forbid_unknown_fields=True):
    word: tuple[Word, ...]


@cache
def glossary() -> tuple[Word, ...]:
    """All words, from a to z. Raises Fault when the installation has lost them."""
    path = assets_folder() / FILE
    document = read_toml(path)
    return tuple(sorted(convert(document.tables, _Glossary, str(path)).word, key=lambda word: word.name))


def find_words(text: str) -> tuple[Word, ...]:
    """The words whose name, or other name, has ``text`` in it; one that is just ``text`` comes first.

    Raises Fault when there are none.
    """
    sought = " ".join(text.casefold().split())
    found = [word for word in glossary() if any(sought in name.casefold() for name in (word.name, *word.also))]
    if not found:
        raise Fault("words", f'there is no word "{text[:40]}" here', "words alone lists them all")
    exact = [word for word in found if sought in (word.name.casefold(), *(name.casefold() for name in word.also))]
    return tuple(dict.fromkeys([*exact, *found]))


def words_in(texts: Iterable[str]) -> tuple[Word, ...]:
    """The words that texts use, from a to z; a longer word that is used hides the shorter ones within it."""
    rest = " ".join(texts).casefold()
    used = []
    for word in sorted(glossary(), key=lambda word: -len(word.name)):
        pattern = re.compile(rf"(?<!\w){re.escape(word.name.casefold())}(s|es)?(?!\w)")
        if pattern.search(rest):
            used.append(word)
            rest = pattern.sub(" ", rest)
    return tuple(sorted(used, key=lambda word: word.name))
