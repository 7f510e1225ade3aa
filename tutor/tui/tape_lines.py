"""The tape as lines: each measure before, now, wanted, and how far off, in columns that fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tutor.marking.figures import shown
from tutor.pattern.measures import Kind, words_for
from tutor.practice.tape import TapeRow
from tutor.tui.spelling import spelled_out
from tutor.units import Unit

SHORT = {
    "cap-ease-back": "ease, back",
    "cap-ease-front": "ease, front",
    "cap-seam-back": "cap, back",
    "cap-seam-front": "cap, front",
    "cap-ease-percent": "ease in %",
    "ease-balance": "ease uneven",
    "underarm-seam-back": "seam, back",
    "underarm-seam-front": "seam, front",
    "underarm-mismatch": "seams uneven",
    "notch-mismatch-front": "notch, front",
    "notch-mismatch-back-1": "notch 1, back",
    "notch-mismatch-back-2": "notch 2, back",
    "side-seam-back": "side, back",
    "side-seam-front": "side, front",
    "side-mismatch": "sides uneven",
    "crown-shift": "crown off",
    "kink": "cap kink",
    "overlap": "double",
    "gap": "opened",
}
"""Measures in short, for columns too few for their words."""
SHORTEST = {
    "bicep-girth": "bicep",
    "elbow-girth": "elbow",
    "forearm-girth": "forearm",
    "hem-girth": "hem girth",
    "cap-height": "height",
    "sleeve-length": "length",
    "crown-to-elbow": "to elbow",
    "underarm-seam-front": "seam, fr.",
    "underarm-seam-back": "seam, bk.",
    "underarm-mismatch": "seams off",
    "cap-ease-front": "ease, fr.",
    "cap-ease-back": "ease, bk.",
    "cap-seam-front": "cap, fr.",
    "cap-seam-back": "cap, bk.",
    "ease-balance": "ease off",
    "side-seam-front": "side, fr.",
    "side-seam-back": "side, bk.",
    "side-mismatch": "sides off",
    "notch-mismatch-front": "notch, fr.",
    "notch-mismatch-back-1": "1st notch",
    "notch-mismatch-back-2": "2nd notch",
    "wearing-ease": "wearing",
    "stretch-used": "stretch",
}
"""And in fewer letters still, beside inches in a narrow panel."""
NAMES = 9
"""Columns that the measures' names need; where they had fewer, of two bounds the nearer one is shown alone."""
CHANGE_FROM = 56
"""Columns from which the change has a column of its own."""
BEFORE_FROM = 42
"""Columns from which the measure before is shown."""


def tape_lines(rows: Sequence[TapeRow], unit: Unit, width: int, *, ascii: bool) -> list[tuple[str, str]]:
    """A heading and a line for each row, all ``width`` wide, and its style.

    Lengths are without their unit, which the heading has.
    """
    columns, widths = _spelled(rows, unit, width, ascii)
    if width - sum(widths) - len(widths) < NAMES:
        columns, widths = _spelled([replace(row, wanted=row.nearer or row.wanted) for row in rows], unit, width, ascii)
    left = max(width - sum(widths) - len(widths), 8)
    words = _named([row.measure for row in rows], left, ascii)
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


def _named(measures: Sequence[str], width: int, ascii: bool) -> list[str]:
    """The measures' words in so many columns: whole, else in short, else cut; no two of them alike."""
    found = [_fitting(measure, width, ascii) for measure in measures]
    for k, measure in enumerate(measures):
        if found.count(found[k]) > 1:
            # What tells them apart stands at their ends.
            words = spelled_out(_short(measure), ascii=ascii)
            last = (width - 1) // 2
            found[k] = words[: width - 1 - last] + _dots(ascii) + words[-last:]
    return found


def _fitting(measure: str, width: int, ascii: bool) -> str:
    for words in (words_for(measure), _short(measure), SHORTEST.get(measure, _short(measure))):
        spelled = spelled_out(words, ascii=ascii)
        if len(spelled) <= width:
            return spelled
    return spelled[: width - 1].rstrip(" ,") + _dots(ascii)


def _short(measure: str) -> str:
    return SHORT.get(measure, words_for(measure).replace(",", ""))


def _dots(ascii: bool) -> str:
    return "~" if ascii else "…"


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
