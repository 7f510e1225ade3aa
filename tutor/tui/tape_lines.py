"""The tape as lines: each measure before, now, wanted, and how far off, in columns that fit."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.marking.figures import shown
from tutor.pattern.measures import Kind
from tutor.practice.tape import TapeRow
from tutor.tui.spelling import spelled_out
from tutor.units import Unit

CHANGE_FROM = 56
"""Columns from which the change has a column of its own."""
BEFORE_FROM = 42
"""Columns from which the measure before is shown."""


def tape_lines(rows: Sequence[TapeRow], unit: Unit, width: int, *, ascii: bool) -> list[tuple[str, str]]:
    """A heading and a line for each row, all ``width`` wide, and its style.

    Lengths are without their unit, which the heading has.
    """
    columns = [
        (name, [spelled_out(text, ascii=ascii) for text in texts]) for name, texts in _columns(rows, unit, width, ascii)
    ]
    widths = [max(len(text) for text in (name, *texts)) for name, texts in columns]
    left = max(width - sum(widths) - len(widths), 8)
    heading = f"tape, {unit.value}"[:left].ljust(left)
    heading += "".join(f" {name:>{wide}}" for (name, _), wide in zip(columns, widths, strict=True))
    lines = [(heading[:width], "bold $strong")]
    for k, row in enumerate(rows):
        text = _cut(spelled_out(row.words, ascii=ascii), left, ascii).ljust(left)
        figures = [f" {texts[k]:>{wide}}" for (_, texts), wide in zip(columns, widths, strict=True)]
        lines.append(((text + "".join(figures))[:width], "$text" if row.wanted else "$quiet"))
    return lines


def _columns(rows: Sequence[TapeRow], unit: Unit, width: int, ascii: bool) -> list[tuple[str, list[str]]]:
    """The columns that there is room and reason for: where nothing is wanted, nothing is off."""
    columns = [("now", [_now(row, unit) for row in rows])]
    if width >= CHANGE_FROM:
        columns.append(("change", [_change(row, unit) for row in rows]))
    if any(row.wanted for row in rows):
        columns.append(("wanted", [_wanted(row, ascii) for row in rows]))
        columns.append(("off", [_off(row, unit) for row in rows]))
    if width >= BEFORE_FROM:
        columns.insert(0, ("before", [_bare(shown(row.measure, row.before, unit)) for row in rows]))
    return columns


def _cut(words: str, width: int, ascii: bool) -> str:
    if len(words) <= width:
        return words
    return words[: width - 1].rstrip(" ,") + ("~" if ascii else "…")


def _bare(text: str) -> str:
    return text.removesuffix(" cm").removesuffix(" in").removesuffix(" mm")


def _now(row: TapeRow, unit: Unit) -> str:
    return "?" if row.now is None else _bare(shown(row.measure, row.now, unit))


def _change(row: TapeRow, unit: Unit) -> str:
    return "" if row.change is None else _bare(shown(row.measure, row.change, unit, signed=True))


def _wanted(row: TapeRow, ascii: bool) -> str:
    """What is wanted, as short as it goes: ``36.0``, ``≤ 1.5``, ``0.5–1.5``."""
    if row.wanted is None:
        return ""
    most, least, dash = ("<=", ">=", "..") if ascii else ("≤", "≥", "–")
    text = row.wanted
    if text.startswith("at most "):
        return most + _bare(text.removeprefix("at most "))
    if text.startswith("at least "):
        return least + _bare(text.removeprefix("at least "))
    return dash.join(_bare(part) for part in text.split(" to "))


def _off(row: TapeRow, unit: Unit) -> str:
    """How far off; nothing where that is no more than shows."""
    if row.off is None:
        return ""
    text = _bare(shown(row.measure, row.off, unit, signed=True))
    return "0" if row.kind is Kind.LENGTH and text.lstrip("+-") in ("0.0", "0") else text
