"""The tape as lines: each measure before, now, wanted, and how far off, in columns that fit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from tutor.marking.figures import shown
from tutor.pattern.measures import words_for
from tutor.practice.tape import MET, TapeRow
from tutor.tui.spelling import spelled_out
from tutor.units import Unit

SHORT = {
    "cap-seam-back": "cap, back",
    "cap-seam-front": "cap, front",
    "cap-ease-back": "ease, back",
    "cap-ease-front": "ease, front",
    "cap-ease-percent": "ease in %",
    "ease-balance": "ease uneven",
    "sleeve-length": "length",
    "underarm-seam-back": "underarm, back",
    "underarm-seam-front": "underarm, front",
    "underarm-mismatch": "underarm uneven",
    "notch-mismatch-front": "notch, front",
    "notch-mismatch-back-1": "notch 1, back",
    "notch-mismatch-back-2": "notch 2, back",
    "side-seam-back": "side, back",
    "side-seam-front": "side, front",
    "side-mismatch": "sides uneven",
    "crown-shift": "middle to crown",
    "kink": "cap kink",
}
"""Measures in short, for columns too few for their words. Each still tells its measure from every other."""
SHORTEST = {
    "bicep-girth": "bicep",
    "cap-height": "cap ht.",
    "cap-seam-front": "cap, fr.",
    "armhole-back": "armh. bk.",
    "armhole-front": "armh. fr.",
    "cap-ease-back": "ease, bk.",
    "cap-ease-front": "ease, fr.",
    "ease-balance": "ease f-b",
    "elbow-girth": "elbow",
    "forearm-girth": "forearm",
    "crown-to-elbow": "to elbow",
    "underarm-seam-back": "u/arm bk.",
    "underarm-seam-front": "u/arm fr.",
    "underarm-mismatch": "u/arm f-b",
    "notch-mismatch-front": "notch fr.",
    "notch-mismatch-back-1": "notch b1",
    "notch-mismatch-back-2": "notch b2",
    "side-seam-back": "side, bk.",
    "side-seam-front": "side, fr.",
    "side-mismatch": "side f-b",
    "crown-shift": "mid-crown",
    "grain-tilt": "gr. tilt",
    "wearing-ease": "wear ease",
    "stretch-used": "stretch",
}
"""And in no more than ``NAMES`` letters, beside inches in a narrow panel; f-b is front less back."""
NAMES = 9
"""Columns that the measures' names need.

Where they had fewer, of two bounds the nearer one is shown alone; where that is not enough, how far off is left out.
"""
APART = 2
"""Columns more than the longest name that names have where figures are close to them."""
CHANGE_FROM = 56
"""Columns from which the change has a column of its own."""
BEFORE_FROM = 42
"""Columns from which the measure before is shown."""


def tape_lines(
    rows: Sequence[TapeRow], unit: Unit, width: int, *, ascii: bool, lies: str = "now", close: bool = False
) -> list[tuple[str, str]]:
    """A heading and a line for each row, all ``width`` wide, and its style; narrower if the figures are to be ``close``
    to the longest name.

    Lengths are without their unit, which the heading has. ``lies`` heads what is as it was, where it all is.
    """
    columns, widths = _spelled(rows, unit, width, ascii)
    if not any(row.wanted for row in rows) and len(columns) == 1:
        columns = [(lies, columns[0][1])]
        widths = [max(len(lies), *widths)]
    if width - sum(widths) - len(widths) < NAMES:
        columns, widths = _spelled([replace(row, wanted=row.nearer or row.wanted) for row in rows], unit, width, ascii)
    if width - sum(widths) - len(widths) < NAMES:
        columns, widths = columns[:-1], widths[:-1]
    left = width - sum(widths) - len(widths)
    words = short_names([row.measure for row in rows], left)
    if close:
        left = min(left, max(map(len, words), default=0) + APART)
        width = left + sum(widths) + len(widths)
    heading = f"tape, {unit.value}"[:left].ljust(left)
    heading += "".join(f" {name:>{wide}}" for (name, _), wide in zip(columns, widths, strict=True))
    lines = [(heading[:width], "bold $strong")]
    for k, row in enumerate(rows):
        text = words[k].ljust(left)
        figures = [f" {texts[k]:>{wide}}" for (_, texts), wide in zip(columns, widths, strict=True)]
        lines.append(((text + "".join(figures))[:width], "$text" if row.wanted else "$quiet"))
    return lines


def _spelled(
    rows: Sequence[TapeRow], unit: Unit, width: int, ascii: bool
) -> tuple[list[tuple[str, list[str]]], list[int]]:
    """The columns as they are to be read, and how wide each is."""
    columns = [
        (name, [spelled_out(text, ascii=ascii) for text in texts]) for name, texts in _columns(rows, unit, width, ascii)
    ]
    return columns, [max(len(text) for text in (name, *texts)) for name, texts in columns]


def _columns(rows: Sequence[TapeRow], unit: Unit, width: int, ascii: bool) -> list[tuple[str, list[str]]]:
    """The columns that there is room and reason for: where nothing is wanted, nothing is off.

    Where nothing is wanted and nothing has changed, before is as now.
    """
    same = not any(row.wanted for row in rows) and all(row.now == row.before for row in rows)
    columns = [("now", [_now(row, unit) for row in rows])]
    if width >= CHANGE_FROM and not same:
        columns.append(("change", [_change(row, unit) for row in rows]))
    if any(row.wanted for row in rows):
        columns.append(("wanted", [_wanted(row, ascii) for row in rows]))
        columns.append(("off", [_off(row, unit) for row in rows]))
    if width >= BEFORE_FROM and not same:
        columns.insert(0, ("before", [_bare(shown(row.measure, row.before, unit)) for row in rows]))
    return columns


def short_names(measures: Sequence[str], most: int) -> list[str]:
    """The measures' words in so many letters: whole, else in short, back and front of the same alike.

    At ``NAMES`` letters or more nothing is cut off.
    """
    alike: dict[str, int] = {}
    for measure in measures:
        alike[_same(measure)] = max(alike.get(_same(measure), 0), _shortness(measure, most))
    return [_ways(measure)[alike[_same(measure)]][: max(most, 0)] for measure in measures]


def _same(measure: str) -> str:
    return re.sub("-(?:back|front)(?:-[0-9])?$", "", measure)


def _ways(measure: str) -> tuple[str, str, str]:
    """A measure's words whole, in short, and in no more than ``NAMES`` letters."""
    short = SHORT.get(measure, words_for(measure))
    return words_for(measure), short, SHORTEST.get(measure, short)


def _shortness(measure: str, most: int) -> int:
    """Which of the ways is the first that fits; the last where none does."""
    return next((k for k, words in enumerate(_ways(measure)) if len(words) <= most), 2)


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
    """How far off, where that is beyond the tolerance."""
    if row.off is None:
        return ""
    return MET if row.met else _bare(shown(row.measure, row.off, unit, signed=True))
