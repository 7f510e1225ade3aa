"""``sleeve-tutor lessons names``: every name that a lesson file can use, with what it means."""

from __future__ import annotations

from collections.abc import Mapping

BESIDE = 70
"""Columns from which words stand beside their names, and not below them."""


def lesson_names() -> dict[str, dict[str, str]]:
    """The names by kind, each with its words: measures, places, means, mistakes, causes and signs.

    A measure's words are as the tape has them, and what they mean.
    """
    from tutor.alteration.amounts import MEANS
    from tutor.alteration.place_words import LANDMARK_WORDS
    from tutor.fit.causes import CAUSES
    from tutor.fit.signs import SIGNS
    from tutor.marking.usual import MISTAKES
    from tutor.pattern.measures import MEASURES

    return {
        "measures": {name: f"{each.words}: {each.meaning}" for name, each in MEASURES.items()},
        "places": dict(LANDMARK_WORDS),
        "means": {str(name): words for name, words in MEANS.items()},
        "mistakes": {name: each.words for name, each in sorted(MISTAKES.items())},
        "causes": {name: each.words for name, each in CAUSES.items()},
        "signs": {name: each.words for name, each in SIGNS.items()},
    }


def print_names(names: Mapping[str, Mapping[str, str]]) -> None:
    """Prints names under their kinds, the words beside them."""
    from tutor.commands.terminal import page

    sheet = page()
    beside = sheet.width >= BESIDE
    wide = max(len(name) for group in names.values() for name in group) + 4 if beside else 4
    for kind, group in names.items():
        print(kind)
        for name, words in group.items():
            if beside:
                print("\n".join(sheet.wrapped(words, f"  {name}".ljust(wide), " " * wide)))
            else:
                print("\n".join([f"  {name}", *sheet.wrapped(words, " " * wide)]))
