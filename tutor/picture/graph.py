"""Figures over time drawn as a graph in character cells: a line for each row of figures, with its scales."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tutor.picture.chart import draw
from tutor.picture.looks import Look, legend
from tutor.picture.scene import Scene, Stroke, Window

LOOKS = (Look.AFTER, Look.BEFORE, Look.SLASH)
"""Looks of lines that are told apart without colour, in the order in which they are used."""
SCALE = 4
"""Columns of the figures at the side."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line: its words, and a figure for each place along the way; None where there is none."""

    words: str
    figures: Sequence[float | None]


def graph(
    lines: Sequence[Line], places: Sequence[str], most: float, width: int, height: int, *, ascii: bool
) -> list[str]:
    """The lines over their places, from 0 to ``most``, as rows of text no wider than ``width``.

    At the left stand the scale's ends and its middle, below the first and the last place, and then what each line is.
    Raises ValueError for more lines than can be told apart, or for no place.
    """
    if len(lines) > len(LOOKS) or not places:
        raise ValueError("too many lines, or no places")
    columns, rows = max(width - SCALE - 2, 8), max(height, 3)
    across, up = _spans(columns, rows, ascii)
    strokes = tuple(
        Stroke(points, look)
        for line, look in zip(lines, LOOKS, strict=False)
        for points in _points(line.figures, across, up / most)
    )
    window = Window(complex(across / 2, up / 2), across, up)
    drawn = draw(Scene(strokes), window, columns, rows, ascii=ascii).lines()
    scale = {0: f"{most:g}", rows // 2: f"{most / 2:g}", rows - 1: "0"}
    found = [f"{scale.get(k, ''):>{SCALE}} |{row}".rstrip() for k, row in enumerate(drawn)]
    found.append(f"{'':>{SCALE}} +{'-' * columns}")
    found.append(f"{'':>{SCALE}}  {_ends(places, columns)}")
    samples = dict(zip(LOOKS, _samples(ascii), strict=True))
    return found + [f"{'':>{SCALE}}  {samples[look]}  {line.words}" for line, look in zip(lines, LOOKS, strict=False)]


def _ends(places: Sequence[str], columns: int) -> str:
    """The first and the last place at the ends of so many columns."""
    if len(places) == 1:
        return places[0]
    return f"{places[0]}{places[-1]:>{max(columns - len(places[0]), len(places[-1]) + 1)}}"


def _spans(columns: int, rows: int, ascii: bool) -> tuple[float, float]:
    """The sides of a plane that fills the canvas, where a chart keeps true proportion."""
    dots = 1 if ascii else 2
    return float(dots * columns - 1), float(2 * dots * rows - (2 if ascii else 1))


def _points(figures: Sequence[float | None], across: float, scale: float) -> list[np.ndarray]:
    """The stretches of a line that are not broken by a place without a figure; a single figure is a short stroke."""
    step = across / max(len(figures) - 1, 1)
    found: list[list[complex]] = [[]]
    for k, figure in enumerate(figures):
        if figure is None:
            found.append([])
        else:
            found[-1].append(complex(k * step, figure * scale))
    return [np.array(part if len(part) > 1 else [part[0] - 0.5, part[0] + 0.5]) for part in found if part]


def _samples(ascii: bool) -> list[str]:
    """How each look is drawn."""
    shown = {words: sample for sample, words in legend(set(LOOKS), ascii=ascii)}
    return [shown[look.value] for look in LOOKS]
