"""Traced points as a drawing: each line a broken line under the id of what was traced."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tutor.pattern.svg_ids import is_mark
from tutor.pattern.svg_tree import SVG


def drawing_of(lines: Mapping[str, Sequence[Sequence[float]]], *, y_down: bool = False) -> bytes:
    """The SVG file that draws lines of points, [x, y] in mm; a single point is drawn as a dot."""
    sign = 1 if y_down else -1
    body = "".join(_line(name, [(x, sign * y) for x, y in points]) for name, points in lines.items() if points)
    size = 'width="1000mm" height="1000mm" viewBox="0 0 1000 1000"'
    return f'<svg xmlns="{SVG}" {size}>{body}</svg>'.encode()


def _line(name: str, points: Sequence[tuple[float, float]]) -> str:
    if len(points) == 1 or is_mark(name):
        x, y = points[0]
        return f'<circle id="{name}" cx="{x!r}" cy="{y!r}" r="1"/>'
    return f'<polyline id="{name}" points="{" ".join(f"{x!r},{y!r}" for x, y in points)}"/>'
