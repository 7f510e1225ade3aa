"""Pages laid over the screen: texts in parts, each with its style, and lists of keys."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from textual.content import Content

from tutor.tui.actions import Action
from tutor.tui.spelling import spelled_out

Part = tuple[str, str]
"""A text and its style."""


def page(parts: Iterable[Part], *, ascii: bool) -> Content:
    """Parts as one text, without blank lines at its end."""
    return Content.assemble(*((spelled_out(text, ascii=ascii), style) for text, style in parts)).rstrip()


def paragraphs(texts: Sequence[str], *, style: str = "$text") -> list[Part]:
    """Texts as paragraphs."""
    return [("\n\n".join(texts), style)]


def help_parts(actions: Iterable[Action], *, ascii: bool) -> list[Part]:
    """The keys of the actions, by group."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for action in actions:
        groups.setdefault(action.group, []).append((action.key_words, action.words))
    return keys_parts(groups, ascii=ascii)


def keys_parts(groups: Mapping[str, Sequence[tuple[str, str]]], *, ascii: bool) -> list[Part]:
    """Keys as written with what they do, under the names of their groups."""
    spelled = {name: [(spelled_out(keys, ascii=ascii), words) for keys, words in rows] for name, rows in groups.items()}
    wide = max(len(keys) for rows in spelled.values() for keys, _ in rows)
    parts: list[Part] = []
    for group, rows in spelled.items():
        parts.append((f"{group}\n", "bold $strong"))
        for keys, words in rows:
            parts += [(f"  {keys.ljust(wide)}  ", "bold $text"), (f"{words}\n", "$text")]
    return parts
