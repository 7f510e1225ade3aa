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
    """The keys of the actions, by group; each line, clicked, chooses its action on the page that shows it."""
    groups: dict[str, list[Action]] = {}
    for action in actions:
        groups.setdefault(action.group, []).append(action)
    rows = {
        name: [(each.key_words, each.words, f"@click=screen.choose('{each.name}')") for each in group]
        for name, group in groups.items()
    }
    return _rows_in_groups(rows, ascii=ascii)


def keys_parts(groups: Mapping[str, Sequence[tuple[str, str]]], *, ascii: bool) -> list[Part]:
    """Keys as written with what they do, under the names of their groups."""
    return _rows_in_groups({name: [(*row, "") for row in rows] for name, rows in groups.items()}, ascii=ascii)


def _rows_in_groups(groups: Mapping[str, Sequence[tuple[str, str, str]]], *, ascii: bool) -> list[Part]:
    """Rows of keys, words and what a click does."""
    spelled = {name: [(spelled_out(keys, ascii=ascii), *more) for keys, *more in rows] for name, rows in groups.items()}
    wide = max(len(keys) for rows in spelled.values() for keys, *_ in rows)
    parts: list[Part] = []
    for group, rows in spelled.items():
        parts.append((f"{group}\n", "bold $strong"))
        for keys, words, click in rows:
            parts += [(f"  {keys.ljust(wide)}  ", f"bold $text {click}"), (words, f"$text {click}"), ("\n", "")]
    return parts
